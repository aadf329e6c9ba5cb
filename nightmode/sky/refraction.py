"""Refraction: from true altitude to apparent altitude, and back. Numbers in, numbers out.

Convention, as in the almanacs: 1010 hPa and 10 degrees Celsius whatever the site's elevation, and no dip
of the horizon. Formula: Bennett (1982), in Meeus, Astronomical Algorithms, 2nd ed., equation 16.3,
R = 1' / tan(h + 7.31/(h + 4.4)) with h the apparent altitude in degrees; good to 0.07'.

At the horizon itself Bennett gives 34.5', the almanacs 34'. So that a star sets behind a flat horizon when
the almanacs say so, R is reduced by 1.4 % at apparent altitude 0, and by a factor e less with each half
degree above it: by 0.0012 degree at 1 degree, by a negligible amount from 2 degrees up.

Below an apparent altitude of -1 degree the formula does not hold. There the refraction decreases linearly to
0 at a true altitude of -5 degrees, so that apparent altitude grows with true altitude everywhere, without a
jump.
"""

import numpy as np

_LOWEST_APPARENT_DEG = -1.0
_FADED_TRUE_DEG = -5.0
HORIZON_REFRACTION_DEG = 34 / 60
_DRAW_DOWN_SCALE_DEG = 0.5


def bennett_deg(apparent_deg: np.ndarray | float) -> np.ndarray:
    """Return the refraction in degrees at an apparent altitude of -1 to 90 degrees."""
    argument_deg = apparent_deg + 7.31 / (apparent_deg + 4.4)
    return np.maximum(1.0 / np.tan(np.radians(argument_deg)), 0.0) / 60.0


def refraction_deg(apparent_deg: np.ndarray) -> np.ndarray:
    """Return the refraction used here, in degrees, at an apparent altitude of -1 to 90 degrees."""
    excess = 1.0 - HORIZON_REFRACTION_DEG / bennett_deg(0.0)
    fading = np.exp(-np.maximum(apparent_deg, 0.0) / _DRAW_DOWN_SCALE_DEG)
    return bennett_deg(apparent_deg) * (1.0 - excess * fading)


def _table() -> tuple[np.ndarray, np.ndarray]:
    apparent_deg = np.concatenate(
        [np.arange(_LOWEST_APPARENT_DEG, 15, 0.01), np.arange(15, 90, 0.1), np.array([90.0])]
    )
    true_deg = apparent_deg - refraction_deg(apparent_deg)
    ends = np.array([-90.0, _FADED_TRUE_DEG])
    return np.concatenate([ends, true_deg]), np.concatenate([ends, apparent_deg])


_TRUE_DEG, _APPARENT_DEG = _table()


def refracted_deg(true_deg: np.ndarray) -> np.ndarray:
    """Return the apparent altitude in degrees of a true altitude of -90 to 90 degrees.

    Interpolated in a table of the inverted formula: within 0.00001 degree of it, continuous, increasing.
    """
    return np.interp(true_deg, _TRUE_DEG, _APPARENT_DEG)


def true_deg(apparent_deg: np.ndarray) -> np.ndarray:
    """Return the true altitude in degrees of an apparent altitude."""
    return np.interp(apparent_deg, _APPARENT_DEG, _TRUE_DEG)
