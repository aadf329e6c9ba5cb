"""Reads the flags of `draft` into what the observer asks for."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from nightmode.catalog.query import Query
from nightmode.errors import NightmodeError
from nightmode.kinds import GROUPS, Kind
from nightmode.model.target import MOON
from nightmode.night.circumstances import Circumstances
from nightmode.night.opening import open_night
from nightmode.planning.request import Wishes
from nightmode.planning.sources import FAIR_MOON_DEG, seen_keys
from nightmode.planning.usual import KIND_WORDS, LONGEST_MIN, MOST, SHORTEST_MIN, USUAL_COUNT, USUAL_MIN
from nightmode.records import Record
from nightmode.sky.dark import sun_altitude, twilights
from nightmode.sky.kernel import Sky
from nightmode.sky.typed_time import read_time
from nightmode.sky.window import hours_of_night, minute_columns, night_window
from nightmode.words import Word

if TYPE_CHECKING:
    from nightmode.planning.left import Left  # what was seen before is read only where it is asked for

#: An evening on the Moon begins when it has FAIR_MOON_DEG, or this share of its greatest height (our rule).
_FAIR_SHARE = 0.7


#: Of a night that goes on, as much must be left as so many targets take, or the whole night is drafted.
FEWEST = 6


class DraftFlags(Record):
    """What an observer asks a draft for: the texts of the flags, None where one is not given.

    hardest  the hardest word that is welcome
    seen     files of lists or sessions whose targets are left out
    query    the flags that ask for brightness, size or place, read already
    left     what is left of a list, if that is what is drafted
    """

    count: str | None = None
    hours: str | None = None
    kinds: str | None = None
    hardest: str = Word.FAIR
    seen: Sequence[Path] = ()
    query: Query = Query()
    left: "Left | None" = None


class GoesOn(Record):
    """The night that is drafted goes on already: the present, and how much must be left, in seconds."""

    now_s: float
    least_s: float


def read_wishes(
    sky: Sky, circumstances: Circumstances, asked: DraftFlags, since_s: float | None = None
) -> Wishes:
    """Return what the flags ask for. NightmodeError names a flag whose text does not fit.

    since_s is the present (Unix seconds) if no night was named: what is over of this one is left out.
    """
    number = USUAL_COUNT if asked.count is None else _count(asked.count)
    wanted = _kinds(asked.kinds)
    least_s = (number if asked.count else FEWEST) * SHORTEST_MIN * 60.0
    goes_on = GoesOn(since_s, least_s) if since_s is not None else None
    start_s, end_s = _hours(asked.hours, sky, circumstances, number, _moon_alone(wanted), goes_on)
    is_too_short = (end_s - start_s) / number < SHORTEST_MIN * 60  # as in midsummer
    if asked.count is None and asked.hours is None and is_too_short:
        number = max(1, int((end_s - start_s) / 60 / USUAL_MIN))
    longest_min = USUAL_MIN if (asked.hours or circumstances.person.hours) is None else LONGEST_MIN
    pace_s = min(longest_min * 60, (end_s - start_s) / number)
    if pace_s < SHORTEST_MIN * 60:
        fits = int((end_s - start_s) / 60 / SHORTEST_MIN)
        what = (
            f"{number} targets in {(end_s - start_s) / 60:.0f} minutes leave {pace_s / 60:.1f} minutes each"
        )
        raise NightmodeError("--count", what, f"ask for at most {max(1, fits)}, or for more hours")
    left = asked.left
    seen = {key for path in asked.seen for key in seen_keys(path)} | (left.seen if left else set())
    return Wishes(
        count=number,
        start_s=start_s,
        end_s=end_s,
        pace_s=pace_s,
        kinds=wanted,
        hardest=Word(asked.hardest),
        seen=frozenset(seen),
        favour=left.favour if left else {},
        query=asked.query,
    )


def _count(text: str) -> int:
    if text.isascii() and text.isdecimal() and 1 <= int(text) <= MOST:
        return int(text)
    raise NightmodeError("--count", f"{text!r} is not 1 to {MOST}", "write a whole number like 24")


def _kinds(text: str | None) -> frozenset[Kind] | None:
    if text is None:
        return None
    words = [_plural(word.strip().lower()) for word in text.split(",") if word.strip()]
    for word in words:
        if word not in KIND_WORDS:
            raise NightmodeError(
                "--kinds", f"{word!r} is not a kind", f"write some of {', '.join(KIND_WORDS)}"
            )
    return frozenset(kind for word in words for kind in GROUPS[word])


def _plural(word: str) -> str:
    """Return a kind's word in the plural, as the flag has it: for galaxy, nebula, double; else as it is."""
    plurals = (word, f"{word}s", f"{word}e", f"{word[:-1]}ies")
    return next((plural for plural in plurals if plural in KIND_WORDS), word)


def _moon_alone(kinds: frozenset[Kind] | None) -> bool:
    """Return whether nothing but the Moon and its features is asked for."""
    return kinds is not None and kinds <= set(GROUPS["moon"])


def _hours(
    text: str | None,
    sky: Sky,
    circumstances: Circumstances,
    count: int,
    moon_alone: bool,
    goes_on: GoesOn | None,
) -> tuple[float, float]:
    """Return the first and last instant: the flag's, else from dusk on, with time for `count` targets.

    An evening on the Moon alone lasts from when the Moon is high enough in the dark until it is no longer.
    """
    if text is not None:
        return _hours_given(text, circumstances)
    if moon_alone and (up := _moon_hours(sky, circumstances)):
        from_s = _not_before(goes_on, *up)
        return from_s, min(up[1], from_s + count * USUAL_MIN * 60)
    time_s = minute_columns(night_window(circumstances.site, circumstances.date))
    twilight = twilights(time_s, sun_altitude(sky, circumstances.site, time_s))
    start_s = twilight.civil_dusk_s or twilight.sunset_s or (twilight.dark_s and twilight.dark_s[0])
    if start_s is None:
        what = f"the Sun does not set there: its lowest is {twilight.sun_lowest_deg:.0f}°"
        raise NightmodeError("night", what, "choose another night with --night")
    last_s = twilight.civil_dawn_s or twilight.sunrise_s or float(time_s[-1])
    if circumstances.person.hours:
        first_s, last_s = _usual_hours(circumstances, circumstances.person.hours, (start_s, last_s))
        return _not_before(goes_on, first_s, last_s), last_s
    start_s = _not_before(goes_on, start_s, last_s)
    dark_s = twilight.dark_s[0] if twilight.dark_s else start_s
    return start_s, min(last_s, max(dark_s, start_s) + count * USUAL_MIN * 60)


def _not_before(goes_on: GoesOn | None, start_s: float, end_s: float) -> float:
    """Return the first instant of a stretch that is still to come if enough is left of it, else its first."""
    if goes_on is None or not start_s < goes_on.now_s < end_s - goes_on.least_s:
        return start_s
    return float(np.ceil(goes_on.now_s / 60.0) * 60.0)


def _usual_hours(
    circumstances: Circumstances, hours: str, dusk_to_dawn: tuple[float, float]
) -> tuple[float, float]:
    """Return the part of the observer's own hours in which the Sun is down."""
    first, last = hours_of_night(circumstances.site, circumstances.date, hours)
    start_s, end_s = max(first, dusk_to_dawn[0]), min(last, dusk_to_dawn[1])
    if end_s <= start_s:
        what = f"your hours, {hours}, are over before dusk or begin after dawn"
        raise NightmodeError("hours", what, "give others with --hours 21:00-01:00")
    return start_s, end_s


def _moon_hours(sky: Sky, circumstances: Circumstances) -> tuple[float, float] | None:
    """Return the stretch of the observer's hours in which the Moon is at a good altitude, or None."""
    night = open_night(sky, circumstances, [MOON])
    usable = night.targets[0].usable
    if not usable:
        return None
    first_s, last_s = night.hours_s or (-np.inf, np.inf)
    start_s, end_s = max(usable[0].start_s, first_s), min(usable[0].end_s, last_s)
    inside = (night.time_s >= start_s) & (night.time_s <= end_s)
    times, heights = night.time_s[inside], night.altitude_deg[0, inside]
    if not times.size:
        return None
    fair = np.flatnonzero(heights >= min(FAIR_MOON_DEG, _FAIR_SHARE * float(heights.max())))
    return float(times[fair[0]]), float(times[fair[-1]])


def _hours_given(text: str, circumstances: Circumstances) -> tuple[float, float]:
    instead = "write it like 21:00-01:00"
    first, dash, last = text.partition("-")
    if not dash:
        raise NightmodeError("--hours", f"{text!r} is not from-to", instead)
    try:
        times = [read_time(part.strip(), circumstances.site, circumstances.date) for part in (first, last)]
    except NightmodeError as error:
        raise NightmodeError("--hours", error.what, instead) from None
    start_s, end_s = (time or 0.0 for time in times)
    if end_s <= start_s:
        raise NightmodeError("--hours", f"{text} ends before it begins (a night is noon to noon)", instead)
    return start_s, end_s
