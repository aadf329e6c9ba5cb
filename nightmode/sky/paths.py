"""Where each target of a night is at each minute, worked out when it is looked up."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy as np

from nightmode.arrays import Array, Indices
from nightmode.model.target import Body, Comet, Fixed, MinorPlanet, Subject
from nightmode.sky.place import BodyPath
from nightmode.sky.refraction import refracted_deg
from nightmode.sky.track import directions, tracks_at
from nightmode.sky.vantage import Vantage
from nightmode.sky.vectors import altitude_of, azimuth_of

#: Cells worked out at once: this keeps the temporary arrays of a long list near 10 MB.
_CELLS = 1 << 17


class Table:
    """A table (N, T) that is indexed like an array, but stores nothing: cells are worked out when asked for.

    The plan of a whole catalogue has twenty million cells, of which only a few are needed.
    """

    def __init__(self, cells: Callable[[Indices, Indices], Array], shape: tuple[int, int]) -> None:
        """Make it from a function of rows and columns, which broadcast."""
        self._cells, self.shape = cells, shape
        self._rows, self._columns = np.arange(shape[0]), np.arange(shape[1])

    def __getitem__(self, key: Any) -> Array:
        """Return cells as an array does: by integers, slices, masks or arrays of indices."""
        wanted = key if isinstance(key, tuple) else (key, slice(None))
        rows, columns = self._rows[wanted[0]], self._columns[wanted[1]]
        if any(isinstance(part, slice) for part in wanted) and rows.ndim and columns.ndim:
            rows = rows[:, None]
        return self._cells(rows, columns)

    def only(self, rows: Sequence[int]) -> "Table":
        """Return the table of some of the rows, in their order."""
        kept = np.asarray(rows, dtype=np.intp)
        return Table(lambda wanted, columns: self._cells(kept[wanted], columns), (kept.size, self.shape[1]))

    def __array__(self, dtype: Any = None, copy: bool | None = None) -> Array:
        """Return the whole table."""
        return np.asarray(self[:], dtype)


class Paths:
    """N targets at T instants of a vantage.

    altitude_deg and azimuth_deg are tables (N, T), apparent (refracted), azimuth from north (0) through east
    (90). vectors (N, 3) are the directions of what is fixed, as in `tracks`, NaN for what moves. `bodies`
    holds the place of each Solar System body among the targets, by its name.
    """

    def __init__(self, vantage: Vantage, subjects: Sequence[Subject]) -> None:
        """Place the targets. NightmodeError for the Sun."""
        self.vantage = vantage
        fixed = {
            row: subject
            for row, subject in enumerate(subjects)
            if not _moves(subject) and isinstance(subject, Fixed)
        }
        moving = [row for row in range(len(subjects)) if row not in fixed]
        self.vectors = np.full((len(subjects), 3), np.nan)
        if fixed:
            middle_s = float(np.mean(vantage.time_s))
            self.vectors[list(fixed)] = directions(list(fixed.values()), middle_s)
        self._moving = tracks_at(vantage, [subjects[row] for row in moving])
        self.bodies: Mapping[str, BodyPath] = self._moving.bodies
        self._moving_row = np.full(len(subjects), -1)
        self._moving_row[moving] = np.arange(len(moving))
        shape = len(subjects), vantage.time_s.size
        self.altitude_deg = Table(self._altitude_deg, shape)
        self.azimuth_deg = Table(self._azimuth_deg, shape)

    def altitude_at(self, rows: Indices, time_s: Array) -> Array:
        """Return the altitudes of rows at instants (K,), interpolated between columns."""
        columns_s = self.vantage.time_s
        column = np.clip(np.searchsorted(columns_s, time_s, side="right") - 1, 0, columns_s.size - 2)
        before, after = self.altitude_deg[rows, column], self.altitude_deg[rows, column + 1]
        share = np.clip((time_s - columns_s[column]) / (columns_s[column + 1] - columns_s[column]), 0.0, 1.0)
        return before + share * (after - before)

    def _altitude_deg(self, rows: Indices, columns: Indices) -> Array:
        return self._angle(_apparent_deg, self._moving.altitude_deg, rows, columns)

    def _azimuth_deg(self, rows: Indices, columns: Indices) -> Array:
        return self._angle(azimuth_of, self._moving.azimuth_deg, rows, columns)

    def _angle(self, angle: Callable[..., Array], moving: Array, rows: Indices, columns: Indices) -> Array:
        """Return an angle of cells: from the table `moving` of what moves, else by `angle` of directions."""
        among_moving = self._moving_row[rows]
        if (among_moving >= 0).all():
            among_moving, columns = np.broadcast_arrays(among_moving, columns)
            return moving[among_moving, columns]
        if rows.ndim == 2 and columns.ndim == 1:
            found = self._of_each(angle, rows[:, 0], columns)
        else:
            found = self._of_pairs(angle, rows, columns)
        if (among_moving >= 0).any():
            among_moving, columns = np.broadcast_arrays(among_moving, columns)
            found = np.where(among_moving >= 0, moving[among_moving, columns], found)
        return found

    def _of_each(self, angle: Callable[..., Array], rows: Indices, columns: Indices) -> Array:
        """Return an angle (R, C) for each of rows (R,) at each of columns (C,)."""
        rotation, drift = self.vantage.rotation[:, :, columns], self.vantage.drift[:, columns]
        found = np.empty((rows.size, columns.size))
        step = max(1, _CELLS // max(1, columns.size))
        for start in range(0, rows.size, step):
            vectors = self.vectors[rows[start : start + step]]
            found[start : start + step] = angle(
                *(vectors @ rotation[axis] + drift[axis] for axis in range(3))
            )
        return found

    def _of_pairs(self, angle: Callable[..., Array], rows: Indices, columns: Indices) -> Array:
        """Return an angle for pairs of row and column, which broadcast."""
        rows, columns = np.broadcast_arrays(rows, columns)
        shape, rows, columns = rows.shape, rows.ravel(), columns.ravel()
        found = np.empty(rows.size)
        for start in range(0, rows.size, _CELLS):
            at = columns[start : start + _CELLS]
            x, y, z = self.vectors[rows[start : start + _CELLS]].T
            rotation, drift = self.vantage.rotation[:, :, at], self.vantage.drift[:, at]
            seen = rotation[:, 0] * x + rotation[:, 1] * y + rotation[:, 2] * z + drift
            found[start : start + _CELLS] = angle(*seen)
        return found.reshape(shape)


def _apparent_deg(north: Array, east: Array, up: Array) -> Array:
    return refracted_deg(altitude_of(north, east, up))


def _moves(subject: Subject) -> bool:
    return isinstance(subject, Body | Comet | MinorPlanet)
