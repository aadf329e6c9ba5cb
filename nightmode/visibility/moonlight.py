"""Moonlight scattered into the sky.

Source of everything here: Krisciunas & Schaefer 1991, PASP 103, 1033, "A model of the brightness of
moonlight"; stated accuracy 8 to 23 percent. The extra light of the last degrees before full Moon
(about a third at full, gone at 7 degrees of phase angle) is left out, as in the paper's formulae.
"""

import numpy as np
from numpy.typing import ArrayLike

from nightmode.visibility.airmass import glow_airmass

NEAREST_DEG = 0.25


def moon_illuminance_fc(phase_angle_deg: ArrayLike) -> np.ndarray:
    """Return the Moon's light above the air in foot-candles (eq. 20); phase angle 0 is full, 180 is new."""
    alpha = np.abs(np.asarray(phase_angle_deg, float))
    return 10.0 ** (-0.4 * (3.84 + 0.026 * alpha + 4e-9 * alpha**4))


def scattering(separation_deg: ArrayLike) -> np.ndarray:
    """Return f(rho), what the air scatters through an angle (eqs 16 to 19 and 21).

    Closer than a quarter of a degree the value there is kept: that is the Moon's own disc.
    """
    rho = np.clip(np.asarray(separation_deg, float), NEAREST_DEG, 180.0)
    rayleigh = 10.0**5.36 * (1.06 + np.cos(np.radians(rho)) ** 2)
    haze = np.where(rho >= 10.0, 10.0 ** (6.15 - rho / 40.0), 6.2e7 / rho**2)
    return rayleigh + haze


def moon_glow_nl(
    phase_angle_deg: ArrayLike,
    separation_deg: ArrayLike,
    moon_altitude_deg: ArrayLike,
    altitude_deg: ArrayLike,
    mag_per_airmass: ArrayLike,
) -> np.ndarray:
    """Return the moonlight in the sky at a point, in nanolambert (eq. 15); none once the Moon has set.

    separation_deg is between Moon and point, altitudes in degrees, extinction in V magnitudes per airmass.
    """
    k = np.asarray(mag_per_airmass, float)
    through = 10.0 ** (-0.4 * k * glow_airmass(moon_altitude_deg))
    caught = 1.0 - 10.0 ** (-0.4 * k * glow_airmass(altitude_deg))
    glow = scattering(separation_deg) * moon_illuminance_fc(phase_angle_deg) * through * caught
    return np.where(np.asarray(moon_altitude_deg, float) > 0.0, glow, 0.0)
