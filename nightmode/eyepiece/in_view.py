"""How well things show through whichever combination would be suggested, many at once: arrays in and out."""

from collections.abc import Sequence

import numpy as np

from nightmode.arrays import Array
from nightmode.eyepiece.suggestion import EQUAL_DEX
from nightmode.visibility.verdict import Margin


def margin_in_view(through: Sequence[Margin]) -> Array:
    """Return the margin of objects, (N,), through one of several combinations: NaN where it is not known.

    It is the best of those with nearly the best contrast, for of these none is suggested that costs a word.
    """
    contrast_dex = np.stack([seen.contrast_dex for seen in through])
    margin_dex = np.stack([seen.margin_dex for seen in through])
    nearly_best = contrast_dex >= np.fmax.reduce(contrast_dex) - EQUAL_DEX
    return np.fmax.reduce(np.where(nearly_best, margin_dex, np.nan))
