"""Verdicts where the sky's brightness does not matter: double stars, planets, the Moon.

Limited by aperture, by the steadiness of the air and by altitude. The words are those of `verdict`.
"""

import numpy as np
from numpy.typing import ArrayLike

from nightmode.visibility.extinction import airmass
from nightmode.visibility.ranking import choose, ranked
from nightmode.words import Cause

#: The apparent sizes, in arcmin, from which on a planet looks like a disc, and a glow like more than a star:
#: the eye in the dark sees detail three to four times as coarse as in the light of a planet (common practice,
#: no published source).
DISC_ARCMIN, GLOW_DISC_ARCMIN = 4.0, 15.0
#: From this apparent size on nobody takes a glow for a star (common practice, no published source).
PLAIN_GLOW_ARCMIN = 25.0
#: What the blur shrinks to in the still moments that a patient eye waits for (common practice, no published
#: source): a pair closer than the average blur is no lost pair.
STILL_SHARE = 0.6
#: From how much of what aperture and air together allow a pair is easy, fair and hard: 1.8, 0.85 and 0.52
#: times. Fitted to what observers tell of whole evenings; no published source.
EASY_SPLIT_DEX, FAIR_SPLIT_DEX, HARD_SPLIT_DEX = 0.25, -0.07, -0.28
EASY_ALTITUDE_DEG, FAIR_ALTITUDE_DEG, HARD_ALTITUDE_DEG = 30.0, 20.0, 5.0


def seeing_at_arcsec(zenith_seeing_arcsec: ArrayLike, altitude_deg: ArrayLike) -> np.ndarray:
    """Return the blur of a star at an altitude from the blur in the zenith.

    Source: Fried 1966, J. Opt. Soc. Am. 56, 1372: it grows as airmass to the power 0.6.
    """
    return np.asarray(zenith_seeing_arcsec, float) * airmass(altitude_deg) ** 0.6


def split_margin_dex(
    separation_arcsec: ArrayLike | None,
    limit_arcsec: ArrayLike,
    *,
    seeing_arcsec: ArrayLike = 2.0,
    altitude_deg: ArrayLike = 90.0,
) -> np.ndarray:
    """Return log10 of a double's separation over what aperture and air together allow.

    limit_arcsec is the aperture's for the pair (`optics.unequal_limit_arcsec`), seeing_arcsec the blur in
    the zenith, of which STILL_SHARE counts. The two add as blurs do, by their squares. NaN where no
    separation is published.
    """
    allowed = np.hypot(limit_arcsec, STILL_SHARE * seeing_at_arcsec(seeing_arcsec, altitude_deg))
    return np.log10(np.asarray(separation_arcsec, dtype=float) / allowed)


def split_word(margin_dex: ArrayLike) -> np.ndarray:
    """Return easy (1.8 times what is allowed or more), fair (0.85), hard (0.52), out of reach; or unknown."""
    return ranked(margin_dex, EASY_SPLIT_DEX, FAIR_SPLIT_DEX, HARD_SPLIT_DEX)


def split_cause(
    limit_arcsec: ArrayLike, *, seeing_arcsec: ArrayLike = 2.0, altitude_deg: ArrayLike = 90.0
) -> np.ndarray:
    """Return what limits a split: aperture, low altitude (the zenith would do better) or seeing."""
    still = STILL_SHARE * seeing_at_arcsec(seeing_arcsec, altitude_deg)
    low = np.asarray(altitude_deg, float) < EASY_ALTITUDE_DEG
    by_aperture = np.asarray(limit_arcsec, float) >= still
    return choose((Cause.APERTURE, Cause.LOW, Cause.SEEING), np.where(by_aperture, 0, np.where(low, 1, 2)))


def altitude_word(altitude_deg: ArrayLike) -> np.ndarray:
    """Return the word for a planet or the Moon by altitude: easy from 30, fair 20, hard 5 degrees.

    Common practice, no published source: the blur is 1.5 times the zenith's at 30 degrees, 1.9 at 20,
    2.8 at 10, 4 at 5; Mercury is seldom seen higher.
    """
    return ranked(altitude_deg, EASY_ALTITUDE_DEG, FAIR_ALTITUDE_DEG, HARD_ALTITUDE_DEG)


def star_margin_dex(magnitude: ArrayLike | None, loss_mag: ArrayLike, limit_mag: ArrayLike) -> np.ndarray:
    """Return log10 of a star's light over the faintest that shows (`eye.star_limit_mag`); NaN if unknown.

    Also for planets that are little more than a star, and for a double's fainter star.
    """
    return 0.4 * (np.asarray(limit_mag, float) - np.asarray(magnitude, dtype=float) - loss_mag)
