"""What arrays hold, by name: figures, places in other arrays, yes or no; and a stretch of time."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
#: Places in another array, as `flatnonzero` and `argmax` give them.
Indices = NDArray[np.intp]
Flags = NDArray[np.bool_]
#: Begin and end of a stretch of time, in Unix seconds.
Interval = tuple[float, float]


def distinct(values: NDArray[Any]) -> list[Any]:
    """Return the values that occur, each once, the smallest first.

    As np.unique does, which loads masked arrays to do it: half as much again as all that is used of numpy.
    """
    return sorted(set(values.tolist()))
