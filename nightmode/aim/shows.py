"""Which stars can be seen under this sky at one moment, by the bare eye and in a finder."""

from collections.abc import Sequence

import numpy as np

from nightmode.aim.frame import altitude_azimuth, direction
from nightmode.arrays import Array, Flags
from nightmode.records import Record
from nightmode.sky.refraction import refracted_deg
from nightmode.sky.vectors import angle_between_deg
from nightmode.visibility.extinction import air_loss_mag
from nightmode.visibility.moonlight import Moon
from nightmode.visibility.sky import naked_eye_limit_of_mag, sky_brightness_mag
from nightmode.walk.usable import horizon_altitude_deg

#: With the Sun this high or higher a chart is of no use, and following it is dangerous.
SUN_DEG = -6.0


class Air(Record, eq=False):
    """What decides how faint a star shows at one moment: sky, air, Sun and Moon.

    zenith_mag       the site's moonless zenith, V mag/arcsec²
    mag_per_airmass  the extinction
    sun_altitude_deg, moon_altitude_deg, moon_phase_angle_deg (0 is full)
    moon             direction (3,): north, east, up
    """

    zenith_mag: float
    mag_per_airmass: float
    sun_altitude_deg: float
    moon: Array
    moon_altitude_deg: float
    moon_phase_angle_deg: float

    def sky_mag(self, directions: Array) -> Array:
        """Return the sky's brightness, V mag/arcsec², in directions (..., 3): site, Moon and twilight."""
        altitude, _ = altitude_azimuth(directions)
        apart_deg = angle_between_deg(directions, self.moon)
        return sky_brightness_mag(
            self.zenith_mag,
            altitude,
            mag_per_airmass=self.mag_per_airmass,
            moon=Moon(self.moon_phase_angle_deg, apart_deg, self.moon_altitude_deg),
            sun_altitude_deg=self.sun_altitude_deg,
        )

    def limit_mag(self, directions: Array) -> Array:
        """Return the faintest star the bare eye sees in directions (..., 3), on the scale of `dimmed_mag`."""
        return naked_eye_limit_of_mag(self.sky_mag(directions))


def dimmed_mag(magnitude: Array, altitude_deg: Array, mag_per_airmass: float) -> Array:
    """Return V magnitudes as dimmed by the air at an altitude, minus the dimming in the zenith.

    Limits for the bare eye are given for the zenith, so they already include the dimming there.
    """
    return magnitude + air_loss_mag(altitude_deg, mag_per_airmass) - air_loss_mag(90.0, mag_per_airmass)


class Stars(Record, eq=False):
    """N stars (and planets) as they look at one moment.

    direction    (N, 3) apparent: north, east, up
    altitude_deg, azimuth_deg  (N,) apparent
    magnitude    (N,) V
    dimmed_mag   (N,) V as it looks through the air
    margin_mag   (N,) by how much it is brighter than the bare eye's limit there; negative: not seen
    has_name     (N,) whether it has a name of its own
    has_word     (N,) whether it has that, or a letter or number, to be called by
    is_steady    (N,) whether one can begin with it: not the Moon, nor a variable star of a magnitude or more
    is_fixed     (N,) whether it keeps its place among the stars; planets and the Moon do not
    is_clear     (N,) whether it stands above the site's horizon line
    """

    direction: Array
    altitude_deg: Array
    azimuth_deg: Array
    magnitude: Array
    dimmed_mag: Array
    margin_mag: Array
    has_name: Flags
    has_word: Flags
    is_steady: Flags
    is_fixed: Flags
    is_clear: Flags

    def __len__(self) -> int:
        return len(self.magnitude)


class IcrsStars(Record, eq=False):
    """N stars as in catalogues: direction (N, 3) on ICRS axes, V magnitude, and flags as in `Stars`."""

    direction: Array
    magnitude: Array
    has_name: Flags
    has_word: Flags
    is_steady: Flags
    is_fixed: Flags


def apparent(icrs: Array, rotation: Array) -> Array:
    """Return directions (..., 3), north, east, up, refracted, of directions on ICRS axes.

    rotation is the site's (3, 3) from ICRS axes to north, east, up at the moment. Aberration is left out
    (20 arcsec).
    """
    altitude, azimuth = altitude_azimuth(icrs @ rotation.T)
    return direction(refracted_deg(altitude), azimuth)


def stars_here(known: IcrsStars, rotation: Array, air: Air, horizon: Sequence[tuple[float, float]]) -> Stars:
    """Return stars as they look from a site at one moment; horizon is the horizon line of the site."""
    directions = apparent(known.direction, rotation)
    altitude, azimuth = altitude_azimuth(directions)
    dimmed = dimmed_mag(known.magnitude, altitude, air.mag_per_airmass)
    return Stars(
        direction=directions,
        altitude_deg=altitude,
        azimuth_deg=azimuth,
        magnitude=known.magnitude,
        dimmed_mag=dimmed,
        margin_mag=air.limit_mag(directions) - dimmed,
        has_name=known.has_name,
        has_word=known.has_word,
        is_steady=known.is_steady,
        is_fixed=known.is_fixed,
        is_clear=altitude > np.maximum(horizon_altitude_deg(horizon, azimuth), 0.0),
    )
