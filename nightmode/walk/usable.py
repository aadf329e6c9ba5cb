"""When a target can be observed: high enough, clear of the horizon line, and the sky dark enough."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
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
