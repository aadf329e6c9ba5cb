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


def air_loss_mag(altitude_deg: ArrayLike, mag_per_airmass: ArrayLike) -> np.ndarray:
    """Return the magnitudes lost by an object at an apparent altitude, the zenith's own loss included."""
    return np.asarray(mag_per_airmass, float) * airmass(altitude_deg)
