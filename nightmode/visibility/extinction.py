"""Light lost in the air."""

import numpy as np
from numpy.typing import ArrayLike


def airmass(altitude_deg: ArrayLike) -> np.ndarray:
    """Return the airmass, zenith = 1, for light from an object at an apparent altitude in degrees.

    Source: Kasten & Young 1989, Applied Optics 28, 4735; good from the horizon (38) up.
    Below the horizon the value at the horizon is kept: callers know what has set.
    """
    height = np.clip(np.asarray(altitude_deg, float), 0.0, 90.0)
    return 1.0 / (np.sin(np.radians(height)) + 0.50572 * (height + 6.07995) ** -1.6364)


def glow_airmass(altitude_deg: ArrayLike) -> np.ndarray:
    """Return the airmass for glow that arises in the air itself: 1 at the zenith, 5 at the horizon.

    Source: Krisciunas & Schaefer 1991, PASP 103, 1033, eq. 3 (after Garstang 1989).
    """
    height = np.clip(np.asarray(altitude_deg, float), 0.0, 90.0)
    return (1.0 - 0.96 * np.cos(np.radians(height)) ** 2) ** -0.5


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
