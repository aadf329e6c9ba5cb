"""What arrays hold, by name: figures, places in other arrays, yes or no; and a stretch of time."""

from math import isnan
from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
#: One figure, or many that are worked out together.
Figures = float | Array
#: Places in another array, as `flatnonzero` and `argmax` give them.
Indices = NDArray[np.intp]
Flags = NDArray[np.bool_]
#: Begin and end of a stretch of time, in Unix seconds.
Interval = tuple[float, float]


def known(cell: float) -> float | None:
    """Return the figure in a cell, None for NaN: so arrays hold what is not known."""
    return None if isnan(cell) else float(cell)


def distinct(values: NDArray[Any]) -> list[Any]:
    """Return the values that occur, each once, the smallest first.

    np.unique would give the same, but it imports the masked arrays of numpy, and that takes half as long as
    importing all the rest of numpy that the program uses.
    """
    return sorted(set(values.tolist()))
