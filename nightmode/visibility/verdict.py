"""The single entry for the night: is it seen, how well, what stands in the way, what would change it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from nightmode.visibility import contrast, photometry, stars
from nightmode.visibility.eye import ONE_EYE_FACTOR, eye_background_share, star_limit_mag
from nightmode.visibility.profile import RADII, Light

FLOOR_DEX = -9.0
EASY_DEX, FAIR_DEX, HARD_DEX = 0.5, 0.2, 0.0
WORDS = ("easy", "fair", "hard", "out of reach", "unknown")


@dataclass(frozen=True)
class Margin:
    """How far above the threshold of sight, arrays of the broadcast shape.

    best_dex       log10 of contrast over threshold at the radius where that is best; NaN if no brightness is published
    seen_fraction  how far out from the middle it is seen, as a share of the catalogue's semi-major axis, 0 to 1
    stars_seen     about how many of a cluster's stars show; 0 for all else
    """

    best_dex: np.ndarray
    seen_fraction: np.ndarray
    stars_seen: np.ndarray


def margin(
    light: Light,
    sky_mag: ArrayLike,
    extinction_mag: ArrayLike,
    *,
    aperture_mm: ArrayLike,
    magnification: ArrayLike,
    true_field_deg: ArrayLike,
    obstruction_mm: ArrayLike = 0.0,
    transmission: ArrayLike = 0.85,
    pupil_mm: ArrayLike = 6.0,
    field_factor: ArrayLike = 2.0,
    sky_filter_mag: ArrayLike = 0.0,
    object_filter_mag: ArrayLike = 0.0,
) -> Margin:
    """Return the margin of objects in an eyepiece; all arguments broadcast, with light's own shape too.

    sky_mag is V mag/arcsec2 of the sky at the object, extinction_mag the magnitudes its light loses in the air,
    the two filter figures what a filter takes off sky and object. For every radius of the profile the mean
    contrast within it is set against the threshold for its apparent size (Crumey 2014, full range, one eye);
    the best radius counts. Only what fits in the field counts, against the object's own light at its edge.
    """
    share = eye_background_share(aperture_mm, obstruction_mm, transmission, magnification, pupil_mm)
    sky = np.asarray(sky_mag, float) + sky_filter_mag
    loss = np.asarray(extinction_mag, float) + object_filter_mag
    mean_dex, local_dex = _curves_dex(light, sky, loss, share, magnification, true_field_deg, field_factor)
    limit = (
        star_limit_mag(
            sky,
            aperture_mm=aperture_mm,
            magnification=magnification,
            obstruction_mm=obstruction_mm,
            transmission=transmission,
            pupil_mm=pupil_mm,
            field_factor=field_factor,
        )
        - loss
    )
    by_stars = 0.4 * (limit - light.star_magnitude)
    best = np.fmax(mean_dex.max(axis=-1), by_stars)
    shape = np.broadcast_shapes(best.shape, light.magnitude.shape)
    extent = np.where(local_dex >= 0.0, RADII, 0.0).max(axis=-1)
    seen = np.where(best >= HARD_DEX, np.fmin(extent, 1.0), 0.0)
    count = np.where(np.isnan(light.star_magnitude), 0.0, stars.members_seen(light.magnitude, limit))
    return Margin(*(np.broadcast_to(a, shape) for a in (best, seen, count)))


def _curves_dex(
    light: Light,
    sky_mag: np.ndarray,
    loss_mag: np.ndarray,
    share: np.ndarray,
    magnification: ArrayLike,
    true_field_deg: ArrayLike,
    field_factor: ArrayLike,
) -> tuple[np.ndarray, np.ndarray]:
    """Margins over RADII (last axis): of the mean light within each radius, of the local light at it."""
    semi, ratio = light.semi_major_arcmin, light.axis_ratio
    mean_mag = photometry.mean_surface_brightness_mag(light.magnitude, 2 * semi, 2 * semi * ratio)
    even_contrast = (10.0 ** (-0.4 * (mean_mag + loss_mag - sky_mag)))[..., None]
    field = (np.asarray(true_field_deg, float) * 30.0 / semi)[..., None]
    surround = _density_at(light.density, field)
    background = photometry.luminance_cd_m2(sky_mag)[..., None] * np.asarray(share)[..., None]
    background = background * (1.0 + even_contrast * surround)
    lit = np.maximum(background, contrast.DARKEST_CD_M2) / background
    apparent = np.asarray(magnification, float)[..., None] * semi[..., None] * RADII
    area = np.pi * ratio[..., None] * apparent**2 * contrast.SR_PER_ARCMIN2
    factor = np.asarray(field_factor, float)[..., None] * ONE_EYE_FACTOR
    threshold = contrast.contrast_threshold(background, area, factor) * lit * (1.0 + even_contrast * surround)
    fits = (RADII <= field) & (RADII <= 1.0)
    mean = np.where(fits, light.enclosed / RADII**2 - surround, 0.0)
    local = np.where(fits, light.density - surround, 0.0)
    return _dex(even_contrast * mean, threshold), _dex(even_contrast * local, threshold)


def _dex(seen: np.ndarray, threshold: np.ndarray) -> np.ndarray:
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.maximum(np.log10(np.maximum(seen, 0.0) / threshold), FLOOR_DEX)


def _density_at(density: np.ndarray, radius: np.ndarray) -> np.ndarray:
    """The profile's density at radii of the last axis (length 1), none beyond the grid."""
    step = np.log(RADII[1] / RADII[0])
    with np.errstate(invalid="ignore"):
        place = np.ceil(np.log(np.nan_to_num(radius, nan=1.0) / RADII[0]) / step)
    index = np.clip(place, 0, RADII.size - 1).astype(int)
    shape = np.broadcast_shapes(density.shape[:-1], index.shape[:-1])
    wide = np.broadcast_to(density, (*shape, RADII.size))
    found = np.take_along_axis(wide, np.broadcast_to(index, (*shape, 1)), axis=-1)
    return np.where(place < RADII.size, found, 0.0)


def word(margin_dex: ArrayLike) -> np.ndarray:
    """Return easy (0.5 dex and more), fair (0.2), hard (0.0), out of reach, or unknown for NaN."""
    dex = np.asarray(margin_dex, float)
    rank = (dex < EASY_DEX).astype(int) + (dex < FAIR_DEX) + (dex < HARD_DEX)
    return np.asarray(WORDS)[np.where(np.isnan(dex), 4, rank)]
