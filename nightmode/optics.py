"""What a telescope and an eyepiece give: power, field, exit pupil, resolution, limits.

Numbers in, numbers out; every argument may be an array and broadcasts. Lengths in millimetres,
fields in degrees, resolution in arcseconds.
"""

import numpy as np
from numpy.typing import ArrayLike

DAWES_MM_ARCSEC = 116.0
RAYLEIGH_MM_ARCSEC = 138.4
UNEQUAL_DEX_PER_MAG = 0.155
USEFUL_POWER_PER_MM = 2.0
SPLIT_ANGLE_ARCMIN = 4.0
BLUR_ANGLE_ARCMIN = 7.5


def magnification(
    focal_length_mm: ArrayLike, eyepiece_focal_length_mm: ArrayLike, barlow_factor: ArrayLike = 1.0
) -> np.ndarray:
    """Return the power: telescope's focal length over eyepiece's, times the Barlow's factor.

    Source: geometric optics, M = f_telescope / f_eyepiece.
    """
    return np.asarray(focal_length_mm, float) / np.asarray(eyepiece_focal_length_mm, float) * barlow_factor


def exit_pupil_mm(aperture_mm: ArrayLike, power: ArrayLike) -> np.ndarray:
    """Return the diameter of the beam that leaves the eyepiece. Source: geometric optics, d = D / M."""
    return np.asarray(aperture_mm, float) / np.asarray(power, float)


def true_field_deg(
    focal_length_mm: ArrayLike,
    eyepiece_focal_length_mm: ArrayLike,
    apparent_field_deg: ArrayLike,
    *,
    field_stop_mm: ArrayLike | None = None,
    barlow_factor: ArrayLike = 1.0,
) -> np.ndarray:
    """Return the width of sky seen, in degrees.

    With a field stop: the angle it spans in the telescope's focal plane, stop / focal length, exact up to
    distortion. Without one (None or NaN): apparent field over power, good to a few percent.
    Source: geometric optics.
    """
    by_power = np.asarray(apparent_field_deg, float) / magnification(
        focal_length_mm, eyepiece_focal_length_mm, barlow_factor
    )
    if field_stop_mm is None:
        return by_power
    stop = np.asarray(field_stop_mm, float)
    by_stop = np.degrees(stop / (np.asarray(focal_length_mm, float) * barlow_factor))
    return np.where(np.isnan(by_stop), by_power, by_stop)


def dawes_limit_arcsec(aperture_mm: ArrayLike) -> np.ndarray:
    """Return the closest pair of equal stars that shows as two. Source: W. R. Dawes, 116 / D mm."""
    return DAWES_MM_ARCSEC / np.asarray(aperture_mm, float)


def unequal_limit_arcsec(aperture_mm: ArrayLike, difference_mag: ArrayLike | None = 0.0) -> np.ndarray:
    """Return the closest pair an aperture shows when one star is so many magnitudes fainter than the other.

    The Dawes limit, wider by 0.155 dex a magnitude; a difference of None or NaN counts as none. Source: a
    line through the ratios of T. Lewis 1914, The Observatory 37, 378 (4.8, 16.5 and 36 arcsec for one inch
    at about 0, 3.3 and 5.7 magnitudes; from memory).
    """
    difference = np.abs(np.nan_to_num(np.asarray(difference_mag, dtype=float)))
    return dawes_limit_arcsec(aperture_mm) * 10.0 ** (UNEQUAL_DEX_PER_MAG * difference)


def aperture_to_split_mm(separation_arcsec: ArrayLike, difference_mag: ArrayLike | None = 0.0) -> np.ndarray:
    """Return the least aperture, in mm, that shows a pair of this separation as two.

    It solves `unequal_limit_arcsec` for the aperture. The limit is a number divided by the aperture, so the
    aperture is the same number divided by the limit, and the same formula gives both.
    """
    return unequal_limit_arcsec(separation_arcsec, difference_mag)


def rayleigh_limit_arcsec(aperture_mm: ArrayLike) -> np.ndarray:
    """Return the radius of the first dark ring at 550 nm. Source: Rayleigh criterion, 1.22 lambda / D."""
    return RAYLEIGH_MM_ARCSEC / np.asarray(aperture_mm, float)


def highest_useful_magnification(
    aperture_mm: ArrayLike, seeing_arcsec: ArrayLike | None = None
) -> np.ndarray:
    """Return the power beyond which nothing more is seen: 2 x aperture in mm (common practice).

    With seeing_arcsec, no more than the power that shows a blur of that width at 7.5 arcmin: 225x in air of
    2 arcsec, 300x in air of 1.5, 450x in very good air of 1 (common practice, no published source).
    """
    by_aperture = USEFUL_POWER_PER_MM * np.asarray(aperture_mm, float)
    if seeing_arcsec is None:
        return by_aperture
    return np.minimum(by_aperture, power_to_show(seeing_arcsec, BLUR_ANGLE_ARCMIN))


def lowest_useful_magnification(aperture_mm: ArrayLike, pupil_mm: ArrayLike) -> np.ndarray:
    """Return the power whose exit pupil just fills the eye's pupil. Source: M = D / pupil."""
    return np.asarray(aperture_mm, float) / np.asarray(pupil_mm, float)


def power_to_show(
    separation_arcsec: ArrayLike, apparent_arcmin: ArrayLike = SPLIT_ANGLE_ARCMIN
) -> np.ndarray:
    """Return the power at which a separation in the sky looks apparent_arcmin wide in the eyepiece.

    4 arcmin is the usual angle for a comfortable split of a double (common practice, no published source).
    """
    return np.asarray(apparent_arcmin, float) * 60.0 / np.asarray(separation_arcsec, float)
