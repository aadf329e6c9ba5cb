"""Some targets over a year of nights: how long they can be observed, with and without Moon, and how high."""

import calendar
import datetime as dt
from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from itertools import groupby
from typing import TypeVar

import numpy as np

from nightmode.arrays import Array, Flags, Indices
from nightmode.model.target import MOON, Body, Double, Subject, variability
from nightmode.model.variable import Course
from nightmode.night.circumstances import Circumstances
from nightmode.night.moving import placed
from nightmode.night.opening import open_night
from nightmode.night.pairs import pairs_of_the_night
from nightmode.night.table import Night
from nightmode.night.usable import clearance, dark_levels_deg, least_altitudes_deg
from nightmode.night.verdict import verdicts, words
from nightmode.records import Record, made_from, replace
from nightmode.sky.dark import SUNSET_DEG, sun_altitude_at
from nightmode.sky.kernel import Sky
from nightmode.sky.paths import Paths
from nightmode.sky.vantage import stand
from nightmode.sky.varying import is_foreseen, magnitude
from nightmode.sky.window import are_in_hours, instants_of, lowest_of_each
from nightmode.visibility.reasons import Verdict
from nightmode.words import Word

#: Minutes between the instants looked at: hours of a night come out to about this.
STEP_MIN = 10
#: Nights worked out at once: this keeps the arrays of a long list near 100 MB.
_AT_ONCE = 30
#: A night with this share of the best night's moonless hours belongs to the best weeks. Then: how many runs
#: are told, the shortest run, and the longest gap that does not end one (our own rules).
NEARLY_BEST, MOST_RUNS, SHORTEST_RUN, GAP = 0.6, 4, 3, 2
#: The Julian date of nine in the evening of a date, minus the ordinal number of the date.
_JD_OF_EVENING = 1721425.375
_Told = TypeVar("_Told")


class Season(Record, eq=False):
    """N targets at T instants with the Sun down, over D nights.

    by_moonlight     (N,) whether moonlight does it no harm
    time_s           (T,) Unix seconds
    night_number     (T,) the number of the night of each instant, from 0
    sun_deg, moon_up (T,) the Sun's geometric altitude; whether the Moon is above the level horizon
    altitude_deg     (N, T) apparent
    usable           (N, T) whether each can be observed, within the observer's hours
    hidden           (N, T) whether each could be observed but for the horizon line
    """

    dates: tuple[dt.date, ...]
    by_moonlight: Flags
    time_s: Array
    night_number: Indices
    sun_deg: Array
    moon_up: Flags
    altitude_deg: Array
    usable: Flags
    hidden: Flags

    @cached_property
    def usable_h(self) -> Array:
        """For how many hours of each night each target can be observed, (N, D)."""
        return self._hours(self.usable)

    @cached_property
    def moonless_h(self) -> Array:
        """The same with the Moon down, (N, D)."""
        return self._hours(self.usable & ~self.moon_up)

    @cached_property
    def hidden_h(self) -> Array:
        """For how many hours of each night only the horizon line hides each target, (N, D)."""
        return self._hours(self.hidden)

    @cached_property
    def good_h(self) -> Array:
        """The hours that count for each target, (N, D): moonless ones, unless moonlight does it no harm.

        Each counts with the cube of the sine of its altitude (our own rule): low air takes light and
        detail, and a long night with the target low must not outweigh a short one with it high.
        """
        counted = self.usable & (self.by_moonlight[:, None] | ~self.moon_up)
        worth = np.zeros(counted.shape)
        height = np.sin(np.radians(np.clip(self.altitude_deg[counted], 0.0, 90.0)))
        worth[counted] = height * height * height  # a power costs ten times as much
        return self._hours(worth)

    def highest(self, row: int, nights: Indices) -> tuple[float, float] | None:
        """Return (greatest altitude while it can be observed from the first to the last of these nights, its
        instant), or None.
        """
        start, end = np.searchsorted(self.night_number, [nights[0], nights[-1] + 1])
        here = np.flatnonzero(self.usable[row, start:end]) + start
        if not here.size:
            return None
        best = int(here[self.altitude_deg[row, here].argmax()])
        return float(self.altitude_deg[row, best]), float(self.time_s[best])

    def _hours(self, which: Flags | Array) -> Array:
        count = len(self.dates)
        sums = [np.bincount(self.night_number, weights=row, minlength=count) for row in which]
        counted: Array = np.array(sums, dtype=float).reshape(len(which), count)
        return counted * (STEP_MIN / 60.0)


class Month(Record):
    """A target in one month: the sum of its hours, its greatest altitude, and the night that tells of it.

    That night is the one with the most moonless hours, else with the most usable hours, else the middle of
    the month; night_number is its place in `Season.dates`. highest_deg and highest_at_s (Unix seconds) are
    None if the target cannot be observed; is_hidden tells if only the horizon line is in the way. good_h is
    the sum of `Season.good_h`.
    """

    year: int
    month: int
    usable_h: float
    moonless_h: float
    highest_deg: float | None
    highest_at_s: float | None
    night: dt.date
    night_number: int
    good_h: float
    is_hidden: bool


class JudgedMonth(Month):
    """A month with the verdict on its night: what `check` says of it."""

    verdict: Verdict


def season(
    sky: Sky, circumstances: Circumstances, subjects: Sequence[Subject], first: dt.date, last: dt.date
) -> Season:
    """Return the season of subjects from first to last. NightmodeError outside the years of the ephemeris."""
    dates = tuple(first + dt.timedelta(days=day) for day in range((last - first).days + 1))
    parts = [
        _some_nights(sky, circumstances, subjects, dates[start : start + _AT_ONCE], start)
        for start in range(0, len(dates), _AT_ONCE)
    ]
    by_moonlight = np.array([is_by_moonlight(subject) for subject in subjects], dtype=bool)
    return Season(dates, by_moonlight, *(np.concatenate(rows, axis=-1) for rows in zip(*parts, strict=True)))


def is_by_moonlight(subject: Subject) -> bool:
    """Return whether a bright sky does a target no harm: the planets, the Moon, pairs of stars."""
    return isinstance(subject, Body | Double)


def months(found: Season) -> list[tuple[Month, ...]]:
    """Return each target's months."""
    spans = list(_spans(found.dates))
    rows = range(len(found.by_moonlight))
    return [
        tuple(_month(found, row, span, _telling_night(found, row, span)) for span in spans) for row in rows
    ]


def judged_months(
    sky: Sky, circumstances: Circumstances, subjects: Sequence[Subject], found: Season
) -> list[tuple[JudgedMonth, ...]]:
    """Return each target's months with the verdicts on their nights."""
    told = months(found)
    asked = [(row, month.night_number) for row, year in enumerate(told) for month in year]
    verdict = _judged(sky, circumstances, subjects, found.dates, asked, verdicts)
    return [
        tuple(made_from(JudgedMonth, month, verdict=verdict[row, month.night_number]) for month in year)
        for row, year in enumerate(told)
    ]


def best_months(
    sky: Sky,
    circumstances: Circumstances,
    subjects: Sequence[Subject],
    found: Season,
    told: Sequence[Sequence[Month]],
) -> list[int | None]:
    """Return the place, among its months, of each target's best: by word, then by the hours that count.

    None where it is out of reach in all of them. A month with no such hours goes by its usable ones. What
    is easy in the month with the most hours is asked for in no other: to open a night takes some ms.
    """
    ranked = [_by_hours(year) for year in told]

    def words_in(asked: list[tuple[int, int]]) -> dict[tuple[int, int], Word]:
        numbers = [(row, told[row][place].night_number) for row, place in asked]
        found_on = _judged(sky, circumstances, subjects, found.dates, numbers, words)
        return {key: found_on[number] for key, number in zip(asked, numbers, strict=True)}

    word = words_in([(row, places[0]) for row, places in enumerate(ranked) if places])
    unsure = [row for row, places in enumerate(ranked) if places and word[row, places[0]] is not Word.EASY]
    word |= words_in([(row, place) for row in unsure for place in ranked[row][1:]])
    shown = [
        [place for place in places if word.get((row, place), Word.OUT) is not Word.OUT]
        for row, places in enumerate(ranked)
    ]
    return [
        min(places, key=lambda place: word[row, place].rank, default=None) for row, places in enumerate(shown)
    ]


def best_weeks(found: Season, row: int) -> list[tuple[dt.date, dt.date]]:
    """Return (first, last) of the runs of nights that are nearly the best by `Season.good_h`."""
    weighted = found.good_h[row]
    good = weighted >= NEARLY_BEST * weighted.max(initial=0.0)
    runs = [run for run in _runs(good & (weighted > 0.0)) if run[1] - run[0] + 1 >= SHORTEST_RUN]
    best = sorted(runs, key=lambda run: -float(weighted[run[0] : run[1] + 1].sum()))[:MOST_RUNS]
    return [(found.dates[start], found.dates[end]) for start, end in sorted(best)]


def _some_nights(
    sky: Sky,
    circumstances: Circumstances,
    subjects: Sequence[Subject],
    dates: Sequence[dt.date],
    first_number: int,
) -> tuple[np.ndarray, ...]:
    time_s, night_number = instants_of(circumstances.site, dates, STEP_MIN * 60.0)
    vantage = stand(sky, circumstances.site, time_s)
    sun_deg = sun_altitude_at(vantage)
    lowest_deg = lowest_of_each(sun_deg, night_number)
    middle_s = float(time_s[len(time_s) // 2])
    here = placed(vantage, pairs_of_the_night(subjects, middle_s))
    # By day nothing counts, and the paths work out only what is looked up.
    down = np.flatnonzero(sun_deg < SUNSET_DEG)
    time_s, night_number, sun_deg = time_s[down], night_number[down], sun_deg[down]
    paths = Paths(vantage, [*here, MOON])
    altitude_deg, moon_deg = np.split(paths.altitude_deg[:, down], [-1])
    person, line = circumstances.person, circumstances.site.horizon
    in_hours = are_in_hours(circumstances.site, dates, person.hours, time_s, night_number)
    usable, above = (
        in_hours
        & clearance(
            altitude_deg,
            paths.azimuth_deg[:-1, down] if horizon else np.zeros(1),
            sun_deg,
            minimum_deg=least_altitudes_deg(here, person),
            horizon=horizon,
            dark_level_deg=dark_levels_deg(here, lowest_deg)[:, night_number],
        ).usable
        for horizon in (line, ())
    )
    number = night_number + first_number
    return time_s, number, sun_deg, moon_deg[0] > 0.0, altitude_deg, usable, above & ~usable


def _spans(dates: Sequence[dt.date]) -> Iterator[Indices]:
    numbered = list(enumerate(dates))
    for _, group in groupby(numbered, key=lambda pair: (pair[1].year, pair[1].month)):
        yield np.array([number for number, _ in group], dtype=np.intp)


def _telling_night(found: Season, row: int, span: Indices) -> int:
    for hours in (found.moonless_h[row, span], found.usable_h[row, span]):
        if hours.any():
            return int(span[hours.argmax()])
    return int(span[len(span) // 2])


def _by_hours(year: Sequence[Month]) -> list[int]:
    """Return the places of the months in which a target can be observed, those with the most hours first."""
    usable = [place for place, month in enumerate(year) if month.usable_h]
    return sorted(usable, key=lambda place: (-year[place].good_h, -year[place].usable_h))


def _judged(
    sky: Sky,
    circumstances: Circumstances,
    subjects: Sequence[Subject],
    dates: Sequence[dt.date],
    asked: Sequence[tuple[int, int]],
    judge: Callable[[Night], Sequence[_Told]],
) -> dict[tuple[int, int], _Told]:
    """Return what is told of targets on nights, pairs of row and number of the night, by the same pairs.

    Each night is opened once, with all the targets that are asked for on it.
    """
    rows_on: dict[int, list[int]] = {}
    for row, number in asked:
        rows_on.setdefault(number, []).append(row)
    told: dict[tuple[int, int], _Told] = {}
    for number, rows in rows_on.items():
        night = open_night(sky, replace(circumstances, date=dates[number]), [subjects[row] for row in rows])
        told |= {(row, number): one for row, one in zip(rows, judge(night), strict=True)}
    return told


def _month(found: Season, row: int, span: Indices, number: int) -> Month:
    highest = found.highest(row, span)
    first = found.dates[int(span[0])]
    return Month(
        year=first.year,
        month=first.month,
        usable_h=float(found.usable_h[row, span].sum()),
        moonless_h=float(found.moonless_h[row, span].sum()),
        highest_deg=highest[0] if highest else None,
        highest_at_s=highest[1] if highest else None,
        night=found.dates[number],
        night_number=number,
        good_h=float(found.good_h[row, span].sum()),
        is_hidden=bool(found.hidden_h[row, span].any()),
    )


def _runs(good: Flags) -> list[tuple[int, int]]:
    """Return the runs of true places as (first, last); a short gap does not end a run."""
    runs: list[tuple[int, int]] = []
    for place in np.flatnonzero(good).tolist():
        if runs and place - runs[-1][1] <= GAP + 1:
            runs[-1] = (runs[-1][0], place)
        else:
            runs.append((place, place))
    return runs


def expected_mag(subject: Subject, date: dt.date) -> float | None:
    """Return the magnitude expected of a long-period variable in the evening of a date, else None."""
    varies = variability(subject)
    evening_jd = date.toordinal() + _JD_OF_EVENING
    if varies is None or varies.course is not Course.LONG_PERIOD or not is_foreseen(varies, evening_jd):
        return None
    return float(magnitude(varies, evening_jd))


def year_from(first: dt.date) -> tuple[dt.date, dt.date]:
    """Return the first and last night of the twelve months that begin with the month of a date."""
    start = first.replace(day=1)
    last = start.replace(year=start.year + 1) - dt.timedelta(days=1)
    return start, last


def month_name(year: int, month: int) -> str:
    """Return "Dec 2026"."""
    return f"{calendar.month_abbr[month]} {year}"
