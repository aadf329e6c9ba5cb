"""Whether a target is seen, how much of it, and in which word: the one entry of this room for the night."""

import numpy as np
from numpy.typing import ArrayLike

from nightmode.records import Record
from nightmode.visibility import contrast, photometry, points, stars
from nightmode.visibility.eye import eye_background_share, light_factor, star_limit_mag
from nightmode.visibility.glass import Glass
from nightmode.visibility.profile import Light
from nightmode.visibility.profile_laws import RADII
from nightmode.visibility.ranking import rank_of, ranked
from nightmode.visibility.telling import told_of_scene_dex
from nightmode.words import Word

FLOOR_DEX = -9.0
# A patch is seen against what lies so many radii out, not against the far sky: soft edges hide discs of
# galaxies. Our own figure, no published source.
JUST_OUTSIDE = 3.0
# Our own figure, no published source: with it the largest nebulae are as hard as observers find them.
SWEPT = 0.7
EASY_DEX, FAIR_DEX, HARD_DEX = 0.69, 0.24, -0.17
#: Light with this contrast shows: with the usual field factor of 2.4 it stands where the factor is 1, at
#: which half of the targets are seen (Crumey 2014).
SHOWS_DEX = -0.38
# What catches the eye is not only how a part of something stands out from the sky, but how much light it is:
# so much of the margin is that of the light of its middle, out to half the radius, over that of the faintest
# star. This and the figures of the next lines are fitted to what observers tell of whole evenings; no
# published source.
LIGHT_SHARE, MIDDLE = 0.2, 0.5
# A larger telescope shows more of a cluster's stars, but more of those between which it must be told, too:
# its light counts as the bare eye has it, one dex a magnitude from here.
CLUSTER_LIGHT_MAG = 8.6
# What is dark has no light of its own: this is added to its contrast in its stead.
DARK_LIGHT_DEX = 1.9
# A planetary nebula that is small in the eyepiece passes for a star, however well it stands out: contrast
# counts no further than DISC_MOST_DEX, and a quarter of the logarithm of its size in units of so many arcmin
# is added, with DISC_PLENTY as the most of that logarithm.
DISC_SHARE, DISC_UNIT_ARCMIN, DISC_MOST_DEX, DISC_PLENTY = 0.25, 30.0, 0.55, 0.25
# The glow of an open cluster is not smooth: a few bright stars hold much of its light.
UNEVEN_DEX = 0.3
# A nebula with its cluster is looked at for both; its stars count no further than so much beyond its glow.
STARS_AHEAD_DEX = 1.2
# A cluster a few times as wide as the field is still one at a glance; wider it is stars here and there, down
# to hard (common practice, no published source).
OVERFLOW, OVERFLOW_DEX = 3.5, 1.3
# Up to this power the star that lights a reflection nebula outshines it: in binoculars of 10x, as if it were
# fainter by so much (common practice, no published source).
GLARE_TO_POWER, GLARE_DEX = 20.0, 0.25
# A nebula, galaxy or globular that looks like a star is told from others by its place alone, and so is never
# easy, however bright (common practice, no published source).
STARLIKE_DEX = EASY_DEX - 0.01
_MIDDLE_PLACE = np.searchsorted(RADII, MIDDLE * RADII)


class Margin(Record):
    """How far above the threshold of sight, arrays of the broadcast shape.

    margin_dex     what the word goes by: contrast and light, each with its share, and what is told; NaN where
                   no brightness (or no size) is published
    contrast_dex   log10 of contrast over threshold at the radius where that is best, or of the tenth star
                   of a cluster: what power and filters are chosen by
    seen_fraction  how far out from the middle it shows, as a share of the catalogue's semi-major axis
    stars_seen     about how many of a cluster's stars show, 100 for 100 and more; 0 for all else
    is_bound       whether margin_dex is no more than the field has room for
    power_times    how many times this power shows a glow as more than a star; 1 where it looks like more
                   already, and for what shows stars or nothing
    """

    margin_dex: np.ndarray
    contrast_dex: np.ndarray
    seen_fraction: np.ndarray
    stars_seen: np.ndarray
    is_bound: np.ndarray
    power_times: np.ndarray


def margin(light: Light, sky_mag: ArrayLike, loss_mag: ArrayLike, glass: Glass) -> Margin:
    """Return the margin of objects in an eyepiece; all arguments broadcast, with light's own shape too.

    sky_mag is V mag/arcsec2 of the sky at the object, loss_mag what its light loses in the air, both before
    the filter, which belongs to the glass. For every radius of the profile the mean contrast within it is set
    against the threshold for its apparent size and the background in the eyepiece (Crumey 2014, full range,
    eqs 41 and 66); the best radius counts. Only radii that fit across the field count, with as much of their
    length as it holds, against the sky plus the object's own light at the field's edge. What spills over the
    field is found by sweeping: its rim shows against what lies half a field further out, with SWEPT of the
    contrast, because the two are not seen side by side.
    """
    sky = np.add(sky_mag, glass.sky_filter_mag, dtype=float)
    clear_sky = sky - np.add(loss_mag, glass.object_filter_mag)
    mean_dex, local_dex = _curves_dex(light, clear_sky, photometry.luminance_cd_m2(sky), glass)
    limit = star_limit_mag(sky_mag, glass) - loss_mag
    glare_dex = np.where(light.is_lit_by_stars, _glare_dex(glass.magnification), 0.0)
    contrast_dex = np.fmax(mean_dex.max(axis=-1), 0.4 * (limit - light.star_magnitude)) - glare_dex
    added_dex = _disc_dex(light, glass.magnification) + _told_dex(light, sky_mag, glass) - glare_dex
    best = _with_its_light_dex(light, mean_dex, limit) + added_dex
    most = _most_of_a_cluster_dex(light, glass.true_field_deg)
    is_bound, best = best > most, np.minimum(best, most)
    seen = np.where(best >= HARD_DEX, _extent(mean_dex, local_dex), 0.0)
    power_times = _power_times(light, seen, glass.magnification)
    best = np.where(power_times > 1.0, np.minimum(best, STARLIKE_DEX), best)
    count = np.where(np.isnan(light.star_magnitude), 0.0, stars.members_seen(light.star_magnitude, limit))
    return Margin(*np.broadcast_arrays(best, contrast_dex, seen, count, is_bound, power_times))


def word(margin_dex: ArrayLike) -> np.ndarray:
    """Return easy (0.69 dex and more), fair (0.24), hard (-0.17), out of reach; unknown for NaN.

    The steps are fitted to what observers tell of whole evenings (no published source).
    """
    return ranked(margin_dex, EASY_DEX, FAIR_DEX, HARD_DEX)


def word_of(margin_dex: float) -> Word:
    """Return `word` of one margin."""
    return rank_of(margin_dex, EASY_DEX, FAIR_DEX, HARD_DEX)


def next_word_dex(margin_dex: ArrayLike) -> np.ndarray:
    """Return the margin from which on the next better word holds; that of easy where it is easy already."""
    dex = np.asarray(margin_dex, float)
    return np.where(dex >= FAIR_DEX, EASY_DEX, np.where(dex >= HARD_DEX, FAIR_DEX, HARD_DEX))


def _with_its_light_dex(light: Light, mean_dex: np.ndarray, limit_mag: np.ndarray) -> np.ndarray:
    """The margin by contrast and light, each with its share, of the glow at its best or of the stars."""
    with np.errstate(divide="ignore"):
        middle_dex = np.log10(light.enclosed[..., _MIDDLE_PLACE])
    of_cluster = CLUSTER_LIGHT_MAG - light.magnitude
    of_glow = 0.4 * (limit_mag - light.magnitude)[..., None] + middle_dex
    of_glow = np.where(light.is_mere_stars[..., None], of_cluster[..., None], of_glow)
    of_glow = np.where(light.is_dark[..., None], mean_dex + DARK_LIGHT_DEX, of_glow)
    glow_dex = _mixed_dex(_telling_contrast_dex(light, mean_dex), of_glow).max(axis=-1)
    stars_dex = _mixed_dex(0.4 * (limit_mag - light.star_magnitude), of_cluster)
    halfway = (np.maximum(glow_dex, stars_dex - STARS_AHEAD_DEX) + stars_dex) / 2.0
    return np.fmax(glow_dex, np.where(light.is_mere_stars, stars_dex, halfway))


def _telling_contrast_dex(light: Light, mean_dex: np.ndarray) -> np.ndarray:
    """What of a contrast tells a glow from what is around it."""
    uneven_dex = np.where(light.is_mere_stars, UNEVEN_DEX, 0.0)[..., None]
    return np.minimum(mean_dex - uneven_dex, np.where(light.is_disc, DISC_MOST_DEX, np.inf)[..., None])


def _mixed_dex(contrast_dex: np.ndarray, light_dex: np.ndarray) -> np.ndarray:
    mixed_dex = (1.0 - LIGHT_SHARE) * contrast_dex + LIGHT_SHARE * light_dex
    return np.where(np.isnan(light_dex), contrast_dex, mixed_dex)


def _told_dex(light: Light, sky_mag: ArrayLike, glass: Glass) -> np.ndarray:
    """What observers tell beyond contrast and light, of the object and of its kind."""
    return light.told_dex + told_of_scene_dex(light.told_of_kind, glass.aperture_mm, sky_mag, glass.eyes)


def _disc_dex(light: Light, magnification: ArrayLike) -> np.ndarray:
    """What the size in the eyepiece adds to the margin of a planetary nebula, less than nothing if small."""
    apparent_arcmin = 2.0 * light.semi_major_arcmin * np.asarray(magnification, float)
    size = np.minimum(np.log10(apparent_arcmin / DISC_UNIT_ARCMIN), DISC_PLENTY)
    return np.where(light.is_disc, DISC_SHARE * size, 0.0)


def _most_of_a_cluster_dex(light: Light, true_field_deg: ArrayLike) -> np.ndarray:
    """The most that there is in a cluster wider than the field, however bright; no bound for all else."""
    over = np.log10(light.semi_major_arcmin / (OVERFLOW * 30.0 * np.asarray(true_field_deg, float)))
    most = np.maximum(EASY_DEX - OVERFLOW_DEX * over, HARD_DEX)
    return np.where(light.is_mere_stars & (over > 0.0), most, np.inf)


def _glare_dex(magnification: ArrayLike) -> np.ndarray:
    """What the glare of the star within it takes from a reflection nebula, as if the nebula were fainter."""
    halvings = np.log2(GLARE_TO_POWER / np.asarray(magnification, float))
    return GLARE_DEX * np.clip(halvings, 0.0, 1.0)


def _power_times(light: Light, seen: np.ndarray, magnification: ArrayLike) -> np.ndarray:
    """How many times this power shows a glow as more than a star (`Margin.power_times`)."""
    apparent_arcmin = 2.0 * light.semi_major_arcmin * seen * np.asarray(magnification, float)
    is_one_glow = np.isnan(light.star_magnitude) & (apparent_arcmin > 0.0)
    times = points.GLOW_DISC_ARCMIN / np.where(is_one_glow, apparent_arcmin, np.inf)
    return np.maximum(times, 1.0)


def _curves_dex(
    light: Light, clear_sky_mag: np.ndarray, sky_cd_m2: np.ndarray, glass: Glass
) -> tuple[np.ndarray, np.ndarray]:
    """Margins over RADII (last axis): of the mean light within each radius, and of the local light at it.

    clear_sky_mag is the sky's mag/arcsec2 less the object's losses, so that contrasts come out as seen;
    sky_cd_m2 is the luminance of the sky behind the filter.
    """
    semi, ratio = light.semi_major_arcmin[..., None], light.axis_ratio[..., None]
    mean_mag = photometry.mean_surface_brightness_mag(light.magnitude[..., None], 2 * semi, 2 * semi * ratio)
    contrast_if_even = 10.0 ** (-0.4 * (mean_mag - clear_sky_mag[..., None]))
    field = _last(glass.true_field_deg) * 30.0 / semi
    # An object longer than the field still has sky at both sides, where the field's edge crosses its width.
    across = field / ratio
    surround = _density_at(light.density, np.minimum(across, JUST_OUTSIDE * RADII))
    brighter = 1.0 + contrast_if_even * surround
    background = (sky_cd_m2 * eye_background_share(glass))[..., None] * brighter
    in_field = RADII * np.minimum(RADII, field)
    area_sr = np.pi * ratio * (_last(glass.magnification) * semi) ** 2 * in_field * contrast.SR_PER_ARCMIN2
    # Below the darkest background that counts, a target must stand out against the eye's own noise instead.
    own_noise = np.maximum(background, contrast.DARKEST_CD_M2) / background
    threshold = contrast.contrast_threshold(background, area_sr, _last(light_factor(glass)))
    needed = threshold * own_noise * brighter
    fits = (across >= RADII) & (RADII <= 1.0)
    swept = SWEPT * (light.density - _density_at(light.density, RADII + across / 2.0)) * (RADII <= 1.0)
    mean = np.maximum(np.where(fits, light.enclosed / RADII**2 - surround, 0.0), swept)
    local = np.where(fits, light.density - surround, 0.0)
    return _dex(contrast_if_even * mean, needed), _dex(contrast_if_even * local, needed)


def _extent(mean_dex: np.ndarray, local_dex: np.ndarray) -> np.ndarray:
    """The outermost radius whose own light shows, or the radius of the patch that shows best if larger."""
    patch = RADII[np.nan_to_num(mean_dex, nan=FLOOR_DEX).argmax(axis=-1)]
    patch = np.where(mean_dex.max(axis=-1) >= SHOWS_DEX, patch, 0.0)
    return np.maximum(patch, np.where(local_dex >= SHOWS_DEX, RADII, 0.0).max(axis=-1))


def _dex(seen: np.ndarray, needed: np.ndarray) -> np.ndarray:
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.maximum(np.log10(np.maximum(seen, 0.0) / needed), FLOOR_DEX)


def _density_at(density: np.ndarray, radius: np.ndarray) -> np.ndarray:
    """The profile's density at the next radius of the grid outside given ones (last axis); none beyond."""
    place = np.searchsorted(RADII, radius)
    shape = np.broadcast_shapes(density.shape[:-1], place.shape[:-1])
    curves = np.broadcast_to(density, (*shape, RADII.size))
    index = np.broadcast_to(np.minimum(place, RADII.size - 1), (*shape, place.shape[-1]))
    return np.where(place < RADII.size, np.take_along_axis(curves, index, axis=-1), 0.0)


def _last(values: ArrayLike) -> np.ndarray:
    return np.asarray(values, float)[..., None]
