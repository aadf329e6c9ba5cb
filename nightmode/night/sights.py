"""Targets of a night at their best moments, to be judged through one eyepiece after another."""

from collections.abc import Sequence

import numpy as np

from nightmode.arrays import Array
from nightmode.catalog.light import lights_of
from nightmode.eyepiece import Combination
from nightmode.eyepiece.filters import Sight
from nightmode.eyepiece.look import Judge
from nightmode.model.kit import Filter, Instrument
from nightmode.model.target import shines_in
from nightmode.night.contrast import best_columns, circumstances
from nightmode.night.glass import glass
from nightmode.night.table import NightSky
from nightmode.visibility.filters import filter_loss_mag
from nightmode.visibility.verdict import Margin, margin


class Sights:
    """Light, sky and air of N subjects worked out once, and their sight through C choices."""

    def __init__(self, night: NightSky, telescope: Instrument, choices: Sequence[Combination]) -> None:
        """Judge every target through every choice without a filter, all at once."""
        subjects = [target.subject for target in night.targets]
        best = best_columns(night, subjects, night.chances)
        where = circumstances(night, np.arange(len(subjects)), best, night.zenith_mag)
        self._telescope, self._person = telescope, night.person
        self._subjects, self._light = subjects, lights_of(subjects)
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
        off_sky, off_object = 0.0, 0.0
        if filter_ is not None and isinstance(which, int):
            off_sky, off_object = filter_loss_mag(filter_.passband, shines_in(self._subjects[which]))
        return margin(
            self._light.some(which),
            self._sky_mag[which],
            self._loss_mag[which],
            **glass(self._telescope, self._person, combination),
            sky_filter_mag=off_sky,
            object_filter_mag=off_object,
        )


def _sight(dex: Array, extent: Array) -> Sight:
    return Sight(None if np.isnan(dex) else float(dex), float(extent))
