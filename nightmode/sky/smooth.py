"""Interpolates smooth functions of time from a few instants to many. Numbers in, numbers out."""

from functools import cache, cached_property

import numpy as np


class Nodes:
    """The few instants from which values at many instants are interpolated.

    The time from the first to the last of the many is divided into equal pieces of at most `longest`, each
    with `count` Chebyshev nodes; a polynomial through the values at the nodes gives the others of the piece.
    (Chebyshev nodes: Press et al., Numerical Recipes, 3rd ed., section 5.8.)
    """

    def __init__(self, many: np.ndarray, longest: float, count: int) -> None:
        """Place the nodes for instants `many` (T,), in any order, unit as `longest`."""
        self._many, self._count = many, count
        self._first, length = many.min(), np.ptp(many)
        self._pieces = max(1, int(np.ceil(length / longest - 1e-9)))
        self._piece = length / self._pieces or 1.0
        starts = self._first + self._piece * np.arange(self._pieces)
        self.few: np.ndarray = (starts[:, None] + self._piece * (1.0 + node_places(count)) / 2.0).ravel()

    @property
    def spares(self) -> bool:
        """Whether there are fewer nodes than instants."""
        return self.few.size < self._many.size

    def spread(self, values: np.ndarray) -> np.ndarray:
        """Return (..., T) at the many instants from values (..., K) at the few."""
        found = np.empty((*values.shape[:-1], self._many.size))
        for number, (here, polynomials) in enumerate(self._polynomials):
            few = values[..., number * self._count : (number + 1) * self._count]
            found[..., here] = coefficients(few) @ polynomials
        return found

    @cached_property
    def _polynomials(self) -> list[tuple[np.ndarray, np.ndarray]]:
        """For each piece: which of the many are in it, and the polynomials there (count, instants)."""
        along = (self._many - self._first) / self._piece
        piece = np.minimum(along.astype(int), self._pieces - 1)
        within = np.clip(2.0 * (along - piece) - 1.0, -1.0, 1.0)
        places = [np.flatnonzero(piece == number) for number in range(self._pieces)]
        return [(here, chebyshev(within[here], self._count)) for here in places]


def node_places(count: int) -> np.ndarray:
    """Return where the nodes lie within a piece that runs from -1 to 1, (count,)."""
    return np.cos(np.pi * (np.arange(count) + 0.5) / count)


def coefficients(values: np.ndarray) -> np.ndarray:
    """Return the coefficients (..., count) of the polynomials through values (..., count) at the nodes."""
    found: np.ndarray = values @ _from_nodes(values.shape[-1])
    return found


@cache
def _from_nodes(count: int) -> np.ndarray:
    """Return the matrix (count, count) that makes coefficients from values at the nodes."""
    found: np.ndarray = 2.0 / count * chebyshev(node_places(count), count).T
    found[:, 0] /= 2.0
    return found


def chebyshev(x: np.ndarray, count: int) -> np.ndarray:
    """Return the first polynomials (count, T) at x (T,), by their recurrence (Numerical Recipes, eq. 5.8.2).

    numpy.polynomial has the same, but takes longer to load than this takes to compute.
    """
    found = np.ones((count, x.size))
    found[1:] = x
    for degree in range(2, count):
        found[degree] = 2.0 * x * found[degree - 1] - found[degree - 2]
    return found
