"""The minutes at which each target can be observed, and at which of them it is highest."""

from collections.abc import Sequence

import numpy as np

from nightmode.arrays import Array, Flags, Indices
from nightmode.night.table import SkyTable
from nightmode.sky.dark import NAUTICAL_DEG
from nightmode.walk.order import Chance

#: Minutes between the columns tried first: in so short a time a track has at most one highest point.
_COARSE_MIN = 16


def spans_in_hours(night: SkyTable, chance: Chance) -> list[tuple[float, float]]:
    """Return the stretches of time in which a target is usable within the observer's hours, if any."""
    first, last = night.hours_s or (-np.inf, np.inf)
    spans = [(max(stretch.start_s, first), min(stretch.end_s, last)) for stretch in chance.usable]
    return [(start, end) for start, end in spans if start < end]


def spans_to_look(night: SkyTable, chance: Chance) -> list[tuple[float, float]]:
    """Return `spans_in_hours`; for a target usable outside the hours alone all in which it is usable."""
    return spans_in_hours(night, chance) or [(stretch.start_s, stretch.end_s) for stretch in chance.usable]


class Hours:
    """The usable minutes of N targets as runs of columns; for targets without any, the dark hours."""

    def __init__(self, night: SkyTable, chances: Sequence[Chance]) -> None:
        """Find the columns within a minute of a usable stretch."""
        self._night = night
        twilight = night.twilights
        otherwise = [twilight.dark_s or (twilight.darkest_s, twilight.darkest_s + 60.0)]
        spans = [spans_to_look(night, chance) or otherwise for chance in chances]
        most = max(map(len, spans), default=0)
        nowhere = (np.inf, -np.inf)
        padded = np.array([[*row, *[nowhere] * (most - len(row))] for row in spans], dtype=float)
        start_s, end_s = padded.reshape(len(spans), most, 2).transpose(2, 0, 1)
        # Runs of columns, both ends included; (N, R).
        self._first = np.searchsorted(night.time_s, start_s - 60.0, side="left")
        self._last = np.searchsorted(night.time_s, end_s + 60.0, side="right") - 1

    def hold(self, rows: Indices, columns: Indices) -> Flags:
        """Return for each row whether its columns are usable minutes, (R, C).

        rows is (R,). columns is (C,) if the same are asked for every row, or (R, C) if each row has its own.
        """
        first, last = self._first[rows, :, None], self._last[rows, :, None]
        here = columns[..., None, :]
        inside: Flags = (first <= here) & (here <= last)
        return np.asarray(inside.any(axis=1))

    def highest(self, wants_dark: Flags) -> Indices:
        """Return the columns (N,) at which targets stand highest.

        Where wants_dark (N,) is true, minutes with the Sun above -12 degrees count only if there are no
        others.
        """
        rows, dark = np.arange(len(wants_dark)), self._night.sun_altitude_deg < NAUTICAL_DEG
        before = np.concatenate([[0], np.cumsum(dark)])  # dark columns before each
        has_dark = (before[np.maximum(self._last + 1, self._first)] > before[self._first]).any(axis=1)
        only_dark = wants_dark & has_dark
        last = self._night.time_s.size - 1
        turns = np.flatnonzero(dark[1:] != dark[:-1])
        grid = np.sort(np.concatenate([np.arange(0, last + 1, _COARSE_MIN), turns, turns + 1]))
        ends = np.clip(np.concatenate([self._first, self._last], axis=1), 0, last)
        looked = np.concatenate([np.broadcast_to(grid, (rows.size, grid.size)), ends], axis=1)
        height = np.concatenate(
            [self._night.altitude_deg[rows[:, None], grid], self._night.altitude_deg[rows[:, None], ends]],
            axis=1,
        )
        coarse = looked[rows, self._judged(rows, looked, height, dark, only_dark).argmax(axis=1)]
        near = np.clip(coarse[:, None] + np.arange(-_COARSE_MIN, _COARSE_MIN + 1), 0, last)
        height = self._night.altitude_deg[rows[:, None], near]
        return near[rows, self._judged(rows, near, height, dark, only_dark).argmax(axis=1)]

    def _judged(
        self, rows: Indices, columns: Indices, height_deg: Array, dark: Flags, only_dark: Flags
    ) -> Array:
        """Return heights, with a value far below the horizon where a column does not count for a row."""
        counts = self.hold(rows, columns) & (dark[columns] | ~only_dark[:, None])
        return np.where(counts, height_deg, -99.0)
