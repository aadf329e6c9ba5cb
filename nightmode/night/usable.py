"""When a target can be observed: one rule for an opened night, the coming nights and the whole catalogue."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from nightmode.arrays import Array, Flags, Interval
from nightmode.kinds import Kind
from nightmode.model.observer import Person
from nightmode.model.target import Body, Subject
from nightmode.records import Record
from nightmode.sky.arcs import cells_between
from nightmode.sky.crossings import intervals_of_cells
from nightmode.sky.dark import SUNSET_DEG
from nightmode.sky.paths import Paths
from nightmode.walk.usable import floor_deg, sharpened

#: The Sun's altitudes at the steps of twilight, darkest first.
_STEPS_DEG = (-18.0, -12.0, -6.0, -3.0, SUNSET_DEG)
#: The least altitude for Mercury unless the plan gives one: in a dark enough sky it is seldom higher.
_MERCURY_FLOOR_DEG = 5.0
#: An altitude that the Sun never has: for a night that does not get dark enough.
NEVER_DEG = -99.0


class Clearance(Record, eq=False):
    """By how many degrees targets keep the limits of what can be observed, (N, T) each; negative if not.

    height_deg  the target above its floor: its least altitude or the horizon line, whichever is higher
    dark_deg    the Sun below the altitude that the target's kind asks for
    """

    height_deg: Array
    dark_deg: Array

    @property
    def usable(self) -> Flags:
        """Whether each target can be observed at each instant, (N, T)."""
        return (self.height_deg > 0.0) & (self.dark_deg > 0.0)


def clearance(
    altitude_deg: Array,
    azimuth_deg: Array,
    sun_deg: Array,
    *,
    minimum_deg: Array,
    horizon: Sequence[tuple[float, float]],
    dark_level_deg: Array,
) -> Clearance:
    """Return the clearance of N targets at T instants; the Sun's track is (T,), the least altitudes (N,).

    dark_level_deg is (N,), or (N, T) where the instants belong to several nights.
    """
    level = dark_level_deg if dark_level_deg.ndim == 2 else dark_level_deg[:, None]
    return Clearance(altitude_deg - floor_deg(minimum_deg, horizon, azimuth_deg), level - sun_deg)


def clear_stretches(
    paths: Paths, minimum_deg: Array, horizon: Sequence[tuple[float, float]]
) -> list[list[Interval]]:
    """Return for each of N targets the stretches of time in which it is above its floor, in Unix seconds.

    They are those in which `Clearance.height_deg` is positive, but altitudes are worked out only where a
    target may cross its floor.
    """
    time_s = paths.vantage.time_s
    line = [altitude for _, altitude in horizon] or [0.0]
    lowest, highest = np.maximum(minimum_deg, min(line)), np.maximum(minimum_deg, max(line))
    rows, columns = cells_between(paths.vantage, paths.vectors, lowest, highest)
    floor = minimum_deg[rows]
    if horizon:
        floor = floor_deg(floor, horizon, paths.azimuth_deg[rows, columns][:, None])[:, 0]
    else:
        floor = np.maximum(floor, 0.0)
    above = intervals_of_cells(time_s, rows, columns, paths.altitude_deg[rows, columns] - floor)
    if not horizon:
        return above
    return sharpened(above, time_s, paths.altitude_deg, paths.azimuth_deg, minimum_deg, horizon)


def dark_levels_deg(asked: Sequence[Kind | Subject], sun_lowest_deg: ArrayLike) -> Array:
    """Return the Sun's altitude, in degrees, below which kinds or targets are observed.

    One row for each kind or target; one column for each night where sun_lowest_deg, the lowest altitude of
    the Sun on it, has several. On a night on which the Sun does not get as low as a kind asks for, the
    darkest step of twilight that it does reach counts; NEVER_DEG if it reaches none.
    """
    lowest = np.asarray(sun_lowest_deg, float)
    wanted = [target.sun_below_deg for target in asked]
    levels = {level: _levels_deg(level, lowest) for level in set(wanted)}
    return np.array([levels[level] for level in wanted], dtype=float).reshape(len(wanted), *lowest.shape)


def _levels_deg(wanted_deg: float, lowest_deg: Array) -> Array:
    allowed = np.array([step for step in _STEPS_DEG if step >= wanted_deg])
    passed = lowest_deg[..., None] < allowed
    return np.where(passed.any(axis=-1), allowed[passed.argmax(axis=-1)], NEVER_DEG)


def least_altitude_deg(subject: Subject, person: Person) -> float:
    """Return the least altitude at which a target is looked at, degrees: its own, else the observer's."""
    if subject.min_altitude_deg is not None:
        return subject.min_altitude_deg
    if isinstance(subject, Body) and subject.body == "mercury":
        return min(_MERCURY_FLOOR_DEG, person.min_altitude_deg)
    return person.min_altitude_deg


def least_altitudes_deg(subjects: Sequence[Subject], person: Person) -> Array:
    """Return the same for N targets, (N,)."""
    return np.array([least_altitude_deg(subject, person) for subject in subjects], dtype=float)
