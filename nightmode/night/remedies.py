"""What would give a glow the next better word: a filter, a darker sky, more aperture, or both of these."""

import numpy as np

from nightmode.arrays import Array, Indices, known
from nightmode.eyepiece.filters import is_bright_disc, passbands
from nightmode.model.kit import Binoculars, Passband
from nightmode.model.target import shines_in
from nightmode.night.scene import Scene
from nightmode.night.table import Night
from nightmode.records import Record, replace
from nightmode.visibility import limits
from nightmode.visibility.conditions import Conditions
from nightmode.visibility.filters import HBETA, filter_loss_mag
from nightmode.visibility.margin import FAIR_DEX, margin, next_word_dex
from nightmode.visibility.photometry import nanolambert
from nightmode.visibility.sky import site_glow_nl
from nightmode.words import Cause

#: An aperture more than this many times the present one is looked for only where no sky helps (our own rule).
WORTH_NAMING = 3.0
#: Where the Moon asks for a sky darker by more than this, the sky without it is told (our own rule).
MOON_WORTH_MAG = 0.3


class Remedies(Record):
    """What would give a target the next better word; None for what would not, or was not asked for.

    filter            a kind that the telescope has not
    sky_mag           a moonless zenith so dark, mag/arcsec², with the Moon as it is
    moonless_sky_mag  the same, with the Moon down; only one of the two is told
    aperture_mm       under the sky as it is
    dark_aperture_mm  under a dark sky (`conditions.DARK_SITE_MAG`) without the Moon
    """

    filter: Passband | None = None
    sky_mag: float | None = None
    moonless_sky_mag: float | None = None
    aperture_mm: float | None = None
    dark_aperture_mm: float | None = None


def remedies(night: Night, rows: Indices, scene: Scene, causes: Array, dex: Array) -> list[Remedies]:
    """Return what would help each target that is limited by sky or aperture; nothing for the others.

    What is farther from hand is looked for only where nothing nearer helps, for each figure costs some ms.
    """
    goal, by_sky, by_aperture = next_word_dex(dex), causes == Cause.SKY, causes == Cause.APERTURE
    sky, moonless = _zeniths_needed(scene, goal, by_sky)
    no_sky = by_sky & np.isnan(sky) & np.isnan(moonless)
    here = _apertures_needed(scene, scene.conditions, goal, by_aperture | no_sky)
    is_far = by_aperture & ~(here <= WORTH_NAMING * scene.glass.aperture_mm)
    sky, moonless = np.where(is_far, _zeniths_needed(scene, goal, is_far), (sky, moonless))
    is_near = here <= WORTH_NAMING * scene.glass.aperture_mm
    neither = (no_sky | is_far) & np.isnan(sky) & np.isnan(moonless) & ~is_near
    there = _apertures_needed(scene, scene.conditions.in_the_dark().moonless(), goal, neither)
    figures = np.stack([sky, moonless, here, there], axis=-1)
    found = []
    for place, row in enumerate(rows.tolist()):
        filter_ = None
        if by_sky[place] or by_aperture[place]:
            one = scene.some(np.array([place]))
            filter_ = _filter(night, row, one, goal[place], is_last_hope=bool(neither[place]))
        found.append(Remedies(filter_, *map(known, figures[place].tolist())))
    return found


def _filter(night: Night, row: int, scene: Scene, goal_dex: float, is_last_hope: bool) -> Passband | None:
    """Return the filter for a target's light that would do, if the telescope has none of that kind.

    Hydrogen-beta, a filter for few objects, only where neither a sky nor an aperture at hand would do.
    """
    target = night.targets[row]
    if goal_dex > FAIR_DEX and is_bright_disc(target.subject):
        return None
    if isinstance(target.kit.telescope, Binoculars):
        return None
    light, owned = shines_in(target.subject), {filter_.passband for filter_ in target.kit.filters}
    for passband in passbands(light):
        if passband in owned or (passband == HBETA and not is_last_hope):
            continue
        off_sky, off_object = np.array([filter_loss_mag(passband, light)]).T
        glass = replace(scene.glass, sky_filter_mag=off_sky, object_filter_mag=off_object)
        seen = margin(scene.light, scene.conditions.sky_mag(), scene.conditions.loss_mag(), glass)
        if seen.margin_dex[0] >= goal_dex:
            return passband
    return None


def _zeniths_needed(scene: Scene, goal_dex: Array, asked: Array) -> tuple[Array, Array]:
    """Return the moonless zenith, mag/arcsec², that gives a margin: with the Moon, and without; (N,) each.

    Only the one without it where the Moon asks for a sky out of proportion, and neither where none helps.
    """
    sky, moonless = np.full((2, len(asked)), np.nan)
    if (which := np.flatnonzero(asked)).size:
        some, goal = scene.some(which), goal_dex[which]
        up = np.broadcast_to(np.asarray(some.conditions.moon_altitude_deg) > 0.0, which.shape)
        with_moon = _zenith(some, some.conditions, goal)
        without = _zenith(some, some.conditions.moonless(), goal) if up.any() else with_moon
        is_much = ~(with_moon <= without + MOON_WORTH_MAG)
        sky[which], moonless[which] = np.where(is_much, np.nan, with_moon), np.where(is_much, without, np.nan)
    return sky, moonless


def _apertures_needed(scene: Scene, conditions: Conditions, goal_dex: Array, asked: Array) -> Array:
    """Return the aperture, mm, that gives a margin under these conditions; (N,), NaN where none does."""
    found = np.full(len(asked), np.nan)
    if (which := np.flatnonzero(asked)).size:
        some = scene.some(which)
        sky_mag, loss_mag = conditions.sky_mag()[which], conditions.loss_mag()[which]
        found[which] = limits.aperture_needed_mm(some.light, sky_mag, loss_mag, some.glass, goal_dex[which])
    return found


def _zenith(scene: Scene, conditions: Conditions, goal_dex: Array) -> Array:
    """Return the zenith, mag/arcsec², under which targets have a margin; NaN if above 22."""
    needed_mag = limits.sky_needed_mag(scene.light, conditions.loss_mag(), scene.glass, goal_dex)
    site = site_glow_nl(conditions.zenith_mag, conditions.altitude_deg, conditions.mag_per_airmass)
    left = nanolambert(needed_mag) - (nanolambert(conditions.sky_mag()) - site)
    with np.errstate(invalid="ignore", divide="ignore"):
        zenith = conditions.zenith_mag - 2.5 * np.log10(np.where(left > 0.0, left, np.nan) / site)
    return np.where(zenith <= limits.DARKEST_MAG, zenith, np.nan)
