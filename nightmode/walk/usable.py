"""When a target can be observed: high enough, clear of the horizon line, and the sky dark enough."""

from collections.abc import Callable, Mapping, Sequence
from enum import StrEnum
from itertools import product
from typing import Protocol

import numpy as np

from nightmode.arrays import Array, Flags, Indices, Interval
from nightmode.records import Record

NO_LIGHT: Mapping[int, Sequence[Interval]] = {}
_ALWAYS = ((float("-inf"), float("inf")),)


class Ending(StrEnum):
    """What ends a stretch: floor or horizon line, the end of darkness, the light on a feature of the Moon."""

    HORIZON = "horizon"
    DAWN = "dawn"
    LIGHT = "light"


class Cells(Protocol):
    """A table (N, T) whose cells are looked up by pairs of row and column: an array, or the like."""

    def __getitem__(self, pairs: tuple[Indices, Indices], /) -> Array:
        """Return the cells of rows and columns (K,)."""


class Usable(Record):
    """A stretch of time in which a target can be observed, in Unix seconds, and what ends it."""

    start_s: float
    end_s: float
    ends_by: Ending
    end_altitude_deg: float


def horizon_altitude_deg(horizon: Sequence[tuple[float, float]], azimuth_deg: Array) -> Array:
    """Return the altitude of the horizon line at azimuths of any shape, interpolated round the circle.

    horizon is a list of (azimuth_deg, altitude_deg) in any order; an empty one is a flat horizon.
    """
    if not horizon:
        return np.zeros_like(azimuth_deg)
    points = np.array(sorted(horizon), dtype=float)
    return np.interp(azimuth_deg, points[:, 0], points[:, 1], period=360.0)


def floor_deg(minimum_deg: Array, horizon: Sequence[tuple[float, float]], azimuth_deg: Array) -> Array:
    """Return the usable floor (N, T): the larger of each target's minimum (N,) and the horizon line."""
    return np.maximum(minimum_deg[:, None], horizon_altitude_deg(horizon, azimuth_deg))


def sharpened(
    above: Sequence[Sequence[Interval]],
    time_s: Array,
    altitude_deg: Cells,
    azimuth_deg: Cells,
    minimum_deg: Array,
    horizon: Sequence[tuple[float, float]],
) -> list[list[Interval]]:
    """Return the stretches above the floor with more precise ends.

    above holds the stretches of each row of the tracks (N, T), with ends interpolated between columns; where
    the horizon line has a corner between two columns, such an end is wrong by up to half a minute. Here the
    tracks are interpolated in that minute, and the floor is worked out at every second of it.
    """
    ends = [(row, end) for row, stretches in enumerate(above) for pair in stretches for end in pair]
    if not ends or not horizon:
        return [list(stretches) for stretches in above]
    rows = np.array([row for row, _ in ends])
    end_s = np.array([end for _, end in ends])
    rises = np.arange(len(ends)) % 2 == 0  # ends come in pairs, a rising and a setting
    columns = np.clip(np.searchsorted(time_s, end_s) - 1, 0, len(time_s) - 2)
    start_deg = azimuth_deg[rows, columns]
    turn_deg = (azimuth_deg[rows, columns + 1] - start_deg + 180.0) % 360.0 - 180.0
    bent = _bends(horizon, minimum_deg[rows], start_deg, turn_deg)
    bent &= (end_s > time_s[0]) & (end_s < time_s[-1])
    rows, columns, rises = rows[bent], columns[bent], rises[bent]
    altitude = _through(altitude_deg[rows, columns], altitude_deg[rows, columns + 1])
    azimuth = _through(start_deg[bent], start_deg[bent] + turn_deg[bent]) % 360.0
    clear = altitude - floor_deg(minimum_deg[rows], horizon, azimuth)
    share = _share_of_minute(clear, rises)
    found_s = time_s[columns] + share * (time_s[columns + 1] - time_s[columns])
    end_s[bent] = np.where(np.isnan(share), end_s[bent], found_s)
    sharp = iter(end_s.tolist())
    return [[(next(sharp), next(sharp)) for _ in stretches] for stretches in above]


def _share_of_minute(clear_deg: Array, rises: Flags) -> Array:
    """Return the share of a minute, (K,), after which a target first gets above its floor, or below it.

    clear_deg (K, seconds) is its height above the floor, rises (K,) whether it gets above. NaN where it does
    not cross the floor in this minute.
    """
    is_up = clear_deg > 0
    turns = (is_up[:, 1:] == rises[:, None]) & (is_up[:, :-1] != rises[:, None])
    step, every = turns.argmax(axis=1), np.arange(len(rises))
    before_deg, after_deg = clear_deg[every, step], clear_deg[every, step + 1]
    with np.errstate(invalid="ignore", divide="ignore"):
        share = (step + before_deg / (before_deg - after_deg)) / (len(_STEPS) - 1)
    return np.where(turns.any(axis=1), share, np.nan)


def _bends(
    horizon: Sequence[tuple[float, float]], minimum_deg: Array, azimuth_deg: Array, turn_deg: Array
) -> Flags:
    """Return whether the floor has a corner within a turn in azimuth, (K,).

    It has one at each corner of the horizon line, and where that line crosses the least altitude.
    """
    corners = np.sort(np.array([azimuth for azimuth, _ in horizon]))

    def passed(azimuth: Array) -> Array:
        return np.searchsorted(corners, azimuth % 360.0) + len(corners) * np.floor(azimuth / 360.0)

    def line_counts(azimuth: Array) -> Flags:
        return horizon_altitude_deg(horizon, azimuth % 360.0) > minimum_deg

    end_deg = azimuth_deg + turn_deg
    return (passed(azimuth_deg) != passed(end_deg)) | (line_counts(azimuth_deg) != line_counts(end_deg))


#: Shares of a minute: every second of it.
_STEPS = np.linspace(0.0, 1.0, 61)


def _through(start: Array, end: Array) -> Array:
    return start[:, None] + (end - start)[:, None] * _STEPS


def usable_stretches(
    above: Sequence[Sequence[Interval]],
    dark: Sequence[Sequence[Interval]],
    altitude_at: Callable[[Indices, Array], Array],
    light: Mapping[int, Sequence[Interval]] = NO_LIGHT,
) -> list[tuple[Usable, ...]]:
    """Return for each of N targets the stretches in which it is above its floor and it is dark enough.

    above and dark hold the stretches of each target, in Unix seconds; light, by row, those with the right
    light on features of the Moon. altitude_at gives altitudes for rows and instants, (K,) both. Each stretch
    says what ends it.
    """
    found: list[tuple[int, float, float, Ending]] = []
    for row, (clear, night) in enumerate(zip(above, dark, strict=True)):
        for (rise, fall), (dusk, dawn), (lit, unlit) in product(clear, night, light.get(row, _ALWAYS)):
            start, end = max(rise, dusk, lit), min(fall, dawn, unlit)
            if end > start:
                found.append((row, start, end, _ending(fall, dawn, unlit)))
    rows = np.array([row for row, *_ in found], dtype=np.intp)
    heights = altitude_at(rows, np.array([end for *_, end, _ in found], dtype=float)).tolist()
    stretches: list[list[Usable]] = [[] for _ in above]
    for (row, start, end, ends_by), height in zip(found, heights, strict=True):
        stretches[row].append(Usable(start, end, ends_by, height))
    return [tuple(each) for each in stretches]


def _ending(fall: float, dawn: float, unlit: float) -> Ending:
    if unlit < min(fall, dawn):
        return Ending.LIGHT
    return Ending.HORIZON if fall < dawn else Ending.DAWN


def floor_crossings(
    above: Sequence[Interval], window: Interval, usable: Sequence[Usable]
) -> tuple[float | None, float | None]:
    """Return when a target rises above its floor and sets below it, in Unix seconds or None.

    These are of the first usable stretch; without any, the first rising and setting in the window.
    """
    if usable:
        above = [stretch for stretch in above if stretch[1] > usable[0].start_s][:1]
    rises = next((rise for rise, _ in above if rise > window[0]), None)
    sets = next((fall for _, fall in above if fall < window[1]), None)
    return rises, sets
