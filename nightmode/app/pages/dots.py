"""A small picture made of characters: dots on cells, each cell with its role.

A cell is twice as high as wide and holds 2 by 4 dots, so dots are equally far apart both ways. Places are
given in dots from the left and from the top. Where the terminal has only plain letters, the picture is made
of those.
"""

from collections.abc import Mapping

from nightmode.app.pages.line import Line, Role, line, width
from nightmode.records import Record

ACROSS, DOWN = 2, 4
#: Bits of a braille cell's dots, by row and column.
_BITS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
_BRAILLE = 0x2800
#: How many rows of dots the stars of each size take; the smallest is one dot, the largest a disc.
_SIZES = 5
ROLES: tuple[Role, ...] = ("faint", "text", "text", "strong", "strong")
#: Languages in whose locales the disc, the half and Greek letters take two cells.
WIDE_LANGUAGES = ("zh", "ja", "ko")


class Style(Record):
    """Which characters a terminal can show: braille dots, a round disc, halves and Greek letters in words."""

    has_dots: bool = True
    has_disc: bool = True
    has_letters: bool = True


FULL, NO_DISC, LETTERS_ONLY = Style(), Style(True, False, False), Style(False, False, False)


def style_of(env: Mapping[str, str], encoding: str) -> Style:
    """Return the style for a terminal, from its environment variables and its encoding."""
    if env.get("TERM", "") in {"linux", "dumb", ""} or encoding.lower().replace("-", "") != "utf8":
        return LETTERS_ONLY
    language = env.get("LC_ALL") or env.get("LC_CTYPE") or env.get("LANG") or ""
    return NO_DISC if language.startswith(WIDE_LANGUAGES) else FULL


class Picture:
    """A picture of columns by rows cells. Stars keep their cells; lines and circles leave those out."""

    def __init__(self, columns: int, rows: int, style: Style) -> None:
        self.columns, self.rows, self.style = columns, rows, style
        self._dots: dict[tuple[int, int], int] = {}
        self._glyphs: dict[tuple[int, int], tuple[str, Role]] = {}
        self._kept: set[tuple[int, int]] = set()
        self._sizes: dict[tuple[int, int], int] = {}

    def holds(self, x: float, y: float) -> bool:
        """Return whether a place lies within the picture."""
        return 0.0 <= x < self.columns * ACROSS and 0.0 <= y < self.rows * DOWN

    def cell(self, x: float, y: float) -> tuple[int, int]:
        """Return column and row of the cell that holds a place."""
        return int(x // ACROSS), int(y // DOWN)

    def dot(self, x: float, y: float) -> None:
        """Draw a dot of a line or a circle."""
        if not self.holds(x, y):
            return
        column, row = self.cell(x, y)
        bit = _BITS[int(y) % DOWN][int(x) % ACROSS]
        self._dots[column, row] = self._dots.get((column, row), 0) | bit

    def star(self, at: tuple[float, float], size: int) -> None:
        """Draw a star of size 0 to 4; of two stars in one cell the larger stays."""
        x, y = at
        if not self.holds(x, y):
            return
        place = self.cell(x, y)
        size = min(max(size, 0), _SIZES - 1)
        if place in self._kept and self._sizes.get(place, _SIZES) >= size:
            return
        self._sizes[place] = size
        self._glyphs[place] = (self._star_glyph(x, y, size), ROLES[size])
        self._kept.add(place)

    def mark(self, at: tuple[float, float], glyph: str, role: Role) -> None:
        """Draw one character, unless a star or another character is there."""
        x, y = at
        place = self.cell(x, y)
        if self.holds(x, y) and place not in self._kept:
            self._glyphs[place] = (glyph, role)
            self._kept.add(place)

    def label(self, at: tuple[float, float], text: str, role: Role) -> bool:
        """Write a name to the right, left, above or below a place; return whether there was room."""
        x, y = at
        if not self.holds(x, y):
            return False
        column, row = self.cell(x, y)
        length = width(text)
        half = column - length // 2
        for start, line_at in (
            (column + 2, row),
            (column - length - 1, row),
            (half, row - 1),
            (half, row + 1),
            (column + 1, row - 1),
            (column + 1, row + 1),
            (column - length, row - 1),
            (column - length, row + 1),
        ):
            cells = {(start + step, line_at) for step in range(-1, length + 1)} - {(column, row)}
            inside = start >= 0 and start + length <= self.columns and 0 <= line_at < self.rows
            if inside and not self._kept & cells:
                self._write(start, line_at, text, role)
                return True
        return False

    def lines(self) -> list[Line]:
        """Return the rows, each as many cells wide as the picture."""
        return [self._row(row) for row in range(self.rows)]

    def _star_glyph(self, x: float, y: float, size: int) -> str:
        if not self.style.has_dots:
            return ".+*oO"[size]
        if size == _SIZES - 1:
            return "●" if self.style.has_disc else chr(_BRAILLE + 0xFF)
        if size == 0:
            return chr(_BRAILLE + _BITS[int(y) % DOWN][int(x) % ACROSS])
        first = min(max(round(y % DOWN - size / 2.0), 0), DOWN - size)
        return chr(_BRAILLE + sum(sum(_BITS[row]) for row in range(first, first + size)))

    def _write(self, start: int, row: int, text: str, role: Role) -> None:
        column = start
        for character in text:
            self._glyphs[column, row] = (character, role)
            for step in range(width(character)):
                self._kept.add((column + step, row))
            column += width(character)

    def _row(self, row: int) -> Line:
        pieces: list[tuple[str, Role]] = []
        column = 0
        while column < self.columns:
            text, role = self._cell_text(column, row)
            if pieces and pieces[-1][1] == role:
                pieces[-1] = (pieces[-1][0] + text, role)
            else:
                pieces.append((text, role))
            column += max(1, width(text))
        return line(*pieces)

    def _cell_text(self, column: int, row: int) -> tuple[str, Role]:
        if (column, row) in self._glyphs:
            return self._glyphs[column, row]
        bits = self._dots.get((column, row), 0)
        if not bits:
            return " ", "line"
        if self.style.has_dots:
            return chr(_BRAILLE + bits), "faint"
        return ("'" if bits & (0x01 | 0x08 | 0x02 | 0x10) else ","), "faint"
