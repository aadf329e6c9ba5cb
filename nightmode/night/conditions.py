"""Under which sky and air targets stand on this night, and at which minute they are seen best."""

from collections.abc import Sequence

import numpy as np

from nightmode.arrays import Array, Indices
from nightmode.model.target import Body, Star, Subject
from nightmode.night.hours import Hours
from nightmode.night.table import SkyTable
from nightmode.sky.vectors import separation_deg
from nightmode.visibility.conditions import Conditions
from nightmode.visibility.contrast import favour_dex
from nightmode.walk.order import Chance

#: Minutes between the moments that are compared.
WEIGHED_EVERY_MIN = 10
#: Targets compared at once: this keeps the temporary arrays of a long list near 30 MB.
_ROWS = 1024


def conditions_at(night: SkyTable, rows: Indices, columns: Indices, zenith_mag: float) -> Conditions:
    """Return the conditions of targets `rows` at minutes `columns`: altitude, Moon, Sun; shapes broadcast."""
    altitude = night.altitude_deg[rows, columns]
    moon = night.moon
    return Conditions(
        zenith_mag=zenith_mag,
        altitude_deg=altitude,
        mag_per_airmass=night.site.extinction,
        moon_phase_angle_deg=moon.light_phase_deg[columns],
        moon_separation_deg=_from_moon_deg(night, rows, columns, altitude),
        moon_altitude_deg=moon.altitude_deg[columns],
        sun_altitude_deg=night.sun_altitude_deg[columns],
    )


def _from_moon_deg(night: SkyTable, rows: Indices, columns: Indices, altitude_deg: Array) -> Array:
    """Return how far targets stand from the Moon; 180 degrees while it is down and gives no light."""
    moon, found = night.moon, np.full(altitude_deg.shape, 180.0)
    rows, columns = np.broadcast_arrays(rows, columns)
    up = moon.altitude_deg[columns] > 0.0
    rows, columns = rows[up], columns[up]
    found[up] = separation_deg(
        night.azimuth_deg[rows, columns],
        altitude_deg[up],
        moon.azimuth_deg[columns],
        moon.altitude_deg[columns],
    )
    return found


def best_columns(night: SkyTable, subjects: Sequence[Subject], chances: Sequence[Chance]) -> Indices:
    """Return the columns, (N,), at which targets are seen best while they are usable.

    For glows and single stars both altitude and the brightness of the sky count: their best instant may be
    after the Moon has set or twilight has ended. Double stars are best when highest after nautical twilight,
    all else when highest. For a target that is never usable the dark hours are taken.
    """
    hours = Hours(night, chances)
    best = hours.highest(np.array([not isinstance(subject, Body) for subject in subjects], dtype=bool))
    weighed = np.array(
        [
            row
            for row, subject in enumerate(subjects)
            if not subject.kind.is_point or isinstance(subject, Star)
        ],
        dtype=np.intp,
    )
    for start in range(0, weighed.size, _ROWS):
        rows = weighed[start : start + _ROWS]
        best[rows] = _best_weighed(night, hours, rows, best[rows])
    return best


def _best_weighed(night: SkyTable, hours: Hours, rows: Indices, highest: Indices) -> Indices:
    """Return the columns at which glows are seen best; those of `highest` where no other is better."""
    grid = np.arange(0, night.time_s.size, WEIGHED_EVERY_MIN)
    row, column = np.nonzero(hours.hold(rows, grid))
    weighed = np.full((rows.size, grid.size), -np.inf)
    weighed[row, column] = _favour(night, rows[row], grid[column])
    better = weighed.max(axis=1) > _favour(night, rows, highest)
    return np.where(better, grid[weighed.argmax(axis=1)], highest)


def _favour(night: SkyTable, rows: Indices, columns: Indices) -> Array:
    """Return in dex, up to a constant, how well a glow stands out."""
    conditions = conditions_at(night, rows, columns, night.zenith_mag)
    return favour_dex(conditions.sky_mag(), conditions.loss_mag())
