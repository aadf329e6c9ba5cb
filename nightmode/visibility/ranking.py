"""From numbers to the words of a verdict, for arrays of them."""

import math
from collections.abc import Sequence
from enum import StrEnum
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from nightmode.words import Word

_KNOWN = (Word.EASY, Word.FAIR, Word.HARD, Word.OUT)


def ranked(values: ArrayLike, easy: float, fair: float, hard: float) -> NDArray[Any]:
    """Return a Word for each value: easy from `easy` up, and so on; unknown for NaN."""
    known = np.asarray(values, float)
    rank = (known < easy).astype(int) + (known < fair) + (known < hard)
    return choose(tuple(Word), np.where(np.isnan(known), Word.UNKNOWN.rank, rank))


def rank_of(value: float, easy: float, fair: float, hard: float) -> Word:
    """Return the Word of one value, without the cost of an array."""
    if value != value:  # NaN
        return Word.UNKNOWN
    return _KNOWN[(value < easy) + (value < fair) + (value < hard)]


def rounded_down_dex(margin_dex: float) -> float:
    """Return a margin to the hundredth, rounded down: 0.238 is no 0.24, which would be fair."""
    return math.floor(margin_dex * 100.0 + 1e-6) / 100.0


def choose(members: Sequence[StrEnum], index: ArrayLike) -> NDArray[Any]:
    """Return the members at the places that an index array says, in its shape, as an array of objects."""
    return np.asarray(np.array(members, dtype=object)[np.asarray(index)], dtype=object)
