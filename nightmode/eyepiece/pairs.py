"""The combination that suits a double star: two crisp stars well apart, at no more power than it takes."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from nightmode import optics
from nightmode.arrays import Array, Indices
from nightmode.eyepiece import Combination, Limits
from nightmode.eyepiece.choices import without_barlow
from nightmode.eyepiece.dim import for_stars, power_for_star
from nightmode.eyepiece.why import Chosen, Why
from nightmode.model.target import Double

#: How far apart, in arcminutes apparent, two stars stand at ease, and how far apart no wide beam spoils them
#: any more (common practice, no published source).
AT_EASE_ARCMIN, FAR_APART_ARCMIN = 7.5, 20.0
#: In a wider beam the eye's own faults make spikes of bright stars (common practice, no published source).
CRISP_PUPIL_MM = 2.8
#: A companion so much fainter drowns in the glare of its star at the power that would split equal stars
#: (common practice, no published source).
GLARE_MAG, GLARE_POWER = 3.0, 2.5
#: A Barlow is taken where no plain eyepiece gives this share of the power wanted (our own).
PLAIN_SHARE = 0.8


def for_pairs(
    separation_arcsec: ArrayLike,
    difference_mag: ArrayLike,
    fainter_mag: ArrayLike,
    choices: Sequence[Combination],
    bounds: Limits,
) -> Indices:
    """Return for doubles the places among the sensible choices of the combinations that suit them.

    The lowest power that shows two stars at ease, without Barlow if there is one; the highest if none does
    or if the pair is too close for the aperture. Pairs whose separation is NaN are single stars: the fainter.
    """
    powers = [choice.power for choice in choices]
    suited = np.array([choices.index(without_barlow(choices[first:])[0]) for first in range(len(choices))])
    last = len(choices) - 1
    plain = choices.index(without_barlow(choices)[-1])
    separation = np.asarray(separation_arcsec, float)
    wanted = power_for_pair(separation, difference_mag, fainter_mag, bounds)
    enough = np.searchsorted(powers, wanted)
    places = np.array([*suited, last])[enough]
    places = np.where((places > plain) & (powers[plain] >= PLAIN_SHARE * wanted), plain, places)
    places = np.where(separation < bounds.dawes_arcsec, last, places)
    return np.where(np.isnan(separation), for_stars(fainter_mag, choices, bounds), places)


def power_for_pair(
    separation_arcsec: ArrayLike, difference_mag: ArrayLike, fainter_mag: ArrayLike, bounds: Limits
) -> Array:
    """Return the power that shows doubles at ease; more if the companion drowns in glare, or is dim.

    And as much as makes the stars crisp, unless they stand far apart. fainter_mag is the companion's, NaN
    where it is not known.
    """
    glare = np.where(np.asarray(difference_mag, float) >= GLARE_MAG, GLARE_POWER, 1.0)
    far = optics.power_to_show(separation_arcsec, FAR_APART_ARCMIN)
    crisp = np.minimum(bounds.aperture_mm / CRISP_PUPIL_MM, far)
    at_ease = optics.power_to_show(separation_arcsec, AT_EASE_ARCMIN) * glare
    return np.fmax(np.maximum(at_ease, crisp), power_for_star(fainter_mag, bounds))


def is_in_glare(separation_arcsec: float, difference_mag: float, lowest_power: float) -> bool:
    """Return whether a companion drowns in the glare of its star at the lowest power: more of it helps.

    Not where the two stand as far apart at that power as the glare asks for.
    """
    enough = float(optics.power_to_show(separation_arcsec, AT_EASE_ARCMIN * GLARE_POWER))
    return difference_mag >= GLARE_MAG and lowest_power < enough


def for_double(
    subject: Double, separation_arcsec: float, choices: Sequence[Combination], bounds: Limits
) -> Chosen:
    """Return the combination for one double, and why: for the closest pair in it that the aperture splits."""
    closest_arcsec = subject.closest_arcsec
    if closest_arcsec and closest_arcsec >= bounds.dawes_arcsec:
        return choices[int(for_pairs(closest_arcsec, 0.0, np.nan, choices, bounds))], Why.SPLITS_BOTH
    companion_mag = subject.companion_magnitude
    fainter_mag = np.nan if companion_mag is None else companion_mag
    chosen = choices[int(for_pairs(separation_arcsec, subject.difference_mag, fainter_mag, choices, bounds))]
    wanted = float(power_for_pair(separation_arcsec, subject.difference_mag, fainter_mag, bounds))
    if separation_arcsec < bounds.dawes_arcsec:
        return chosen, Why.TOO_CLOSE
    if chosen.power >= PLAIN_SHARE * wanted:
        drowns = is_in_glare(separation_arcsec, subject.difference_mag, choices[0].power)
        return chosen, Why.GLARE if drowns else Why.SPLITS
    if separation_arcsec < bounds.seeing_arcsec:
        return chosen, Why.WANTS_STILL_AIR
    return chosen, Why.HIGHEST
