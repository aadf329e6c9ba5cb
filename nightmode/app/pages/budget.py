"""What a page may light, in letters of text, and what is left out where it would light more. Pure.

A page of so many letters to a cell gives a tenth of a percent of the light of an all-white screen at the
default glow, in the default theme (docs/darkness.md). At another glow the same letters give the light of that
glow, wherever the terminal has its levels; where it has not, each letter counts for as much more as it gives.
"""

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar, get_args

from nightmode.app.pages.line import SHOWN_AS, Line, Piece, Role, fit_line, width

LETTERS_A_CELL = 0.154
#: A window of fewer cells is taken for one that does not fill the screen.
LEAST_CELLS = 80 * 24
#: A dot of braille, the disc and a point, against a letter.
DOT_SHARE, DISC_SHARE, POINT_SHARE = 0.2, 1.8, 0.2
#: What gives way, in this order, from the foot of the page up: a role, and what it becomes.
_GIVES_WAY: tuple[tuple[Role, Role | None], ...] = (
    ("spare", None),
    ("text", "told"),
    ("faint", None),
    ("told", None),
    ("text", None),
    ("strong", "text"),
    ("alert", "strong"),
)
Row = TypeVar("Row")


@dataclass(frozen=True)
class Budget:
    """What a page may light.

    letters  how many letters of text
    weigh    how much a letter of each role gives against one of text at this glow
    """

    letters: float
    weigh: Mapping[Role, float]

    def cost(self, lines: Sequence[Line]) -> float:
        """Return how many letters of text give as much light as these lines."""
        return sum(lit(text) * self.weigh[role] for row in lines for text, role in row)

    def allows(self, lines: Sequence[Line]) -> bool:
        """Whether these lines give no more light than they may."""
        return self.cost(lines) <= self.letters

    def less(self, letters: float) -> "Budget":
        """Return what is left when so many letters of text are lit elsewhere."""
        return Budget(self.letters - letters * self.weigh["text"], self.weigh)


#: By day, and in print: nothing need be left out.
UNBOUNDED = Budget(
    float("inf"),
    dict.fromkeys(get_args(Role), 1.0),
)


def budget_of(size: tuple[int, int], levels: Mapping[str, float]) -> Budget:
    """Return the budget of a page of this size (columns, rows).

    levels  the light of a letter of line, faint, text, strong and alert against what text is meant to give
    """
    cells = max(size[0] * size[1], LEAST_CELLS)
    weigh = {role: levels[SHOWN_AS.get(role, role)] for role in get_args(Role)}
    return Budget(LETTERS_A_CELL * cells, weigh)


def lit(text: str) -> float:
    """Return how many letters give as much light as this text."""
    return sum(_share(character) for character in text)


def _share(character: str) -> float:
    dots = ord(character) - 0x2800
    if 0 <= dots <= 0xFF:
        return dots.bit_count() * DOT_SHARE
    if character in ".,'`:·":
        return POINT_SHARE
    return {" ": 0.0, "●": DISC_SHARE}.get(character, 1.0)


def within(lines: Sequence[Line], budget: Budget) -> list[Line]:
    """Return lines that give no more light than they may, the least needed dimmed or left out.

    What stays, stays in its place, and a sentence goes whole: the rows that go on with it go too. Names and
    figures (strong), what has just been said (said, alert) and what is kept stay whatever they give; at the
    worst names and figures are as dim as text, and an alert as dim as they were.
    """
    found = [list(row) for row in lines]
    over = budget.cost(lines) - budget.letters
    for role, becomes in _GIVES_WAY:
        gain = budget.weigh[role] - (budget.weigh[becomes] if becomes else 0.0)
        for number in reversed(range(len(found))):
            row = found[number]
            for place in reversed(range(len(row))):
                if over <= 0.0:
                    return [tuple(row) for row in found]
                text, was = row[place]
                if was == role and gain > 0.0:
                    row[place] = (text, becomes) if becomes else _blank(text)
                    over -= lit(text) * gain
                    if becomes is None:
                        over -= _leave_with(found[number + 1 :], budget)
    return [tuple(row) for row in found]


def _leave_with(below: Sequence[list[Piece]], budget: Budget) -> float:
    """Leave out the rows that go on with a sentence that has gone; return how many letters that saves."""
    saved = 0.0
    for row in itertools.takewhile(lambda row: any(role == "more" for _, role in row), below):
        saved += budget.cost([tuple(row)])
        row[:] = [_blank(text) for text, _ in row]
    return saved


def _blank(text: str) -> Piece:
    return " " * width(text), "line"


def drawn(lines: Sequence[Line], size: tuple[int, int], budget: Budget) -> list[Line]:
    """Return lines as they are drawn: cut to the columns of a size, and within what they may light."""
    return within([fit_line(row, size[0]) for row in lines], budget)


def nearest(rows: Sequence[Row], place: int, fits: Callable[[Sequence[Row]], bool]) -> list[Row]:
    """Return the rows around a place, as many as fit; that one stays."""
    first, last = 0, len(rows)
    while last - first > 1 and not fits(rows[first:last]):
        if place - first >= last - 1 - place:
            first += 1
        else:
            last -= 1
    return list(rows[first:last])
