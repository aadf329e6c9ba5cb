"""Light lost in the air."""

import numpy as np
from numpy.typing import ArrayLike

from nightmode.visibility.airmass import airmass


def coefficient_mag(height_km: ArrayLike) -> np.ndarray:
    """Return the usual visual extinction in magnitudes per airmass at a height above the sea in km.

    Rayleigh scattering, ozone and average haze. Source: Green 1992, International Comet Quarterly 14, 55,
    after Hayes & Latham 1975. Real nights differ by 0.1 and more.
    """
    height = np.asarray(height_km, float)
    return 0.1451 * np.exp(-height / 7.996) + 0.016 + 0.120 * np.exp(-height / 1.5)


def loss_mag(altitude_deg: ArrayLike, mag_per_airmass: ArrayLike) -> np.ndarray:
    """Return the magnitudes lost by an object at an apparent altitude, the zenith's own loss included."""
    return np.asarray(mag_per_airmass, float) * airmass(altitude_deg)
