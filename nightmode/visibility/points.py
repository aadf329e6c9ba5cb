"""What shows as points and discs: the blur of the air, planets and the Moon by altitude, single stars."""

import numpy as np
from numpy.typing import ArrayLike

from nightmode.visibility.extinction import airmass
from nightmode.visibility.ranking import ranked

#: The apparent sizes, in arcmin, from which on a planet looks like a disc, and a glow like more than a star:
#: the eye in the dark sees detail three to four times as coarse as in the light of a planet (common practice,
#: no published source).
DISC_ARCMIN, GLOW_DISC_ARCMIN = 4.0, 15.0
#: From this apparent size on nobody takes a glow for a star (common practice, no published source).
PLAIN_GLOW_ARCMIN = 25.0
#: What the blur shrinks to in the still moments that a patient eye waits for (common practice, no published
#: source): a pair closer than the average blur is no lost pair.
STILL_SHARE = 0.6
EASY_ALTITUDE_DEG, FAIR_ALTITUDE_DEG, HARD_ALTITUDE_DEG = 30.0, 20.0, 5.0


def seeing_at_arcsec(zenith_seeing_arcsec: ArrayLike, altitude_deg: ArrayLike) -> np.ndarray:
    """Return the blur of a star at an altitude from the blur in the zenith.

    Source: Fried 1966, J. Opt. Soc. Am. 56, 1372: it grows as airmass to the power 0.6.
    """
    return np.asarray(zenith_seeing_arcsec, float) * airmass(altitude_deg) ** 0.6


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
