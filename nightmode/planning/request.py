"""What the observer asks of a draft, and why a target does not meet it."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from nightmode.arrays import Array
from nightmode.catalog.columns import Columns
from nightmode.catalog.query import Query
from nightmode.kinds import Kind
from nightmode.planning.survey import Survey
from nightmode.visibility.objections import (
    NothingPublished,
    NotInCatalogue,
    NotUp,
    Objection,
    OtherKind,
    SeenAlready,
    TooHard,
)
from nightmode.walk.state import target_key
from nightmode.words import Word


@dataclass(frozen=True)
class Wishes:
    """What the observer asked for. kinds None means any kind; hardest is the hardest verdict allowed.

    seen holds keys made by `target_key`; favour holds by key what to add to a score. pace_s is
    the time for each target.
    """

    count: int
    start_s: float
    end_s: float
    pace_s: float
    kinds: frozenset[Kind] | None
    hardest: Word
    seen: frozenset[str]
    favour: Mapping[str, float] = field(default_factory=dict)
    query: Query = field(default_factory=Query)

    @property
    def instants_s(self) -> Array:
        """The first, the middle and the last instant of the hours, (3,)."""
        return np.linspace(self.start_s, self.end_s, 3)

    def welcomes(self, word: Word) -> bool:
        """Return whether a verdict is not harder than asked for."""
        return word.rank <= self.hardest.rank

    def refuses(self, name: str, kind: Kind) -> Objection | None:
        """Return why a target is not wanted by its name or its kind, or None."""
        if self.kinds is not None and kind not in self.kinds:
            return OtherKind()
        return SeenAlready() if target_key(name) in self.seen else None

    def refuses_body(self, name: str, kind: Kind) -> Objection | None:
        """Return why a body of the Solar System is not wanted, or None."""
        return NotInCatalogue() if self.query.asks_for_fixed else self.refuses(name, kind)

    def refuses_row(self, columns: Columns, row: int) -> Objection | None:
        """Return why an object of the catalogue is not wanted, or None."""
        return self.refuses(columns.name[row], columns.kind[row]) or self.query.refuses(columns, row)


def welcome_rows(columns: Columns, judged: Survey, wishes: Wishes) -> list[int]:
    """Return the rows that nothing speaks against."""
    welcome = np.array([wishes.welcomes(word) for word in judged.word], dtype=bool)
    rows = np.flatnonzero(welcome & ~np.isnan(judged.highest_deg)).tolist()
    return [row for row in rows if not wishes.refuses_row(columns, row)]


def objection(columns: Columns, judged: Survey, wishes: Wishes, row: int) -> Objection | None:
    """Return what speaks against a row, or None."""
    if refused := wishes.refuses_row(columns, row):
        return refused
    if np.isnan(judged.highest_deg[row]):
        return NotUp(float(judged.culminates_deg[row]))
    if np.isnan(judged.margin_dex[row]):
        return NothingPublished()
    word = judged.word[row]
    return None if wishes.welcomes(word) else TooHard(word, float(judged.margin_dex[row]))
