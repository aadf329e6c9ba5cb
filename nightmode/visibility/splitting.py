"""How well doubles show: the one rule of verdicts, surveys and coming nights."""

import numpy as np
from numpy.typing import ArrayLike

from nightmode import optics
from nightmode.arrays import Array, Flags
from nightmode.records import Record
from nightmode.visibility.margin import word
from nightmode.visibility.points import EASY_ALTITUDE_DEG, STILL_SHARE, seeing_at_arcsec
from nightmode.visibility.ranking import choose, ranked
from nightmode.words import Cause, Word

#: From how much of what aperture and air together allow a pair is easy, fair and hard: 1.8, 0.85 and 0.52
#: times. Fitted to what observers tell of whole evenings; no published source.
EASY_SPLIT_DEX, FAIR_SPLIT_DEX, HARD_SPLIT_DEX = 0.25, -0.07, -0.28


class PairMargins(Record, eq=False):
    """Margins of doubles in dex, arrays of one shape; NaN where no separation or no brightness is published.

    steady_dex  the separation over what aperture and air allow, at any power
    split_dex   the same, but no more than the power in use and a hand that holds it allow
    star_dex    the light of the fainter star over the faintest that shows
    """

    steady_dex: Array
    split_dex: Array
    star_dex: Array

    @property
    def is_faint(self) -> Flags:
        """Whether the brightness of the stars allows less than their separation, or alone is known."""
        return np.asarray(_rank(word(self.star_dex)) > _rank(split_word(self.split_dex)))

    @property
    def margin_dex(self) -> Array:
        """The margin that decides."""
        return np.where(self.is_faint, self.star_dex, self.split_dex)

    @property
    def word(self) -> np.ndarray:
        """The verdict word: the harder of the two."""
        return np.where(self.is_faint, word(self.star_dex), split_word(self.split_dex))


def pair_margins(
    aperture_mm: ArrayLike,
    separation_arcsec: ArrayLike | None,
    difference_mag: ArrayLike,
    *,
    altitude_deg: ArrayLike,
    seeing_arcsec: ArrayLike,
    power: ArrayLike,
    apparent_steps_arcsec: Array,
    star_dex: ArrayLike | None,
) -> PairMargins:
    """Return the margins of doubles in an instrument; arguments broadcast, None for what is not published.

    seeing_arcsec is the blur in the zenith, apparent_steps_arcsec (3,) the separations in the eyepiece from
    which on the eye sees two stars hardly, fairly and easily, star_dex the margin of the fainter star
    (`points.star_margin_dex`).
    """
    steady_dex = _steady_dex(
        aperture_mm, separation_arcsec, difference_mag, altitude_deg=altitude_deg, seeing_arcsec=seeing_arcsec
    )
    apparent_arcsec = np.asarray(separation_arcsec, dtype=float) * np.asarray(power, float)
    by_power_dex = _by_power_dex(apparent_arcsec, apparent_steps_arcsec)
    arrays = steady_dex, np.minimum(steady_dex, by_power_dex), np.asarray(star_dex, dtype=float)
    return PairMargins(*np.broadcast_arrays(*arrays))


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


def _by_power_dex(apparent_arcsec: Array, steps_arcsec: Array) -> Array:
    """Return the margins that apparent separations give, so that the words change at these steps."""
    words_dex = np.array([HARD_SPLIT_DEX, FAIR_SPLIT_DEX, EASY_SPLIT_DEX])
    steps_dex, dex = np.log10(steps_arcsec), np.log10(apparent_arcsec)
    between = np.interp(dex, steps_dex, words_dex)
    return between + np.minimum(dex - steps_dex[0], 0.0) + np.maximum(dex - steps_dex[-1], 0.0)


def _steady_dex(
    aperture_mm: ArrayLike,
    separation_arcsec: ArrayLike | None,
    difference_mag: ArrayLike,
    **air: ArrayLike,
) -> Array:
    """Return the margins that aperture and air allow; none closer than the Dawes limit is even hard."""
    unequal = optics.unequal_limit_arcsec(aperture_mm, difference_mag)
    dex = split_margin_dex(separation_arcsec, unequal, **air)
    beyond_dex = np.log10(np.asarray(separation_arcsec, float) / optics.dawes_limit_arcsec(aperture_mm))
    return np.where(beyond_dex < 0.0, np.minimum(dex, HARD_SPLIT_DEX + beyond_dex), dex)


def _rank(words: np.ndarray) -> np.ndarray:
    """Return 0 for easy and so on, -1 for unknown: what is not known is no obstacle."""
    return np.vectorize(lambda told: -1 if told is Word.UNKNOWN else told.rank, otypes=[int])(words)
