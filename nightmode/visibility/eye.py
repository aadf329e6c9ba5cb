"""The eye, and how a telescope changes what it sees."""

import numpy as np
from numpy.typing import ArrayLike

from nightmode import defaults
from nightmode.visibility import contrast, photometry
from nightmode.visibility.glass import Glass

#: What is left of the light where the shadow of the obstruction is wider than the pupil: as good as nothing.
LEAST_SHARE = 1e-6
ONE_EYE_FACTOR = np.sqrt(2.0)
_AGE_YEARS = (18.5, 24.5, 34.5, 44.5, 54.5, 64.5, 74.5, 80.0)
_PUPIL_MM = (6.85, 7.33, 6.64, 6.15, 5.77, 5.58, 5.17, 4.85)


def pupil_mm(age_years: ArrayLike) -> np.ndarray:
    """Return the mean pupil in the dark at an age, 18 to 80 years; people differ by 1 to 2 mm either way.

    Source: Bradley et al. 2011, J. Refract. Surg. 27, 202 (means of age groups, read between linearly).
    """
    return np.interp(np.asarray(age_years, float), _AGE_YEARS, _PUPIL_MM)


def eye_background_share(glass: Glass) -> np.ndarray:
    """Return how bright a surface looks in the eyepiece, as a share of its look to the bare eye.

    The part of the eye's pupil that the exit pupil fills, less the shadow of the obstruction, times the
    transmission; the filter is left aside. Source: Crumey 2014, eq. 66, (d_min / p)^2 / F_t, with the shadow
    added. At the lowest powers that may fill the pupil; LEAST_SHARE is left, so that limits stay numbers.
    """
    beam = np.minimum(np.asarray(glass.aperture_mm) / glass.magnification, glass.pupil_mm)
    shadow = np.minimum(np.asarray(glass.obstruction_mm) / glass.magnification, beam)
    share = glass.transmission * (beam**2 - shadow**2) / np.asarray(glass.pupil_mm) ** 2
    return np.maximum(share, LEAST_SHARE)


def star_limit_mag(sky_mag: ArrayLike, glass: Glass) -> np.ndarray:
    """Return the faintest star through a telescope, V magnitude as it arrives (extinction not added).

    sky_mag is V mag/arcsec2 at the star's place. Source: Crumey 2014, sect. 3.2, with the full-range
    threshold (eq. 34).
    """
    share = eye_background_share(glass)
    background = photometry.luminance_cd_m2(np.add(sky_mag, glass.sky_filter_mag)) * share
    threshold = contrast.star_threshold_lux(background, light_factor(glass))
    gain = np.asarray(glass.magnification) ** 2 * share
    return photometry.POINT_ZERO_MAG - 2.5 * np.log10(threshold / gain) - glass.object_filter_mag


def light_factor(glass: Glass) -> np.ndarray:
    """Return how many times the light is needed that two young eyes in a laboratory need.

    One eye needs sqrt 2 times the light of two: Crumey 2014, sect. 3.2, after Campbell & Green 1965, Nature
    208, 191.
    """
    return glass.field_factor * np.where(np.asarray(glass.eyes) >= 2.0, 1.0, ONE_EYE_FACTOR)


def naked_eye_limit_mag(sky_mag: ArrayLike, field_factor: ArrayLike = defaults.FIELD_FACTOR) -> np.ndarray:
    """Return the faintest star without a telescope, both eyes. Source: Crumey 2014, eqs 34 and 53."""
    threshold = contrast.star_threshold_lux(photometry.luminance_cd_m2(sky_mag), field_factor)
    return photometry.POINT_ZERO_MAG - 2.5 * np.log10(threshold)
