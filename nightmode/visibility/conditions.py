"""Where a target stands under which sky: how bright it is behind it, and what the light loses on its way."""

import numpy as np
from numpy.typing import ArrayLike

from nightmode import defaults
from nightmode.arrays import Indices
from nightmode.records import Record, replace
from nightmode.visibility.extinction import air_loss_mag
from nightmode.visibility.moonlight import NO_MOON, Moon, moon_dazzle_mag, moon_veil_nl
from nightmode.visibility.photometry import mag_of_nanolambert, nanolambert
from nightmode.visibility.sky import sky_brightness_mag

#: The zenith of a dark site, V mag/arcsec2.
DARK_SITE_MAG = 21.7


class Conditions(Record):
    """The target's place and its sky; numbers or arrays that broadcast, for example one value a minute.

    zenith_mag is the site's moonless zenith (V mag/arcsec2), altitudes and separations in degrees, the
    Moon's phase angle 0 at full and 180 at new.
    """

    zenith_mag: ArrayLike
    altitude_deg: ArrayLike
    mag_per_airmass: ArrayLike = defaults.MAG_PER_AIRMASS
    moon_phase_angle_deg: ArrayLike = NO_MOON.phase_angle_deg
    moon_separation_deg: ArrayLike = NO_MOON.separation_deg
    moon_altitude_deg: ArrayLike = NO_MOON.altitude_deg
    sun_altitude_deg: ArrayLike = -90.0

    def some(self, which: Indices, count: int) -> "Conditions":
        """Return those of some of `count` targets, by index."""
        each = {name: np.broadcast_to(value, (count,))[which] for name, value in vars(self).items()}
        return Conditions(**each)

    def moonless(self) -> "Conditions":
        """Return the same with the Moon down."""
        return replace(self, moon_altitude_deg=-90.0)

    def in_the_dark(self) -> "Conditions":
        """Return the same under the zenith of a dark site, or its own if that is darker."""
        return replace(self, zenith_mag=np.maximum(self.zenith_mag, DARK_SITE_MAG))

    def sky_mag(self) -> np.ndarray:
        """Return the sky's V mag/arcsec2 at the target in the telescope, stray moonlight included."""
        sky = sky_brightness_mag(
            self.zenith_mag,
            self.altitude_deg,
            mag_per_airmass=self.mag_per_airmass,
            moon=self._moon,
            sun_altitude_deg=self.sun_altitude_deg,
        )
        veil = moon_veil_nl(self._moon, self.mag_per_airmass)
        return mag_of_nanolambert(nanolambert(sky) + veil)

    def loss_mag(self) -> np.ndarray:
        """Return the magnitudes that the target's light loses in the air, and to an eye dazzled."""
        dazzle = moon_dazzle_mag(self._moon, self.mag_per_airmass)
        return air_loss_mag(self.altitude_deg, self.mag_per_airmass) + dazzle

    @property
    def _moon(self) -> Moon:
        return Moon(self.moon_phase_angle_deg, self.moon_separation_deg, self.moon_altitude_deg)
