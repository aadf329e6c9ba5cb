"""Chooses among candidates: those with the best score, of several kinds, near each other, reached in time."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from nightmode.kinds import GROUP_OF
from nightmode.model.target import Body, Fixed, Subject
from nightmode.night.table import Night
from nightmode.night.verdict import verdicts
from nightmode.planning.pace import schedule
from nightmode.planning.request import Wishes
from nightmode.records import Record
from nightmode.sky.vectors import separation_deg
from nightmode.visibility.objections import NoTime, NotUp, Objection, SameView, TooHardThen
from nightmode.words import Word

#: Subtracted from a candidate's score: times the share of its group in the plan, and for a jump across the
#: sky.
_ALIKE, _JUMP = 3.0, 0.5
#: Closer than this to a chosen target, another is seen with it in the field of a finding eyepiece; degrees.
_SAME_VIEW_DEG = 0.7
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
    """A choice among the night's targets, with their scores in `values`; `refused` holds reasons by key."""

    night: Night
    values: Sequence[float]
    wishes: Wishes
    rows: list[int] = field(default_factory=list)
    turns: list[tuple[float, int]] = field(default_factory=list)
    refused: dict[str, Objection] = field(default_factory=dict)

    def __post_init__(self) -> None:
        targets = self.night.targets
        self._verdicts = verdicts(self.night)
        self._groups = [GROUP_OF[target.subject.kind] for target in targets]
        self._on_moon = np.array([_is_on_moon(target.subject) for target in targets], dtype=bool)
        ra, dec = (np.array([getattr(target, name) for target in targets]) for name in ("ra_deg", "dec_deg"))
        self._apart_deg = separation_deg(ra[:, None], dec[:, None], ra, dec)
        self._magnitudes = [_magnitude(target.subject) for target in targets]

    def run(self) -> list[Pick]:
        """Return the targets chosen, one after another, as long as all can be reached in time."""
        left = [row for row in range(len(self.night.targets)) if not self._unfit(row)]
        while left and len(self.rows) < self.wishes.count:
            best = self._leader(max(left, key=self._value), left)
            left.remove(best)
            if why_not := self._take(best):
                self._refuse(best, why_not)
        turns = [(at_s, self.rows[index]) for at_s, index in self.turns]
        return [Pick(row, at_s, self._verdicts[row].word) for at_s, row in turns]

    def _leader(self, row: int, left: Sequence[int]) -> int:
        """Return the far brighter object in one view with a target, as M 31 for M 32; else the target."""
        near = [other for other in left if self._apart_deg[row, other] < _SAME_VIEW_DEG]
        brightest = min(near, key=lambda other: self._magnitudes[other])
        outshines = self._magnitudes[brightest] < self._magnitudes[row] - _OUTSHONE_MAG
        return brightest if outshines and self._groups[brightest] == self._groups[row] else row

    def _refuse(self, row: int, why_not: Objection) -> None:
        self.refused[self.night.targets[row].chance.key] = why_not

    def _unfit(self, row: int) -> bool:
        target, wishes = self.night.targets[row], self.wishes
        during = (self.night.time_s >= wishes.start_s) & (self.night.time_s <= wishes.end_s)
        if not any(
            stretch.start_s < wishes.end_s and stretch.end_s > wishes.start_s for stretch in target.usable
        ):
            self._refuse(row, NotUp(float(self.night.altitude_deg[row, during].max())))
        elif not wishes.welcomes((verdict := self._verdicts[row]).word):
            self._refuse(row, TooHardThen(verdict))
        return target.chance.key in self.refused

    def _value(self, row: int) -> float:
        if not self.rows:
            return self.values[row]
        alike = sum(self._groups[other] == self._groups[row] for other in self.rows) / self.wishes.count
        return self.values[row] - _ALIKE * alike - _JUMP * float(self._apart(row).min()) / 180

    def _apart(self, row: int) -> np.ndarray:
        return self._apart_deg[row, self.rows]

    def _take(self, row: int) -> Objection | None:
        """Add a target to the choice, or return why it cannot be added."""
        apart = self._apart(row)
        if self._on_moon[row]:  # all of its features are in one view, yet each is a target of its own
            apart = np.where(self._on_moon[self.rows], 180.0, apart)
        if self.rows and apart.min() < _SAME_VIEW_DEG:
            twin = self.night.targets[self.rows[int(np.argmin(apart))]].subject.name
            return SameView(twin)
        tried, wishes = [*self.rows, row], self.wishes
        chances = self.night.chances
        turns = schedule([chances[place] for place in tried], wishes.start_s, wishes.end_s, wishes.pace_s)
        if turns is None:
            return NoTime(wishes.pace_s)
        self.rows, self.turns = tried, turns
        return None


def _magnitude(subject: Subject) -> float:
    known = subject.magnitude if isinstance(subject, Fixed) else None
    return 99.0 if known is None else known
