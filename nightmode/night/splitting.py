"""How well doubles show: the one rule of verdicts, surveys and coming nights. Numbers in, numbers out."""

import numpy as np
from numpy.typing import ArrayLike

from nightmode import optics
from nightmode.arrays import Array, Flags
from nightmode.records import Record
from nightmode.visibility import points
from nightmode.visibility.verdict import word
from nightmode.words import Word


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
        return np.asarray(_rank(word(self.star_dex)) > _rank(points.split_word(self.split_dex)))

    @property
    def margin_dex(self) -> Array:
        """The margin that decides."""
        return np.where(self.is_faint, self.star_dex, self.split_dex)

    @property
    def word(self) -> np.ndarray:
        """The verdict word: the harder of the two."""
        return np.where(self.is_faint, word(self.star_dex), points.split_word(self.split_dex))


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


def _by_power_dex(apparent_arcsec: Array, steps_arcsec: Array) -> Array:
    """Return the margins that apparent separations give, so that the words change at these steps."""
    words_dex = np.array([points.HARD_SPLIT_DEX, points.FAIR_SPLIT_DEX, points.EASY_SPLIT_DEX])
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
    dex = points.split_margin_dex(separation_arcsec, unequal, **air)
    beyond_dex = np.log10(np.asarray(separation_arcsec, float) / optics.dawes_limit_arcsec(aperture_mm))
    return np.where(beyond_dex < 0.0, np.minimum(dex, points.HARD_SPLIT_DEX + beyond_dex), dex)


def _rank(words: np.ndarray) -> np.ndarray:
    """Return 0 for easy and so on, -1 for unknown: what is not known is no obstacle."""
    return np.vectorize(lambda told: -1 if told is Word.UNKNOWN else told.rank, otypes=[int])(words)
