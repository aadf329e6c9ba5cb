"""The light laws, each as (enclosed, density) on RADII: see `profile` for meaning and sources."""

import math

import numpy as np
from numpy.typing import ArrayLike

Curves = tuple[np.ndarray, np.ndarray]

# From the central hundredth of the semi-major axis to its edge, and on to where a surrounding field is read.
RADII = np.concatenate([np.geomspace(0.01, 1.0, 24), [1.25, 1.6, 2.0, 2.5]])
DISC_LENGTHS = 3.1
MOST_LENGTHS = 9.0
LEAST_ELLIPTICAL_RADII = 2.0
MOST_ELLIPTICAL_RADII = 12.0
# 25.0 B mag/arcsec2 less the B-V of a usual galaxy, 0.75.
EDGE_V_MAG = 24.25
_SERSIC_B = {1: 1.678, 2: 3.672, 4: 7.669}


def exponential(lengths: ArrayLike) -> Curves:
    """Return the curves of an exponential disc whose R is so many scale lengths."""
    count = np.asarray(lengths, float)[..., None]
    x = count * RADII
    return 1.0 - (1.0 + x) * np.exp(-x), count**2 / 2.0 * np.exp(-x)


def sersic(half_light_radii: ArrayLike, index: int) -> Curves:
    """Return the curves of a Sersic law (index 4 is de Vaucouleurs) whose R is so many half-light radii.

    Source: Graham & Driver 2005, PASA 22, 118: b = 3.672 for index 2, 7.669 for index 4.
    """
    b, terms = _SERSIC_B[index], 2 * index
    count = np.asarray(half_light_radii, float)[..., None]
    z = b * (count * RADII) ** (1.0 / index)
    series = sum(z**n / math.factorial(n) for n in range(terms))
    peak = count**2 * b**terms / (terms * math.factorial(terms - 1))
    return 1.0 - np.exp(-z) * series, peak * np.exp(-z)


def plummer(half_light: ArrayLike) -> Curves:
    """Return the curves of Plummer's law with half of the light within that share of R."""
    half = np.asarray(half_light, float)[..., None]
    w = (RADII / half) ** 2
    return w / (1.0 + w), half**-2 / (1.0 + w) ** 2


def even() -> Curves:
    """Return the curves of an even disc of radius R."""
    return np.minimum(RADII**2, 1.0), (RADII <= 1.0).astype(float)


def coma() -> Curves:
    """Return the curves of a coma whose surface brightness falls as 1 / r, out to R."""
    return np.minimum(RADII, 1.0), np.where(RADII <= 1.0, 0.5 / RADII, 0.0)


def edge_density(mean_mag: ArrayLike) -> np.ndarray:
    """Return the density at R that a galaxy of this mean mag/arcsec2 has if R is its 25.0 B isophote."""
    return 10.0 ** (-0.4 * (EDGE_V_MAG - np.asarray(mean_mag, float)))


def disc_lengths(density_at_edge: ArrayLike) -> np.ndarray:
    """Return how many scale lengths R holds for an exponential disc of that density at R, 3.1 to 9."""
    tried = np.linspace(DISC_LENGTHS, MOST_LENGTHS, 100)
    return _inverse(density_at_edge, tried, tried**2 / 2.0 * np.exp(-tried))


def elliptical_radii(density_at_edge: ArrayLike) -> np.ndarray:
    """Return how many half-light radii R holds for a de Vaucouleurs law of that density at R, 2 to 12."""
    tried = np.linspace(LEAST_ELLIPTICAL_RADII, MOST_ELLIPTICAL_RADII, 100)
    return _inverse(density_at_edge, tried, sersic(tried, 4)[1][..., RADII.tolist().index(1.0)])


def _inverse(wanted: ArrayLike, tried: np.ndarray, found: np.ndarray) -> np.ndarray:
    """Read a falling curve backwards; its ends hold beyond them."""
    return np.interp(np.asarray(wanted, float), found[::-1], tried[::-1])
