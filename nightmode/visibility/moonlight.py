"""Moonlight: in the sky behind a target, as a veil over the field, and in the observer's eye.

Source, where an equation is named without one: Krisciunas & Schaefer 1991, PASP 103, 1033.
"""

import numpy as np
from numpy.typing import ArrayLike

from nightmode.records import Record
from nightmode.visibility.extinction import glow_airmass

#: Half of the Moon's own width, in degrees.
NEAREST_DEG = 0.25
#: Within so many degrees of the Moon its light falls into the tube; it fades in over the last ten.
IN_TUBE_DEG, FADES_OVER_DEG = 25.0, 10.0
#: How many times more light the eye needs beside a full Moon overhead, which lights the ground about the
#: observer, and in addition where it shines into the tube (common practice, no published source).
BY_MOONLIT_GROUND, BY_MOON_IN_TUBE = 0.6, 1.4
LUX_PER_FC, CD_M2_PER_NL = 10.764, 3.183e-6


class Moon(Record, eq=False):
    """The Moon over a site: numbers or arrays that broadcast.

    phase_angle_deg  0 at full, 180 at new
    separation_deg   how far it is from the place looked at
    altitude_deg     above the horizon; while it is down it gives no light
    """

    phase_angle_deg: ArrayLike
    separation_deg: ArrayLike
    altitude_deg: ArrayLike


#: A night without the Moon.
NO_MOON = Moon(phase_angle_deg=180.0, separation_deg=90.0, altitude_deg=-90.0)


def phase_loss_mag(phase_angle_deg: ArrayLike) -> np.ndarray:
    """Return by how many magnitudes the Moon is fainter than full (eq. 9); phase angle 0 is full, 180 new."""
    alpha = np.abs(np.asarray(phase_angle_deg, float))
    return 0.026 * alpha + 4e-9 * alpha**4


def moon_illuminance_fc(phase_angle_deg: ArrayLike) -> np.ndarray:
    """Return the Moon's light above the air in foot-candles (eq. 20); phase angle 0 is full, 180 is new."""
    return 10.0 ** (-0.4 * (3.84 + phase_loss_mag(phase_angle_deg)))


def scattering(separation_deg: ArrayLike) -> np.ndarray:
    """Return f(rho), what the air scatters through an angle (eqs 16 to 19 and 21).

    Closer than NEAREST_DEG the value there is kept: that is the Moon's own disc.
    """
    rho = np.clip(np.asarray(separation_deg, float), NEAREST_DEG, 180.0)
    rayleigh = 10.0**5.36 * (1.06 + np.cos(np.radians(rho)) ** 2)
    haze = np.where(rho >= 10.0, 10.0 ** (6.15 - rho / 40.0), 6.2e7 / rho**2)
    return rayleigh + haze


def moon_at_site_fc(moon: Moon, mag_per_airmass: ArrayLike) -> np.ndarray:
    """Return the Moon's light through the air of the site, in foot-candles; none once it has set.

    mag_per_airmass is the extinction in V.
    """
    through = 10.0 ** (-0.4 * np.asarray(mag_per_airmass, float) * glow_airmass(moon.altitude_deg))
    light = moon_illuminance_fc(moon.phase_angle_deg) * through
    return np.where(np.asarray(moon.altitude_deg, float) > 0.0, light, 0.0)


def moon_glow_nl(moon: Moon, altitude_deg: ArrayLike, mag_per_airmass: ArrayLike) -> np.ndarray:
    """Return the moonlight in the sky at an altitude, in nanolambert (eq. 15)."""
    caught = 1.0 - 10.0 ** (-0.4 * np.asarray(mag_per_airmass, float) * glow_airmass(altitude_deg))
    return scattering(moon.separation_deg) * moon_at_site_fc(moon, mag_per_airmass) * caught


def moon_veil_nl(moon: Moon, mag_per_airmass: ArrayLike) -> np.ndarray:
    """Return the veil that a Moon nearby draws over the field by stray light in tube and eye, in nanolambert.

    Source: the veil of a glaring source, 10 E / angle^2 cd/m2 for E lux at an angle in degrees (Holladay
    1926, J. Opt. Soc. Am. 12, 271); half of it, because the eye is in the dark of the eyepiece and the tube
    is not (our own). None beyond IN_TUBE_DEG.
    """
    angle = np.maximum(np.asarray(moon.separation_deg, float), 1.0)
    lux = moon_at_site_fc(moon, mag_per_airmass) * LUX_PER_FC
    return 5.0 * lux / angle**2 / CD_M2_PER_NL * _in_tube(angle)


def _in_tube(separation_deg: ArrayLike) -> np.ndarray:
    """Return how much of the Moon's light falls into the tube: 1 within 15 degrees, 0 from 25 on."""
    return np.clip((IN_TUBE_DEG - np.asarray(separation_deg, float)) / FADES_OVER_DEG, 0.0, 1.0)


def moon_dazzle_mag(moon: Moon, mag_per_airmass: ArrayLike) -> np.ndarray:
    """Return how much more light an eye needs that moonlight keeps from adapting to the dark, in magnitudes.

    In proportion to the light of the Moon. It stands beside the brighter sky: thresholds measured against a
    bright background (`contrast`) are those of an eye that has nothing else to see.
    """
    light = moon_at_site_fc(moon, mag_per_airmass) / moon_illuminance_fc(0.0)
    return 2.5 * np.log10(1.0 + light * (BY_MOONLIT_GROUND + BY_MOON_IN_TUBE * _in_tube(moon.separation_deg)))
