"""The words of a log: times, looks, counts, and what happened; the same in every format."""

import datetime as dt
from collections import Counter
from collections.abc import Iterable
from zoneinfo import ZoneInfo

from nightmode.history.sitting import Happening, Look, Sitting
from nightmode.model.session import Event, Outcome
from nightmode.wording.air import air_text
from nightmode.wording.figures import cut
from nightmode.wording.kit import instrument_and, names_text


def long_date(day: dt.date) -> str:
    """Return a date as Sunday 6 December 2026."""
    return f"{day:%A} {day.day} {day:%B %Y}"


def time_of(at: dt.datetime, zone: ZoneInfo) -> str:
    """Return the time of day at the site, as its clock showed it."""
    return at.astimezone(zone).strftime("%H:%M")


def height(look: Look) -> str:
    """Return the altitude at which a target was looked at, or ""."""
    return "" if look.altitude_deg is None else f"{look.altitude_deg:.1f}°"


def looked_with(look: Look, width: int = 200) -> str:
    """Return eyepiece and filter, or ""; with several instruments also which one."""
    words = " + ".join(part for part in (look.eyepiece, look.filter) if part)
    return instrument_and(look.telescope, words, width) if words else cut(look.telescope, width)


def instruments(sitting: Sitting) -> str:
    """Return the names of the main instrument and of others that were looked through."""
    return names_text(sitting.telescopes)


def outcome(look: Look) -> str:
    """Return the outcome of a look in words; a target with only a note has none."""
    return look.outcome.value if look.outcome else "noted"


def counts_text(looks: Iterable[Look]) -> str:
    """Return how many targets have each outcome: "9 seen, 2 suspected"."""
    found = Counter(look.outcome for look in looks)
    told = [f"{found[outcome]} {outcome.value}" for outcome in Outcome if found[outcome]]
    told += [f"{found[None]} noted on"] if found[None] else []
    return ", ".join(told) or "no target ticked"


def span_words(sitting: Sitting) -> str:
    """Return the times of the first and the last entry, by the site's clock."""
    if sitting.span is None:
        return ""
    first, last = (time_of(instant, sitting.zone) for instant in sitting.span)
    return f"{first} to {last}"


def sky_reading(sitting: Sitting) -> str:
    """Return the last reading of the sky in mag/arcsec², or nothing."""
    readings = [
        happening.sky_brightness for happening in sitting.happenings if happening.sky_brightness is not None
    ]
    return f"{readings[-1]:.2f}" if readings else ""


def seeing_words(sitting: Sitting) -> str:
    """Return the values of seeing noted, in order and without repetition: "II, III"."""
    found = [happening.seeing for happening in sitting.happenings if happening.seeing is not None]
    return ", ".join(word for place, word in enumerate(found) if place == 0 or word != found[place - 1])


def air_words(sitting: Sitting) -> str:
    """Return the last transparency and dew noted: "transparency 4 of 5, some dew"."""
    clear = [happening.transparency for happening in sitting.happenings if happening.transparency is not None]
    dew = [happening.dew for happening in sitting.happenings if happening.dew is not None]
    parts = [air_text(clear[-1] if clear else None, None), air_text(None, dew[-1] if dew else None)]
    return ", ".join(part for part in parts if part)


def conditions_line(sitting: Sitting) -> str:
    """Return times, sky, seeing and air in one line."""
    sky, seeing = sky_reading(sitting), seeing_words(sitting)
    parts = [
        sitting.plan,
        span_words(sitting),
        f"sky {sky} mag/arcsec²" if sky else "",
        f"seeing {seeing}" if seeing else "",
        air_words(sitting),
        "rehearsal, not counted" if sitting.rehearsal else "",
    ]
    return "; ".join(part for part in parts if part)


_HAPPENED = {
    Event.CLOUDS: "clouds, clear only ",
    Event.CLEAR: "clear all round",
    Event.LIGHT: "white light",
    Event.CHECK: "",
    Event.NOTE: "",
}


def happened(happening: Happening) -> str:
    """Return what happened during the session, in words."""
    if happening.sky_brightness is not None:
        return f"sky {happening.sky_brightness:.2f} mag/arcsec²"
    if happening.seeing is not None:
        return f"seeing {happening.seeing}"
    if air := air_text(happening.transparency, happening.dew):
        return air
    return f"{_HAPPENED.get(happening.event, happening.event.value)}{happening.words}"
