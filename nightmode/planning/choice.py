"""Chooses among candidates: those with the best score, of several kinds, near each other, reached in time."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, field

import numpy as np

from nightmode.arrays import Array, Indices
from nightmode.catalog.fame import well_known
from nightmode.eyepiece import Combination
from nightmode.kinds import GROUP_OF, Kind
from nightmode.model.target import Body, Fixed, LunarFeature, Subject
from nightmode.night.table import Night
from nightmode.night.verdict import verdicts_on, words
from nightmode.planning.pace import schedule
from nightmode.planning.request import Wishes
from nightmode.planning.score import shines_as
from nightmode.records import Record
from nightmode.sky.vectors import separation_deg
from nightmode.visibility.objections import NoTime, NotUp, Objection, SameView, TooHardThen
from nightmode.words import Word

#: Subtracted from a candidate's score: times the share of its group in the plan, and for a jump across the
#: sky.
_ALIKE, _JUMP = 4.0, 0.5
#: The third of a kind in one corner of the sky, so many degrees wide, and each further one, adds so much
#: less; the second, too, where it is not well known.
_CORNER_DEG, _CROWDED = 3.0, 1.0
#: When this share of a plan shows as much in the next smaller telescope, this is subtracted from whatever
#: else does: the rest of the plan is for what has come of age in this one. A showpiece that has come of age
#: counts half towards the share, as the owners of smaller ones do not leave it out either.
_USUAL_SHARE, _USUAL, _FAMOUS = 0.5, 2.2, 0.5
#: A planet, or the Moon, with this score is left out by nobody.
_GRAND = 4.0
#: Closer than half of the field of its finding eyepiece to a chosen target, another is seen with it; but half
#: a field counts as no less and no more than this in degrees.
_SAME_VIEW_DEG, _SAME_VIEW_MOST_DEG = 0.7, 1.2
#: What is well known stands for what is in one view with it, unless its score is less by more than this.
_KNOWN_LESS = 1.0
#: Of two targets of a group in one view, one that is brighter by so many magnitudes stands for both.
_OUTSHONE_MAG = 2.0


def _is_on_moon(subject: Subject) -> bool:
    return isinstance(subject, Body) and subject.body == "moon"


def _is_planet(subject: Subject) -> bool:
    return isinstance(subject, Body) and not isinstance(subject, LunarFeature)


class Pick(Record):
    """A chosen target: its row in the night, when its turn comes at the pace, and its verdict."""

    row: int
    at_s: float
    word: Word


@dataclass
class Choice:
    """A choice among the night's targets.

    values   their scores
    of_age   whether this instrument shows more of them than the next smaller one
    variety  how much it counts that a plan holds several kinds, 1 as a rule
    refused  why some were not taken, by key
    """

    night: Night
    values: Sequence[float]
    of_age: Sequence[bool]
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
        self._on_moon = np.array([_is_on_moon(target.subject) for target in targets], dtype=bool)
        ra, dec = (np.array([getattr(target, name) for target in targets]) for name in ("ra_deg", "dec_deg"))
        self._apart_deg = separation_deg(ra[:, None], dec[:, None], ra, dec)
        grand = [value >= _GRAND for value in self.values]
        planets = [of and _is_planet(target.subject) for of, target in zip(grand, targets, strict=True)]
        self._values = np.array(self.values)
        self._is_special = np.array(self.of_age, dtype=bool) | np.array(planets, dtype=bool)
        self._is_known = np.array([target.chance.key in well_known() for target in targets], dtype=int)
        self._famous = [target.chance.key in self.wishes.showpieces for target in targets]
        self._usual = [
            (_FAMOUS if famous else 0.0) if new else 1.0
            for new, famous in zip(self.of_age, self._famous, strict=True)
        ]
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
        """Return what stands for a target in one view with it, else the target.

        That is a showpiece, as M 42 for the clusters beside it, or in its group what is far brighter, as M 31
        for M 32, or well known.
        """
        near = [other for other in left if self._apart_deg[row, other] < self._view_deg[row]]
        alike = [other for other in near if self._groups[other] == self._groups[row]]
        famous = [other for other in near if self._famous[other]]
        known = [other for other in alike if self._is_known[other] and not self._is_known[row]]
        worthy = [other for other in famous or known if self.values[other] >= self.values[row] - _KNOWN_LESS]
        brightest = min(alike, key=lambda other: self._magnitudes[other])
        outshines = self._magnitudes[brightest] < self._magnitudes[row] - _OUTSHONE_MAG
        return self._best(worthy) if worthy else brightest if outshines else row

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
        if not self.rows:
            return self._values[rows]
        alike = (self._groups[rows, None] == self._groups[self.rows]).sum(axis=1) / self.wishes.count
        enough = sum(self._usual[other] for other in self.rows) >= _USUAL_SHARE * self.wishes.count
        usual = np.where(self._is_special[rows] | (not enough), 0.0, _USUAL)
        apart_deg = self._apart_deg[rows[:, None], self.rows]
        crowded, jump = self._crowded(rows, apart_deg), _JUMP * apart_deg.min(axis=1) / 180
        return self._values[rows] - usual - _ALIKE * self.variety * alike - crowded - jump

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
