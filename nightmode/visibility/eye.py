"""The eye, and how a telescope changes what it sees."""

import numpy as np
from numpy.typing import ArrayLike

from nightmode import defaults
from nightmode.visibility import contrast, photometry

ONE_EYE_FACTOR = np.sqrt(2.0)
_AGE_YEARS = (18.5, 24.5, 34.5, 44.5, 54.5, 64.5, 74.5, 80.0)
_PUPIL_MM = (6.85, 7.33, 6.64, 6.15, 5.77, 5.58, 5.17, 4.85)


def pupil_mm(age_years: ArrayLike) -> np.ndarray:
    """Return the mean pupil in the dark at an age, 18 to 80 years; people differ by 1 to 2 mm either way.

    Source: Bradley et al. 2011, J. Refract. Surg. 27, 202 (means of age groups, read between linearly).
    """
    return np.interp(np.asarray(age_years, float), _AGE_YEARS, _PUPIL_MM)


def eye_background_share(
    aperture_mm: ArrayLike,
    obstruction_mm: ArrayLike,
    transmission: ArrayLike,
    magnification: ArrayLike,
    pupil_mm: ArrayLike,
) -> np.ndarray:
    """Return how bright a surface looks in the eyepiece, as a share of its look to the bare eye.

    The part of the eye's pupil that the exit pupil fills, less the shadow of the obstruction, times the
    transmission. Source: Crumey 2014, eq. 66, (d_min / p)^2 / F_t, with the shadow added.
    """
    power, eye = np.asarray(magnification, float), np.asarray(pupil_mm, float)
    beam = np.minimum(np.asarray(aperture_mm, float) / power, eye)
    shadow = np.minimum(np.asarray(obstruction_mm, float) / power, beam)
    return np.asarray(transmission, float) * (beam**2 - shadow**2) / eye**2


def star_limit_mag(
    sky_mag: ArrayLike,
    *,
    aperture_mm: ArrayLike,
    magnification: ArrayLike,
    obstruction_mm: ArrayLike = 0.0,
    transmission: ArrayLike = defaults.TRANSMISSION,
    pupil_mm: ArrayLike = defaults.PUPIL_MM,
    field_factor: ArrayLike = defaults.FIELD_FACTOR,
    eyes: ArrayLike = 1.0,
) -> np.ndarray:
    """Return the faintest star through a telescope, V magnitude as it arrives (extinction not added).

    sky_mag is V mag/arcsec2 at the star's place. Source: Crumey 2014, sect. 3.2, with the full-range
    threshold (eq. 34); one eye needs sqrt 2 times the light of two.
    """
    share = eye_background_share(aperture_mm, obstruction_mm, transmission, magnification, pupil_mm)
    background = photometry.luminance_cd_m2(sky_mag) * share
    threshold = contrast.star_threshold_lux(background, np.asarray(field_factor, float) * eyes_factor(eyes))
    gain = np.asarray(magnification, float) ** 2 * share
    with np.errstate(divide="ignore"):
        return photometry.POINT_ZERO_MAG - 2.5 * np.log10(threshold / gain)


def eyes_factor(eyes: ArrayLike) -> np.ndarray:
    """Return how many times the light of two eyes is needed: 1 with two, sqrt 2 with one.

    Source: Crumey 2014, sect. 3.2, after Campbell & Green 1965, Nature 208, 191.
    """
    return np.where(np.asarray(eyes, float) >= 2.0, 1.0, ONE_EYE_FACTOR)


def naked_eye_limit_mag(sky_mag: ArrayLike, field_factor: ArrayLike = defaults.FIELD_FACTOR) -> np.ndarray:
    """Return the faintest star without a telescope, both eyes. Source: Crumey 2014, eqs 34 and 53."""
    threshold = contrast.star_threshold_lux(photometry.luminance_cd_m2(sky_mag), field_factor)
    return photometry.POINT_ZERO_MAG - 2.5 * np.log10(threshold)
