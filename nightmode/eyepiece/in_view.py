"""How well things show through whichever combination would be suggested, many at once: arrays in and out."""

from collections.abc import Sequence

import numpy as np

from nightmode.arrays import Array
from nightmode.visibility.verdict import Margin


def margin_in_view(through: Sequence[Margin]) -> Array:
    """Return the margin of objects, (N,), through one of several combinations: NaN where it is not known.

    It is the best of all, for none is suggested that costs a word.
    """
    return np.asarray(np.fmax.reduce([seen.margin_dex for seen in through]))
