"""What changes smoothly with time: worked out at a few instants, known at many. Numbers in, numbers out."""

import numpy as np


class Nodes:
    """The few instants from which the many follow.

    The time from the first to the last of the many is cut into equal pieces of at most `longest`, each with
    `count` Chebyshev nodes; a polynomial through the values there gives all others of the piece. (Chebyshev
    nodes: Press et al., Numerical Recipes, 3rd ed., section 5.8.)
    """

    def __init__(self, many: np.ndarray, longest: float, count: int) -> None:
        """Place the nodes for instants `many` (T,), in any order, unit as `longest`."""
        self._many, self._count = many, count
        self._first, length = many.min(), np.ptp(many)
        self._pieces = max(1, int(np.ceil(length / longest - 1e-9)))
        self._piece = length / self._pieces or 1.0
        cosines = np.cos(np.pi * (np.arange(count) + 0.5) / count)
        starts = self._first + self._piece * np.arange(self._pieces)
        self.few: np.ndarray = (starts[:, None] + self._piece * (1.0 + cosines) / 2.0).ravel()
        self._to_coefficients = 2.0 / count * np.cos(np.arange(count)[:, None] * np.arccos(cosines))
        self._to_coefficients[0] /= 2.0

    @property
    def spares(self) -> bool:
        """Whether the nodes are fewer than the instants they stand for."""
        return self.few.size < self._many.size

    def spread(self, values: np.ndarray) -> np.ndarray:
        """Return (..., T) at the many instants from values (..., K) at the few."""
        along = (self._many - self._first) / self._piece
        piece = np.minimum(along.astype(int), self._pieces - 1)
        angle = np.arccos(np.clip(2.0 * (along - piece) - 1.0, -1.0, 1.0))
        found = np.empty((*values.shape[:-1], self._many.size))
        for number in range(self._pieces):
            here = np.flatnonzero(piece == number)
            coefficients = (
                values[..., number * self._count : (number + 1) * self._count] @ self._to_coefficients.T
            )
            found[..., here] = coefficients @ np.cos(np.arange(self._count)[:, None] * angle[here])
        return found
