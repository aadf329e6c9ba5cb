"""Chooses among candidates: those with the best score, of several kinds, near each other, reached in time."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from nightmode.arrays import Array, Flags, Indices
from nightmode.night.table import Night
from nightmode.night.verdict import verdicts_on, words
from nightmode.planning.pace import schedule
from nightmode.planning.request import Wishes
from nightmode.planning.traits import Traits
from nightmode.records import Record
from nightmode.visibility.objections import NoTime, NotUp, Objection, SameView, TooHardThen
from nightmode.words import Word

#: The first part of a plan, by this share, is what nobody leaves out who looks at this sky tonight: there
#: renown counts in full, that of the showpieces above all. In the rest it has less weight, and so much is
#: subtracted from what shows as much in the next smaller telescope: that part is for what has come of age in
#: this one.
_FIRST_SHARE, _THUMB, _USUAL = 0.5, 0.8, 2.0
#: Subtracted from a candidate's worth times the share of its group in the plan, and for a jump across the
#: sky.
_ALIKE, _JUMP = 1.0, 0.5
#: The third of a kind in one corner of the sky, so many degrees wide, and each further one, adds so much
#: less; the second, too, where it is not well known.
_CORNER_DEG, _CROWDED = 3.0, 1.0
#: What is well known stands for what is in one view with it, unless its score is less by more than this.
_KNOWN_LESS = 1.0
#: Of two targets of a group in one view, one that is brighter by so many magnitudes stands for both.
_OUTSHONE_MAG = 2.0


class Pick(Record):
    """A chosen target: its row in the night, when its turn comes at the pace, and its verdict."""

    row: int
    at_s: float
    word: Word


class Worth(Record, eq=False):
    """What N targets are worth, (N,) each.

    score    what each is worth in this telescope
    renown   what is added for how well known it is
    first    what is added to that in the first part of a plan
    of_age   whether this instrument shows more of it than the next smaller one
    """

    score: Array
    renown: Array
    first: Array
    of_age: Flags


@dataclass
class Choice:
    """A choice among the night's targets.

    variety  how much it counts that a plan holds several kinds, 1 as a rule
    refused  why some were not taken, by key
    """

    night: Night
    traits: Traits
    worth: Worth
    wishes: Wishes
    variety: float = 1.0
    rows: list[int] = field(default_factory=list)
    turns: list[tuple[float, int]] = field(default_factory=list)
    refused: dict[str, Objection] = field(default_factory=dict)

    def run(self) -> list[Pick]:
        """Return the targets chosen, one after another, as long as all can be reached in time."""
        told = words(self.night)
        left = self._fit(told)
        while left and len(self.rows) < self.wishes.count:
            best = self._leader(self._best(left), left)
            left.remove(best)
            if why_not := self._take(best):
                self._refuse(best, why_not)
        for row in left:
            if twin := self._twin(row):
                self._refuse(row, twin)
        turns = [(at_s, self.rows[index]) for at_s, index in self.turns]
        return [Pick(row, at_s, told[row]) for at_s, row in turns]

    def _fit(self, told: Sequence[Word]) -> list[int]:
        """Return the targets that can be seen in time and are not too hard; the others are refused."""
        night, wishes = self.night, self.wishes
        during = (night.time_s >= wishes.start_s) & (night.time_s <= wishes.end_s)
        hard = []
        for row, target in enumerate(night.targets):
            if not any(one.start_s < wishes.end_s and one.end_s > wishes.start_s for one in target.usable):
                self._refuse(row, NotUp(float(night.altitude_deg[row, during].max())))
            elif not wishes.welcomes(told[row]):
                hard.append(row)
        for row, verdict in zip(hard, verdicts_on(night, hard), strict=True):
            self._refuse(row, TooHardThen(verdict))
        return [row for row, target in enumerate(night.targets) if target.chance.key not in self.refused]

    def _leader(self, row: int, left: Sequence[int]) -> int:
        """Return what stands for a target, else the target.

        That is a showpiece in one view with it, as M 42 for the clusters beside it, or in its group what is
        far brighter, as M 31 for M 32, or well known. For a piece of a nebula it is a better known piece.
        """
        traits, score = self.traits, self.worth.score
        near = [other for other in left if traits.apart_deg[row, other] < traits.view_deg[row]]
        alike = [other for other in near if traits.group[other] == traits.group[row]]
        famous = [other for other in near if traits.is_showpiece[other]]
        known = [other for other in alike if traits.is_known[other] and not traits.is_known[row]]
        stands_for = famous or self._pieces(row, left) or known
        worthy = [other for other in stands_for if score[other] >= score[row] - _KNOWN_LESS]
        brightest = min(alike, key=lambda other: traits.magnitude[other])
        outshines = traits.magnitude[brightest] < traits.magnitude[row] - _OUTSHONE_MAG
        return self._best(worthy) if worthy else brightest if outshines else row

    def _pieces(self, row: int, left: Sequence[int]) -> list[int]:
        """Return the better known nebulae near one; none for what is no nebula."""
        traits, renown = self.traits, self.worth.renown
        if not traits.is_nebula[row]:
            return []
        near = traits.is_nebula & (traits.apart_deg[row] < _CORNER_DEG) & (renown > renown[row])
        return [other for other in left if near[other]]

    def _refuse(self, row: int, why_not: Objection) -> None:
        self.refused[self.night.targets[row].chance.key] = why_not

    def _best(self, rows: Sequence[int]) -> int:
        """Return the one of these targets that is worth most beside those that have been chosen."""
        return rows[int(self._worth(np.array(rows)).argmax())]

    def _worth(self, rows: Indices) -> Array:
        """Return what targets are worth, (R,), beside those that have been chosen."""
        worth, traits, count = self.worth, self.traits, self.wishes.count
        if len(self.rows) < _FIRST_SHARE * count:
            alone = worth.score[rows] + worth.renown[rows] + worth.first[rows]
        else:
            alone = worth.score[rows] + _THUMB * worth.renown[rows] - _USUAL * ~worth.of_age[rows]
        if not self.rows:
            return alone
        alike = (traits.group[rows, None] == traits.group[self.rows]).sum(axis=1) / count
        apart_deg = traits.apart_deg[rows[:, None], self.rows]
        crowded, jump = self._crowded(rows, apart_deg), _JUMP * apart_deg.min(axis=1) / 180
        return alone - _ALIKE * self.variety * alike - crowded - jump

    def _crowded(self, rows: Indices, apart_deg: Array) -> Array:
        """Return what is taken off for fellows in one corner of the sky, (R,), by distances (R, chosen)."""
        kind = self.traits.kind
        is_fellow = (kind[rows, None] == kind[self.rows]) & (apart_deg < _CORNER_DEG)
        return _CROWDED * np.maximum(is_fellow.sum(axis=1) - self.traits.is_known[rows], 0)

    def _twin(self, row: int) -> SameView | None:
        """Return the chosen target that is in one view with a target, or None."""
        if not self.rows:
            return None
        apart_deg = self.traits.apart_deg[row, self.rows]
        if self.traits.is_on_moon[row]:  # all of its features are in one view, yet each is a target
            apart_deg = np.where(self.traits.is_on_moon[self.rows], 180.0, apart_deg)
        if apart_deg.min() >= self.traits.view_deg[row]:
            return None
        return SameView(self.night.targets[self.rows[int(np.argmin(apart_deg))]].subject.name)

    def _take(self, row: int) -> Objection | None:
        """Add a target to the choice, or return why it cannot be added."""
        if twin := self._twin(row):
            return twin
        tried, wishes = [*self.rows, row], self.wishes
        chances = self.night.chances
        turns = schedule([chances[place] for place in tried], wishes.start_s, wishes.end_s, wishes.pace_s)
        if turns is None:
            return NoTime(wishes.pace_s)
        self.rows, self.turns = tried, turns
        return None
