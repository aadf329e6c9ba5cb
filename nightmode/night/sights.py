"""Targets of a night at their best moments, to be judged through one eyepiece after another."""

from collections.abc import Sequence

import numpy as np

from nightmode.eyepiece import Combination, Judge, Sight
from nightmode.model.kit import Filter
from nightmode.model.target import Subject
from nightmode.night.contrast import best_columns, circumstances, lights_of, seen_through
from nightmode.night.table import Array, Night
from nightmode.visibility.filters import filter_loss_mag
from nightmode.visibility.profile import Light
from nightmode.visibility.verdict import Margin, margin
from nightmode.walk.order import Chance


class Stage:
    """Light, sky and air of N subjects worked out once, and their sight through C choices."""

    def __init__(
        self,
        night: Night,
        subjects: Sequence[Subject],
        chances: Sequence[Chance],
        choices: Sequence[Combination],
    ) -> None:
        """Judge every subject through every choice without a filter, all at once."""
        rows = np.arange(len(subjects))
        where = circumstances(night, rows, best_columns(night, subjects, chances), night.zenith_mag)
        self._night, self._subjects, self._light = night, subjects, lights_of(subjects)
        self._sky_mag, self._loss_mag = where.sky_mag(), where.loss_mag()
        every = slice(None)
        self._bare = {one: self._seen(every, one) for one in choices}

    def judge(self, row: int) -> Judge:
        """Return what judges a combination, with a filter or None, on one subject."""

        def sight(combination: Combination, filter_: Filter | None) -> Sight:
            found = self._bare.get(combination) if filter_ is None else None
            if found is not None:
                return _sight(found.best_dex[row], found.seen_fraction[row])
            seen = self._seen(row, combination, filter_)
            return _sight(seen.best_dex, seen.seen_fraction)

        return sight

    def _seen(self, which: int | slice, combination: Combination, filter_: Filter | None = None) -> Margin:
        light = Light(**{name: value[which] for name, value in vars(self._light).items()})
        off_sky, off_object = 0.0, 0.0
        if filter_ is not None and isinstance(which, int):
            off_sky, off_object = filter_loss_mag(filter_.passband, self._subjects[which].kind.value)
        return margin(
            light,
            self._sky_mag[which],
            self._loss_mag[which],
            **seen_through(self._night, combination),
            sky_filter_mag=off_sky,
            object_filter_mag=off_object,
        )


def _sight(dex: Array, extent: Array) -> Sight:
    return Sight(None if np.isnan(dex) else float(dex), float(extent))
