"""What the rest of a list needs: the months in which each target can be seen here, and its next nights."""

import datetime as dt
from collections.abc import Iterator, Sequence

import numpy as np

from nightmode.catalog.columns import columns_of
from nightmode.model.target import Fixed
from nightmode.night.circumstances import Circumstances
from nightmode.planning.survey import Survey, survey
from nightmode.records import Record, replace
from nightmode.sky.kernel import LAST_YEAR, Sky
from nightmode.sky.window import hours_of_night, night_window
from nightmode.words import Word

#: Mean new Moon and the mean length of a lunation in days (Meeus 1998, Astronomical Algorithms, eq. 49.1);
#: the true new Moon is within 14 hours of it.
_NEW_MOON = dt.datetime(2000, 1, 6, 14, 20, tzinfo=dt.UTC)
_LUNATION_DAYS = 29.530588861
#: The next nights that show a target are looked for within this many days of a new Moon.
_DARK_DAYS = 9
#: For how many of the rarest targets the next nights are named, and how many nights for each.
TAIL, NEXT_NIGHTS = 5, 2
#: Half of the longest time that can be dark, around the middle of a night.
_HALF_S = 8.0 * 3600.0


class Need(Record):
    """What one target needs here. months holds those, 1 to 12, in which it can be seen at new Moon.

    highest_deg is the greatest altitude in the dark, None if it is never above its floor; word is the best
    verdict of the year; next_nights is filled only for the rarest targets.
    """

    name: str
    months: tuple[int, ...]
    highest_deg: float | None
    word: Word
    next_nights: tuple[dt.date, ...] = ()

    @property
    def is_up(self) -> bool:
        """Whether it is ever above its floor in the dark."""
        return self.highest_deg is not None

    @property
    def shows(self) -> bool:
        """Whether there is a month in which it can be seen."""
        return bool(self.months)


def needs(sky: Sky, circumstances: Circumstances, subjects: Sequence[Fixed]) -> list[Need]:
    """Return what each subject needs in the year from the night of `circumstances` on, in the same order."""
    if not subjects:
        return []
    columns = columns_of(subjects)
    year = [(night, survey(sky, replace(circumstances, date=night), columns, *_hours(circumstances, night)))
            for night in new_moons(circumstances.date) if night.year <= LAST_YEAR]  # fmt: skip
    found = [_need(subject.name, row, year) for row, subject in enumerate(subjects)]
    shown = [row for row, need in enumerate(found) if need.shows]
    tail = sorted(shown, key=lambda row: len(found[row].months))
    for row, nights in _next_nights(sky, circumstances, subjects, found, tail[:TAIL]).items():
        found[row] = replace(found[row], next_nights=nights)
    return found


def new_moons(first: dt.date) -> list[dt.date]:
    """Return for twelve months, from that of `first` on, the evening nearest to new Moon in each."""
    return [_new_moon_in(first.year + (first.month + step - 1) // 12, (first.month + step - 1) % 12 + 1)
            for step in range(12)]  # fmt: skip


def _new_moon_in(year: int, month: int) -> dt.date:
    middle = dt.datetime(year, month, 15, 18, tzinfo=dt.UTC)
    off = moon_age_days(middle)
    nearest = middle - dt.timedelta(days=off if off < _LUNATION_DAYS / 2 else off - _LUNATION_DAYS)
    return min(max(nearest.date(), dt.date(year, month, 1)), dt.date(year, month, 28))


def moon_age_days(instant: dt.datetime) -> float:
    """Return the days since the last mean new Moon."""
    return ((instant - _NEW_MOON) / dt.timedelta(days=1)) % _LUNATION_DAYS


def _hours(circumstances: Circumstances, date: dt.date) -> tuple[float, float]:
    """Return from when to when targets are looked at: the observer's hours, else all that can be dark."""
    if hours := circumstances.person.hours:
        return hours_of_night(circumstances.site, date, hours)
    start, end = night_window(circumstances.site, date)
    return (start + end) / 2 - _HALF_S, (start + end) / 2 + _HALF_S


def _shows(judged: Survey) -> np.ndarray:
    """Return which targets are up and can be seen; those without a published brightness count as seen."""
    return ~np.isnan(judged.highest_deg) & (judged.word != Word.OUT)


def _need(name: str, row: int, year: Sequence[tuple[dt.date, Survey]]) -> Need:
    heights = np.array([judged.highest_deg[row] for _, judged in year])
    words = [Word(judged.word[row]) for _, judged in year if not np.isnan(judged.highest_deg[row])]
    return Need(
        name=name,
        months=tuple(night.month for night, judged in year if _shows(judged)[row]),
        highest_deg=None if np.isnan(heights).all() else float(np.nanmax(heights)),
        word=min(words, key=lambda word: word.rank, default=Word.UNKNOWN),
    )


def _next_nights(
    sky: Sky,
    circumstances: Circumstances,
    subjects: Sequence[Fixed],
    found: Sequence[Need],
    rows: Sequence[int],
) -> dict[int, tuple[dt.date, ...]]:
    """Return for targets `rows` the next dark nights on which each can be seen."""
    nights: dict[int, tuple[dt.date, ...]] = dict.fromkeys(rows, ())
    for night in _dark_nights(circumstances.date):
        waiting = [
            row for row in rows if len(nights[row]) < NEXT_NIGHTS and _near(found[row].months, night.month)
        ]
        if not waiting:
            if all(len(done) == NEXT_NIGHTS for done in nights.values()):
                break
            continue
        columns = columns_of([subjects[row] for row in waiting])
        judged = survey(sky, replace(circumstances, date=night), columns, *_hours(circumstances, night))
        for row, shows in zip(waiting, _shows(judged).tolist(), strict=True):
            nights[row] += (night,) if shows else ()
    return nights


def _dark_nights(first: dt.date) -> Iterator[dt.date]:
    for days in range(365):
        night = first + dt.timedelta(days=days)
        age = moon_age_days(dt.datetime.combine(night, dt.time(22), tzinfo=dt.UTC))
        if min(age, _LUNATION_DAYS - age) <= _DARK_DAYS and night.year <= LAST_YEAR:
            yield night


def _near(months: Sequence[int], month: int) -> bool:
    """Return whether a month is one of these or next to one: judging only at new Moon is not exact."""
    return any((month - other) % 12 in (0, 1, 11) for other in months)
