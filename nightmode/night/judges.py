"""Targets of a night at their best moments, to be judged through one eyepiece after another."""

import numpy as np

from nightmode.arrays import Array, Indices, known
from nightmode.catalog.light import lights_of
from nightmode.eyepiece import Combination
from nightmode.eyepiece.filters import Visibility, helpful
from nightmode.eyepiece.shown import Judge
from nightmode.model.kit import Filter, Instrument
from nightmode.model.target import shines_in
from nightmode.night.conditions import best_columns, conditions_at
from nightmode.night.glass import glass_with
from nightmode.night.table import SkyTable
from nightmode.records import replace
from nightmode.visibility.filters import filter_loss_mag
from nightmode.visibility.margin import margin


class Judges:
    """Judges of what combinations show of N subjects, each at its best moment.

    Light, sky and air are worked out once; a combination is judged when it is first asked for.
    """

    def __init__(self, night: SkyTable, telescope: Instrument) -> None:
        """Bring every target to its best moment."""
        subjects = [target.subject for target in night.targets]
        best = best_columns(night, subjects, night.chances)
        conditions = conditions_at(night, np.arange(len(subjects)), best, night.zenith_mag)
        self._telescope, self._person = telescope, night.person
        self._subjects, self._light = subjects, lights_of(subjects)
        self._sky_mag, self._loss_mag = conditions.sky_mag(), conditions.loss_mag()
        self._seen: dict[tuple[Combination, str], dict[int, Visibility]] = {}
        self._helped: dict[str, tuple[Indices, Array, Array]] = {}

    def judge(self, row: int) -> Judge:
        """Return what judges a combination on one subject, bare or with a filter that is helpful to it."""
        return lambda combination, filter_: self._through(combination, filter_)[row]

    def _through(self, combination: Combination, filter_: Filter | None) -> dict[int, Visibility]:
        """Return what a choice shows of each subject, by row; with a filter, of those it may help."""
        key = combination, filter_.name if filter_ else ""
        seen = self._seen.get(key)
        if seen is None:
            seen = self._seen[key] = self._all_through(combination, filter_)
        return seen

    def _all_through(self, combination: Combination, filter_: Filter | None) -> dict[int, Visibility]:
        rows, off_sky, off_object = self._taken(filter_)
        bare = glass_with(self._telescope, self._person, combination)
        through = replace(bare, sky_filter_mag=off_sky, object_filter_mag=off_object)
        found = margin(self._light.some(rows), self._sky_mag[rows], self._loss_mag[rows], through)
        figures = found.contrast_dex, found.seen_fraction, found.margin_dex
        told = zip(*(figure.tolist() for figure in figures), strict=True)
        shown = (Visibility(known(contrast), extent, known(dex)) for contrast, extent, dex in told)
        return dict(zip(rows.tolist(), shown, strict=True))

    def _taken(self, filter_: Filter | None) -> tuple[Indices, Array, Array]:
        """Return the rows that a filter may help (None: all), and the loss of sky and light, magnitudes."""
        name = filter_.name if filter_ else ""
        if name not in self._helped:
            helped = [
                row
                for row, subject in enumerate(self._subjects)
                if filter_ is None or helpful(subject, [filter_])
            ]
            taken = [
                filter_loss_mag(filter_.passband, shines_in(self._subjects[row])) if filter_ else (0.0, 0.0)
                for row in helped
            ]
            off_sky, off_object = np.array(taken, dtype=float).reshape(-1, 2).T
            self._helped[name] = np.array(helped, dtype=np.intp), off_sky, off_object
        return self._helped[name]
