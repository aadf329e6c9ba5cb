"""When a target can be observed: high enough, clear of the horizon line, and the sky dark enough."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from nightmode.arrays import Array

Interval = tuple[float, float]


@dataclass(frozen=True)
class Usable:
    """One stretch of time, in Unix seconds, in which a target can be observed, and what ends it."""

    start: float
    end: float
    ends_by: Literal["horizon", "dawn"]
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
    altitude_deg: Array,
    azimuth_deg: Array,
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
    columns = np.clip(np.searchsorted(time_s, instants) - 1, 0, len(time_s) - 2)
    altitude = _through(altitude_deg[rows, columns], altitude_deg[rows, columns + 1])
    turn = (azimuth_deg[rows, columns + 1] - azimuth_deg[rows, columns] + 180.0) % 360.0 - 180.0
    azimuth = _through(azimuth_deg[rows, columns], azimuth_deg[rows, columns] + turn) % 360.0
    clear = altitude - floor_deg(minimum_deg[rows], horizon, azimuth)
    rises = np.arange(len(ends))[:, None] % 2 == 0  # ends come in pairs, a rising and a setting
    turns = ((clear[:, 1:] > 0) == rises) & ((clear[:, :-1] > 0) != rises)
    turns &= ((instants > time_s[0]) & (instants < time_s[-1]))[:, None]
    step, every = turns.argmax(axis=1), np.arange(len(ends))
    before, after = clear[every, step], clear[every, step + 1]
    with np.errstate(invalid="ignore", divide="ignore"):
        share = (step + before / (before - after)) / (len(_STEPS) - 1)
    found = time_s[columns] + share * (time_s[columns + 1] - time_s[columns])
    sharp = iter(np.where(turns.any(axis=1), found, instants).tolist())
    return [[(next(sharp), next(sharp)) for _ in stretches] for stretches in above]


#: Shares of a minute: every second of it.
_STEPS = np.linspace(0.0, 1.0, 61)


def _through(start: Array, end: Array) -> Array:
    return start[:, None] + (end - start)[:, None] * _STEPS


def usable_stretches(
    above: Sequence[Interval], dark: Sequence[Interval], time_s: Array, altitude_deg: Array
) -> tuple[Usable, ...]:
    """Return when a target stands above its floor while it is dark enough.

    above and dark hold the stretches of each, in Unix seconds; altitude_deg (T,) is the target's track
    over time_s (T,). Each stretch says whether the horizon or the end of darkness closes it.
    """
    found = []
    for rise, fall in above:
        for dusk, dawn in dark:
            start, end = max(rise, dusk), min(fall, dawn)
            if end > start:
                ends_by: Literal["horizon", "dawn"] = "horizon" if fall < dawn else "dawn"
                height = float(np.interp(end, time_s, altitude_deg))
                found.append(Usable(start, end, ends_by, height))
    return tuple(found)


def floor_crossings(
    above: Sequence[Interval], window: Interval, usable: Sequence[Usable]
) -> tuple[float | None, float | None]:
    """Return when the target rises above its floor and sets below it, Unix seconds or None.

    They belong to the first usable stretch; without one, they are the window's first of each.
    """
    if usable:
        above = [stretch for stretch in above if stretch[1] > usable[0].start][:1]
    rises = next((rise for rise, _ in above if rise > window[0]), None)
    sets = next((fall for _, fall in above if fall < window[1]), None)
    return rises, sets
