"""How much light a page may give, counted in letters of text, and what is left out to stay below that. Pure.

A page with LETTERS_A_CELL letters for each cell of the screen gives a tenth of a percent of the light of an
all-white screen, at the default glow in the default theme (docs/darkness.md). The limit in letters is the
same at every glow. Where a terminal shows a level of red brighter than was meant, each letter counts for
more.
"""

import itertools
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from typing import TypeVar, get_args

from nightmode.app.pages.line import SHOWN_AS, Line, Piece, Role, fit_line, width
from nightmode.records import Record

LETTERS_A_CELL = 0.154
#: A smaller window is taken to cover only a part of the screen, so it may light as much as one of this size.
LEAST_CELLS = 80 * 24
#: How many faint letters the thin lines above and below the middle of a page hold.
THIN_LINES = 72
#: The light of a braille dot, of the disc and of a point, in letters.
DOT_SHARE, DISC_SHARE, POINT_SHARE = 0.2, 1.8, 0.2
#: What is dimmed or left out, in this order, from the foot of the page up: a role, and the role it becomes.
_GIVES_WAY: tuple[tuple[Role, Role | None], ...] = (
    ("spare", None),
    ("text", "told"),
    ("faint", None),
    ("told", None),
    ("text", None),
    ("strong", "text"),
    ("alert", "strong"),
)
_Row = TypeVar("_Row")


class Budget(Record):
    """How much light a page may give.

    letters  the limit, in letters of text
    weigh    the light of a letter in each role, divided by what a letter of text is meant to give at this
             glow
    """

    letters: float
    weigh: Mapping[Role, float]

    def cost(self, lines: Sequence[Line]) -> float:
        """Return the light of these lines, in letters of text."""
        return sum(lit(text) * self.weigh[role] for row in lines for text, role in row)

    def allows(self, lines: Sequence[Line]) -> bool:
        """Return whether these lines keep within the limit."""
        return self.cost(lines) <= self.letters

    def inside(self) -> "Budget":
        """Return what is left for the middle of a page beside the thin lines above and below it."""
        return Budget(self.letters - THIN_LINES * self.weigh["faint"], self.weigh)

    def beside(self, lines: Sequence[Line]) -> "Budget":
        """Return what is left for a page beside these lines."""
        return Budget(self.letters - self.cost(lines), self.weigh)

    def less(self, letters: float) -> "Budget":
        """Return what is left for a page when `letters` letters of text are lit elsewhere."""
        return Budget(self.letters - letters * self.weigh["text"], self.weigh)


#: By day, and in print: no limit.
UNBOUNDED = Budget(float("inf"), dict.fromkeys(get_args(Role), 1.0))


def budget_of(size: tuple[int, int], levels: Mapping[str, float]) -> Budget:
    """Return the budget of a page of this size (columns, rows).

    levels  the light of a letter of line, faint, text, strong, alert, divided by what text is meant to give
    """
    cells = max(size[0] * size[1], LEAST_CELLS)
    weigh = {role: levels[SHOWN_AS.get(role, role)] for role in get_args(Role)}
    return Budget(LETTERS_A_CELL * cells, weigh)


@lru_cache(4096)  # most of a page stands there again at the next key
def lit(text: str) -> float:
    """Return the light of this text, in letters."""
    return sum(_share(character) for character in text)


def _share(character: str) -> float:
    dots = ord(character) - 0x2800
    if 0 <= dots <= 0xFF:
        return dots.bit_count() * DOT_SHARE
    if character in ".,'`:·":
        return POINT_SHARE
    return {" ": 0.0, "●": DISC_SHARE}.get(character, 1.0)


def within(lines: Sequence[Line], budget: Budget) -> list[Line]:
    """Return lines that keep within the budget: what is needed least is dimmed or left out.

    Nothing moves from its place. A sentence is left out whole, with the rows that continue it. Pieces of the
    roles strong, said, alert and kept are never left out, even where they break the limit; at the worst
    strong becomes as dim as text, and alert as dim as strong.
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
    """Leave out the rows that continue a sentence already left out; return how many letters that saves."""
    saved = 0.0
    for row in itertools.takewhile(lambda row: any(role == "more" for _, role in row), below):
        saved += budget.cost([tuple(row)])
        row[:] = [_blank(text) for text, _ in row]
    return saved


def _blank(text: str) -> Piece:
    return " " * width(text), "line"


def drawn(lines: Sequence[Line], size: tuple[int, int], budget: Budget) -> list[Line]:
    """Return lines as they are drawn: cut to the columns of size (columns, rows), and within the budget."""
    return within([fit_line(row, size[0]) for row in lines], budget)


def nearest(rows: Sequence[_Row], place: int, fits: Callable[[Sequence[_Row]], bool]) -> list[_Row]:
    """Return the longest run of rows that `fits` and holds the row at `place`, which is about its middle."""
    first, last = 0, len(rows)
    while last - first > 1 and not fits(rows[first:last]):
        if place - first >= last - 1 - place:
            first += 1
        else:
            last -= 1
    return list(rows[first:last])
