"""Where tracks cross a level. Numbers in, numbers out."""

from itertools import pairwise

import numpy as np

from nightmode.records import Record


class Crossings(Record, eq=False):
    """K crossings in order of row, then time: row, Unix seconds, and whether the track rises there."""

    row: np.ndarray
    time_s: np.ndarray
    rising: np.ndarray


def crossings(time_s: np.ndarray, above: np.ndarray) -> Crossings:
    """Return where the rows of `above` (N, T), or a single row (T,), change sign.

    `above` is altitude minus floor, or anything else that is positive where it counts. Zero and NaN count
    as not above. Between two columns the instant is interpolated linearly: on minute columns the error for
    a star at 0.25 degree a minute is below 0.05 s.
    """
    values = np.atleast_2d(above)
    positive = values > 0
    row, column = np.nonzero(positive[:, 1:] != positive[:, :-1])
    instant_s = _passed_s(time_s, column, values[row, column], values[row, column + 1])
    return Crossings(row, instant_s, positive[row, column + 1])


def _passed_s(time_s: np.ndarray, column: np.ndarray, before: np.ndarray, after: np.ndarray) -> np.ndarray:
    """Return the instants at which a straight line between two columns passes zero."""
    with np.errstate(invalid="ignore", divide="ignore"):
        share = before / (before - after)
    share = np.where(np.isfinite(share), np.minimum(np.maximum(share, 0.0), 1.0), 0.0)
    start_s = time_s[column]
    return start_s + share * (time_s[column + 1] - start_s)


def intervals(time_s: np.ndarray, above: np.ndarray) -> list[list[tuple[float, float]]]:
    """Return, for each row of `above` (N, T), the stretches of time in which it is positive.

    A stretch that is under way at the first or last column begins or ends there.
    """
    values = np.atleast_2d(above)
    return _stretches(time_s, crossings(time_s, values), values[:, 0] > 0, values[:, -1] > 0)


def intervals_of_cells(
    time_s: np.ndarray, row: np.ndarray, column: np.ndarray, above: np.ndarray
) -> list[list[tuple[float, float]]]:
    """Return what `intervals` does, from a table of which only some cells are known.

    row, column and above, (P,) each, are the places of these cells and their values, sorted by row, then by
    column. There must be the first and the last cell of each row, and the two cells beside each change of
    sign.
    """
    positive = above > 0
    beside = (row[1:] == row[:-1]) & (column[1:] == column[:-1] + 1)
    place = np.flatnonzero(beside & (positive[1:] != positive[:-1]))
    instant_s = _passed_s(time_s, column[place], above[place], above[place + 1])
    found = Crossings(row[place], instant_s, positive[place + 1])
    return _stretches(time_s, found, positive[column == 0], positive[column == time_s.size - 1])


def _stretches(
    time_s: np.ndarray, found: Crossings, at_first: np.ndarray, at_last: np.ndarray
) -> list[list[tuple[float, float]]]:
    """Return the stretches of each row between its crossings, and whether it is above at either end."""
    under_way, go_on = np.flatnonzero(at_first), np.flatnonzero(at_last)
    row = np.concatenate([under_way, found.row, go_on])
    edge_s = np.concatenate(
        [np.full(under_way.size, time_s[0]), found.time_s, np.full(go_on.size, time_s[-1])]
    )
    in_order = np.argsort(row, kind="stable")  # stretches under way at the begin come first in their row
    starts_s, ends_s = edge_s[in_order].reshape(-1, 2).T.tolist()
    pairs = list(zip(starts_s, ends_s, strict=True))
    bounds = np.searchsorted(row[in_order][::2], np.arange(len(at_first) + 1)).tolist()
    return [pairs[begin:end] for begin, end in pairwise(bounds)]
