"""When a target can be observed: high enough, clear of the horizon line, and the sky dark enough."""

from collections.abc import Callable, Mapping, Sequence
from itertools import product
from typing import Literal, Protocol

import numpy as np

from nightmode.arrays import Array, Flags, Indices, Interval
from nightmode.records import Record

#: What ends a stretch: floor or horizon line, the end of the dark, the light on a feature of the Moon.
Ending = Literal["horizon", "dawn", "light"]
NO_LIGHT: Mapping[int, Sequence[Interval]] = {}
_ALWAYS = ((float("-inf"), float("inf")),)


class Cells(Protocol):
    """A table (N, T) whose cells are looked up by pairs of row and column: an array, or what is like one."""

    def __getitem__(self, pairs: tuple[Indices, Indices], /) -> Array:
        """Return the cells of rows and columns (K,)."""


class Usable(Record):
    """One stretch of time, in Unix seconds, in which a target can be observed, and what ends it."""

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
    """Return the stretches above the floor with their ends found again inside their minute.

    above holds the stretches of each row of the tracks (N, T), ends interpolated between whole columns; a
    corner of the horizon line between two columns puts such an end off by up to half a minute. Here the
    tracks are drawn straight through the minute and the floor is looked up at every second of it.
    """
    ends = [(row, end) for row, stretches in enumerate(above) for pair in stretches for end in pair]
    if not ends or not horizon:
        return [list(stretches) for stretches in above]
    rows = np.array([row for row, _ in ends])
    instants = np.array([end for _, end in ends])
    rises = np.arange(len(ends)) % 2 == 0  # ends come in pairs, a rising and a setting
    columns = np.clip(np.searchsorted(time_s, instants) - 1, 0, len(time_s) - 2)
    start_deg = azimuth_deg[rows, columns]
    turn_deg = (azimuth_deg[rows, columns + 1] - start_deg + 180.0) % 360.0 - 180.0
    bent = _bends(horizon, minimum_deg[rows], start_deg, turn_deg)
    bent &= (instants > time_s[0]) & (instants < time_s[-1])
    rows, columns, rises = rows[bent], columns[bent], rises[bent]
    altitude = _through(altitude_deg[rows, columns], altitude_deg[rows, columns + 1])
    azimuth = _through(start_deg[bent], start_deg[bent] + turn_deg[bent]) % 360.0
    clear = altitude - floor_deg(minimum_deg[rows], horizon, azimuth)
    turns = ((clear[:, 1:] > 0) == rises[:, None]) & ((clear[:, :-1] > 0) != rises[:, None])
    step, every = turns.argmax(axis=1), np.arange(len(rows))
    before, after = clear[every, step], clear[every, step + 1]
    with np.errstate(invalid="ignore", divide="ignore"):
        share = (step + before / (before - after)) / (len(_STEPS) - 1)
    found = time_s[columns] + share * (time_s[columns + 1] - time_s[columns])
    instants[bent] = np.where(turns.any(axis=1), found, instants[bent])
    sharp = iter(instants.tolist())
    return [[(next(sharp), next(sharp)) for _ in stretches] for stretches in above]


def _bends(
    horizon: Sequence[tuple[float, float]], minimum_deg: Array, azimuth_deg: Array, turn_deg: Array
) -> Flags:
    """Return whether the floor is no straight line over a turn in azimuth: what else is there, (K,) each.

    It bends at the corners of the horizon line, and where that comes out above the least altitude.
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
    """Return for each of N targets when it stands above its floor while it is dark enough.

    above and dark hold the stretches of each, in Unix seconds; light, by row, those of the features of the
    Moon, which want the Sun right over them as well. altitude_at tells altitudes of rows at instants, (K,)
    both. Each stretch says what closes it.
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
        return "light"
    return "horizon" if fall < dawn else "dawn"


def floor_crossings(
    above: Sequence[Interval], window: Interval, usable: Sequence[Usable]
) -> tuple[float | None, float | None]:
    """Return when the target rises above its floor and sets below it, Unix seconds or None.

    They belong to the first usable stretch; without one, they are the window's first of each.
    """
    if usable:
        above = [stretch for stretch in above if stretch[1] > usable[0].start_s][:1]
    rises = next((rise for rise, _ in above if rise > window[0]), None)
    sets = next((fall for _, fall in above if fall < window[1]), None)
    return rises, sets
