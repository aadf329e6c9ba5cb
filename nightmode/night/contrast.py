"""How well targets stand out on this night: the night's table put into the visibility model."""

from collections.abc import Sequence

import numpy as np

from nightmode.arrays import Array, Flags, Indices
from nightmode.model.target import Body, Subject
from nightmode.night.table import NightSky
from nightmode.sky.dark import NAUTICAL_DEG
from nightmode.sky.vantage import separation_deg
from nightmode.visibility.limits import Circumstances
from nightmode.walk.order import Chance

#: Minutes between the moments that are weighed against each other.
WEIGHED_EVERY_MIN = 10


def circumstances(night: NightSky, rows: Indices, columns: Indices, zenith_mag: float) -> Circumstances:
    """Return where targets `rows` stand in which sky at minutes `columns` (shapes that broadcast)."""
    altitude, azimuth = night.altitude_deg[rows, columns], night.azimuth_deg[rows, columns]
    moon = night.moon
    return Circumstances(
        zenith_mag=zenith_mag,
        altitude_deg=altitude,
        mag_per_airmass=night.site.extinction,
        moon_phase_angle_deg=moon.phase_angle_deg[columns],
        moon_separation_deg=separation_deg(
            azimuth, altitude, moon.azimuth_deg[columns], moon.altitude_deg[columns]
        ),
        moon_altitude_deg=moon.altitude_deg[columns],
        sun_altitude_deg=night.sun_altitude_deg[columns],
    )


def best_column(night: NightSky, row: int, chance: Chance, wants_dark: bool = False) -> int:
    """Return the minute at which a target stands highest while it is usable, else highest in the dark.

    If it wants dark, twilight with the Sun above -12 degrees is passed over where there is a choice.
    """
    usable = _usable(night, chance)
    dark = usable & (night.sun_altitude_deg < NAUTICAL_DEG)
    return int(
        np.argmax(np.where(dark if wants_dark and dark.any() else usable, night.altitude_deg[row], -99.0))
    )


def best_columns(night: NightSky, subjects: Sequence[Subject], chances: Sequence[Chance]) -> Indices:
    """Return the minutes, (N,), at which targets do best while they are usable.

    What glows is weighed by height and by the sky at it, so that it waits for the Moon to set and for
    twilight to end, as far as its height allows; stars and doubles do best when they stand highest after
    nautical twilight, the rest when it stands highest.
    """
    best = np.array(
        [
            best_column(night, row, chance, wants_dark=not isinstance(subject, Body))
            for row, (subject, chance) in enumerate(zip(subjects, chances, strict=True))
        ],
        dtype=np.intp,
    )
    rows = np.array([row for row, one in enumerate(subjects) if not one.kind.is_point], dtype=np.intp)
    if not rows.size:
        return best
    usable = np.array([_usable(night, chances[row])[::WEIGHED_EVERY_MIN] for row in rows])
    grid = np.flatnonzero(usable.any(axis=0)) * WEIGHED_EVERY_MIN
    if not grid.size:
        return best
    weighed = _favour(night, rows[:, None], grid[None, :])
    weighed = np.where(usable[:, grid // WEIGHED_EVERY_MIN], weighed, -np.inf)
    better = weighed.max(axis=1) > _favour(night, rows, best[rows])
    best[rows[better]] = grid[weighed[better].argmax(axis=1)]
    return best


def _favour(night: NightSky, rows: Indices, columns: Indices) -> Array:
    """Return in dex, up to a constant, how well a glow stands out: its light lost, the sky weighed half.

    Half, because the threshold falls with the root of the background where a sky is dark (de Vries and Rose).
    """
    where = circumstances(night, rows, columns, night.zenith_mag)
    return 0.2 * where.sky_mag() - 0.4 * where.loss_mag()


def _usable(night: NightSky, chance: Chance) -> Flags:
    spans = [(stretch.start, stretch.end) for stretch in chance.usable] or [
        night.twilights.dark or (night.twilights.darkest, night.twilights.darkest + 60)
    ]
    usable = np.zeros(night.time_s.size, dtype=bool)
    for start, end in spans:
        usable |= (night.time_s >= start - 60) & (night.time_s <= end + 60)
    return usable
