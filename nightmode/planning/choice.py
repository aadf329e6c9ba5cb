"""Chooses among candidates: those with the best score, of several kinds, near each other, reached in time."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, field

import numpy as np

from nightmode.arrays import Array, Flags, Indices
from nightmode.catalog.fame import well_known
from nightmode.eyepiece import Combination
from nightmode.kinds import GROUP_OF, Kind
from nightmode.model.target import Body, Fixed, Subject
from nightmode.night.table import Night
from nightmode.night.verdict import verdicts_on, words
from nightmode.planning.pace import schedule
from nightmode.planning.request import Wishes
from nightmode.planning.score import shines_as
from nightmode.records import Record
from nightmode.sky.vectors import separation_deg
from nightmode.visibility.objections import NoTime, NotUp, Objection, SameView, TooHardThen
from nightmode.words import Word

#: The first part of a plan, by this share, is what nobody leaves out who looks at this sky tonight: there
#: renown counts in full. In the rest it has less weight, and so much is subtracted from what shows as much in
#: the next smaller telescope: that part is for what has come of age in this one.
_FIRST_SHARE, _THUMB, _USUAL = 0.54, 0.8, 2.2
#: Subtracted from a candidate's score times the share of its group in the plan, in the first part and in the
#: rest; and for a jump across the sky.
_ALIKE_FIRST, _ALIKE, _JUMP = 1.0, 3.0, 0.5
#: The third of a kind in one corner of the sky, so many degrees wide, and each further one, adds so much
#: less; the second, too, where it is not well known.
_CORNER_DEG, _CROWDED = 3.0, 1.0
#: Closer than half of the field of its finding eyepiece to a chosen target, another is seen with it; but half
#: a field counts as no less and no more than this in degrees.
_SAME_VIEW_DEG, _SAME_VIEW_MOST_DEG = 0.7, 1.2
#: What is well known stands for what is in one view with it, unless its score is less by more than this.
_KNOWN_LESS = 1.0
#: Of two targets of a group in one view, one that is brighter by so many magnitudes stands for both.
_OUTSHONE_MAG = 2.0


def _is_on_moon(subject: Subject) -> bool:
    return isinstance(subject, Body) and subject.body == "moon"


class Pick(Record):
    """A chosen target: its row in the night, when its turn comes at the pace, and its verdict."""

    row: int
    at_s: float
    word: Word


@dataclass
class Choice:
    """A choice among the night's targets.

    scores   what each is worth in this telescope, (N,)
    renown   what is added for how well known it is, (N,)
    of_age   whether this instrument shows more of it than the next smaller one, (N,)
    variety  how much it counts that a plan holds several kinds, 1 as a rule
    refused  why some were not taken, by key
    """

    night: Night
    scores: Array
    renown: Array
    of_age: Flags
    wishes: Wishes
    variety: float = 1.0
    rows: list[int] = field(default_factory=list)
    turns: list[tuple[float, int]] = field(default_factory=list)
    refused: dict[str, Objection] = field(default_factory=dict)

    def __post_init__(self) -> None:
        targets = self.night.targets
        self._words = words(self.night)
        kinds = [_kind(target.subject) for target in targets]
        self._kinds = _numbered(kinds)
        self._groups = _numbered([GROUP_OF[kind] for kind in kinds])
        self._is_nebula = np.array([GROUP_OF[kind] == "nebulae" for kind in kinds], dtype=bool)
        self._on_moon = np.array([_is_on_moon(target.subject) for target in targets], dtype=bool)
        ra, dec = (np.array([getattr(target, name) for target in targets]) for name in ("ra_deg", "dec_deg"))
        self._apart_deg = separation_deg(ra[:, None], dec[:, None], ra, dec)
        self._is_known = np.array([target.chance.key in well_known() for target in targets], dtype=int)
        self._famous = [target.chance.key in self.wishes.showpieces for target in targets]
        self._view_deg = np.array([_view_deg(target.find) for target in targets])
        self._magnitudes = [_magnitude(target.subject) for target in targets]

    def run(self) -> list[Pick]:
        """Return the targets chosen, one after another, as long as all can be reached in time."""
        left = self._fit()
        while left and len(self.rows) < self.wishes.count:
            best = self._leader(self._best(left), left)
            left.remove(best)
            if why_not := self._take(best):
                self._refuse(best, why_not)
        for row in left:
            if twin := self._twin(row):
                self._refuse(row, twin)
        turns = [(at_s, self.rows[index]) for at_s, index in self.turns]
        return [Pick(row, at_s, self._words[row]) for at_s, row in turns]

    def _leader(self, row: int, left: Sequence[int]) -> int:
        """Return what stands for a target, else the target.

        That is a showpiece in one view with it, as M 42 for the clusters beside it, or in its group what is
        far brighter, as M 31 for M 32, or well known. For a piece of a nebula it is a better known piece.
        """
        near = [other for other in left if self._apart_deg[row, other] < self._view_deg[row]]
        alike = [other for other in near if self._groups[other] == self._groups[row]]
        famous = [other for other in near if self._famous[other]]
        known = [other for other in alike if self._is_known[other] and not self._is_known[row]]
        stands_for = famous or self._pieces(row, left) or known
        worthy = [other for other in stands_for if self.scores[other] >= self.scores[row] - _KNOWN_LESS]
        brightest = min(alike, key=lambda other: self._magnitudes[other])
        outshines = self._magnitudes[brightest] < self._magnitudes[row] - _OUTSHONE_MAG
        return self._best(worthy) if worthy else brightest if outshines else row

    def _pieces(self, row: int, left: Sequence[int]) -> list[int]:
        """Return the better known nebulae near one; none for what is no nebula."""
        if not self._is_nebula[row]:
            return []
        near = self._is_nebula & (self._apart_deg[row] < _CORNER_DEG) & (self.renown > self.renown[row])
        return [other for other in left if near[other]]

    def _refuse(self, row: int, why_not: Objection) -> None:
        self.refused[self.night.targets[row].chance.key] = why_not

    def _fit(self) -> list[int]:
        """Return the targets that can be seen in time and are not too hard; the others are refused."""
        night, wishes = self.night, self.wishes
        during = (night.time_s >= wishes.start_s) & (night.time_s <= wishes.end_s)
        hard = []
        for row, target in enumerate(night.targets):
            if not any(one.start_s < wishes.end_s and one.end_s > wishes.start_s for one in target.usable):
                self._refuse(row, NotUp(float(night.altitude_deg[row, during].max())))
            elif not wishes.welcomes(self._words[row]):
                hard.append(row)
        for row, verdict in zip(hard, verdicts_on(night, hard), strict=True):
            self._refuse(row, TooHardThen(verdict))
        return [row for row, target in enumerate(night.targets) if target.chance.key not in self.refused]

    def _best(self, rows: Sequence[int]) -> int:
        """Return the one of these targets that is worth most beside those that have been chosen."""
        return rows[int(self._worth(np.array(rows)).argmax())]

    def _worth(self, rows: Indices) -> Array:
        """Return what targets are worth, (R,), beside those that have been chosen."""
        is_first = len(self.rows) < _FIRST_SHARE * self.wishes.count
        weight, by_share = (1.0, _ALIKE_FIRST) if is_first else (_THUMB, _ALIKE)
        usual = 0.0 if is_first else _USUAL * ~self.of_age[rows]
        alone = self.scores[rows] + weight * self.renown[rows] - usual
        if not self.rows:
            return alone
        alike = (self._groups[rows, None] == self._groups[self.rows]).sum(axis=1) / self.wishes.count
        apart_deg = self._apart_deg[rows[:, None], self.rows]
        crowded, jump = self._crowded(rows, apart_deg), _JUMP * apart_deg.min(axis=1) / 180
        return alone - by_share * self.variety * alike - crowded - jump

    def _crowded(self, rows: Indices, apart_deg: Array) -> Array:
        """Return what is taken off for fellows in one corner of the sky, (R,), by distances (R, chosen)."""
        is_fellow = (self._kinds[rows, None] == self._kinds[self.rows]) & (apart_deg < _CORNER_DEG)
        return _CROWDED * np.maximum(is_fellow.sum(axis=1) - self._is_known[rows], 0)

    def _apart(self, row: int) -> np.ndarray:
        return self._apart_deg[row, self.rows]

    def _twin(self, row: int) -> SameView | None:
        """Return the chosen target that is in one view with a target, or None."""
        if not self.rows:
            return None
        apart = self._apart(row)
        if self._on_moon[row]:  # all of its features are in one view, yet each is a target of its own
            apart = np.where(self._on_moon[self.rows], 180.0, apart)
        if apart.min() >= self._view_deg[row]:
            return None
        return SameView(self.night.targets[self.rows[int(np.argmin(apart))]].subject.name)

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


def _numbered(values: Sequence[Hashable]) -> Indices:
    """Return values as whole numbers, the same for the same, which arrays compare at once."""
    numbers: dict[Hashable, int] = {}
    return np.array([numbers.setdefault(value, len(numbers)) for value in values], dtype=np.intp)


def _kind(subject: Subject) -> Kind:
    known = (getattr(subject, name, None) for name in ("tenth_star_magnitude", "surface_brightness_mag"))
    return shines_as(subject.kind, *(np.nan if mag is None else mag for mag in known))


def _magnitude(subject: Subject) -> float:
    known = subject.magnitude if isinstance(subject, Fixed) else None
    return 99.0 if known is None else known


def _view_deg(find: Combination | None) -> float:
    """Return below which distance from a target another is in one view with it."""
    half = find.true_field_deg / 2.0 if find else 0.0
    return min(max(half, _SAME_VIEW_DEG), _SAME_VIEW_MOST_DEG)
