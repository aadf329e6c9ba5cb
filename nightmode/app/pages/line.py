"""A line of a page: pieces of text, each with the role that decides how bright it is."""

import re
from collections.abc import Iterable, Sequence
from typing import Literal

from rich.cells import cell_len, chop_cells

from nightmode.errors import printable
from nightmode.light.signs import plain_signs

#: How bright a piece is, and how soon it is left out where a page would light too much. `said` is as bright
#: as `text`, but never dimmed. `kept`, `told`, `more` and `spare` are as dim as `faint`: `kept` is never left
#: out, `spare` is left out first, `told` after `faint`. `more` continues the row above and is left out with
#: it.
Role = Literal["strong", "said", "text", "kept", "told", "faint", "more", "spare", "line", "alert"]
#: The level of red of the roles that a theme does not name.
SHOWN_AS: dict[Role, Role] = {
    "said": "text",
    "kept": "faint",
    "told": "faint",
    "more": "faint",
    "spare": "faint",
}
Piece = tuple[str, Role]
Line = tuple[Piece, ...]

BLANK: Line = ()
#: The blank within M 31, NGC 7331 or Abell 39, and what holds its place while rows are broken at blanks.
_DESIGNATION, _JOINT = re.compile(r"\b([A-Z][A-Za-z]{0,5}) (?=\d)"), "\0"


def line(*pieces: Piece) -> Line:
    """Return a line of the pieces that are not empty, without control characters from any file."""
    return tuple((printable(plain_signs(text)), role) for text, role in pieces if text)


def width(text: str) -> int:
    """Return how many cells a text takes, counted as Textual counts them."""
    return cell_len(text)


def fit(text: str, columns: int) -> str:
    """Return text cut to `columns` cells, with an ellipsis where something is left out."""
    text = plain_signs(text)
    if width(text) <= columns:
        return text
    if columns <= 1:
        return "…"[: max(columns, 0)]
    return chop_cells(text, columns - 1)[0].rstrip() + "…"


def pad(text: str, columns: int) -> str:
    """Return text cut or padded with blanks to exactly `columns` cells."""
    shown = fit(text, columns)
    return shown + " " * (columns - width(shown))


def fit_line(pieces: Line, columns: int) -> Line:
    """Return a line cut to `columns` cells."""
    kept: list[Piece] = []
    left = columns
    for text, role in pieces:
        if left <= 0:
            break
        shown = fit(text, left)
        kept.append((shown, role))
        if width(text) > left:  # the ellipsis stands for all that follows
            break
        left -= width(shown)
    return tuple(kept)


def spread(left: Line, right: Line, columns: int) -> Line:
    """Return one line with left and right at its ends; right is cut if both do not fit."""
    left = fit_line(left, columns)
    room = columns - length(left) - 2
    if room < 8:
        return left
    right = fit_line(right, room)
    gap = " " * (columns - length(left) - length(right))
    return (*left, (gap, "line"), *right)


def length(pieces: Line) -> int:
    """Return how many cells a line takes."""
    return sum(width(text) for text, _ in pieces)


def wrap(text: str, columns: int, most: int) -> list[str]:
    """Return text broken at blanks into at most `most` rows; the last is cut with an ellipsis if need be.

    A designation such as M 31 stays in one row.
    """
    rows: list[str] = []
    row = ""
    for joined in _DESIGNATION.sub(rf"\1{_JOINT}", plain_signs(text)).split():
        word = joined.replace(_JOINT, " ")
        longer = f"{row} {word}" if row else word
        if width(longer) <= columns:
            row = longer
            continue
        if row:
            rows.append(row)
        row = fit(word, columns)
    rows.append(row)
    if len(rows) <= most:
        return rows
    return [*rows[: most - 1], fit(" ".join(rows[most - 1 :]), columns)]


def in_the_middle(lines: Sequence[Line], size: tuple[int, int], block: int) -> list[Line]:
    """Return lines in the middle of a page of size (columns, rows), as a block of `block` cells.

    Exactly as many rows as the page has: what is too much is cut off at the end.
    """
    columns, rows = size
    body = [BLANK] * (max(0, rows - len(lines)) // 2) + centred(lines[:rows], columns, block)
    return body + [BLANK] * (rows - len(body))


def centred(lines: Iterable[Line], columns: int, block: int) -> list[Line]:
    """Return lines moved right so that a block of `block` cells stands in the middle of `columns`."""
    margin = max(0, (columns - block) // 2)
    return [((" " * margin, "line"), *pieces) if pieces and margin else pieces for pieces in lines]
