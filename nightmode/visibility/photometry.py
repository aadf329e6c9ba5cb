"""Magnitudes, surface brightness and luminance.

One conversion is kept throughout: mu = 12.58 - 2.5 log10 B for cd/m2 (Crumey 2014, MNRAS 442, 2600,
sect. 1.3). The nanolambert scale of the moonlight papers is used only to add glows together.
"""

import numpy as np
from numpy.typing import ArrayLike

SURFACE_ZERO_MAG = 12.58
POINT_ZERO_MAG = -13.99
ARCSEC2_PER_ARCMIN2 = 3600.0
#: The light that a dark nebula takes away is catalogued as for one of usual opacity; a class more or less is
#: so many magnitudes (fitted, see `opacity_mag`).
USUAL_OPACITY, OPACITY_STEP_MAG = 5.0, 0.2


def luminance_cd_m2(surface_brightness_mag: ArrayLike) -> np.ndarray:
    """Return the luminance in cd/m2 of a sky of so many mag/arcsec2 (V). Source: Crumey 2014, sect. 1.3."""
    return 10.0 ** (0.4 * (SURFACE_ZERO_MAG - np.asarray(surface_brightness_mag, float)))


def nanolambert(surface_brightness_mag: ArrayLike) -> np.ndarray:
    """Return nanolambert of mag/arcsec2 (V). Source: Garstang 1986, PASP 98, 364."""
    return 34.08 * np.exp(20.7233 - 0.92104 * np.asarray(surface_brightness_mag, float))


def mag_of_nanolambert(glow_nl: ArrayLike) -> np.ndarray:
    """Return mag/arcsec2 (V) of nanolambert; infinite for no light at all. The inverse of `nanolambert`."""
    with np.errstate(divide="ignore"):
        return (20.7233 - np.log(np.asarray(glow_nl, float) / 34.08)) / 0.92104


def mean_surface_brightness_mag(
    magnitude: ArrayLike, major_arcmin: ArrayLike, minor_arcmin: ArrayLike
) -> np.ndarray:
    """Return mag/arcsec2 of a magnitude spread evenly over an ellipse of two full diameters in arcmin."""
    area = np.pi / 4 * np.asarray(major_arcmin, float) * np.asarray(minor_arcmin, float)
    return np.asarray(magnitude, float) + 2.5 * np.log10(area * ARCSEC2_PER_ARCMIN2)


def opacity_mag(opacity: ArrayLike) -> np.ndarray:
    """Return by how much fainter than usual the light is that a dark nebula takes away, in magnitudes.

    The opacity is that of Lynds 1962 (ApJS 7, 1), from 1, hardly there, to 6, black; negative for 6, and zero
    for NaN. The step is fitted to what observers tell of dark nebulae (no published source).
    """
    known = np.asarray(opacity, float)
    return np.where(np.isnan(known), 0.0, OPACITY_STEP_MAG * (USUAL_OPACITY - known))
