"""The screen of a terminal with its colours, and the light that its cells give.

A cell leaks if its ink or ground has any green or blue in it. Default colours are unknown, so white on black,
until the program sets them (OSC 10, 11); colours 0-15 are unknown, so white, until it sets them (OSC 4,
ESC ] P); both are unknown again when it gives them back. Colours are looked at when a character is drawn,
when a default or palette colour changes, and in frames sampled in between.
"""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple

import pyte
from pyte.charsets import LAT1_MAP
from pyte.modes import IRM
from pyte.screens import wcwidth

WHITE, BLACK = (255, 255, 255), (0, 0, 0)
PHOTOPIC = (0.2126, 0.7152, 0.0722)  # IEC 61966-2-1, white = 1
#: Scotopic weights of the sRGB primaries, white = 1, from CIE 1951 V' and an LED back-light: red counts 1 %.
SCOTOPIC = (0.0105, 0.4282, 0.5613)
_STEPS = (0, 95, 135, 175, 215, 255)
_CUBE = [(r, g, b) for r in _STEPS for g in _STEPS for b in _STEPS] + [(8 + 10 * i,) * 3 for i in range(24)]
_SIXTEEN = ((30, "fg", 0), (40, "bg", 0), (90, "fg", 8), (100, "bg", 8))
_ATTRIBUTES: dict[int, tuple[str, Any]] = {
    **{1: ("bold", True), 22: ("bold", False), 4: ("underscore", True), 24: ("underscore", False)},
    **{7: ("reverse", True), 27: ("reverse", False), 39: ("fg", "default"), 49: ("bg", "default")},
    **{first + n: (name, (n + bright,)) for n in range(8) for first, name, bright in _SIXTEEN},
}
_BLOCKS = {
    "█": 1.0,
    "▀": 0.5,
    "▄": 0.5,
    "▌": 0.5,
    "▐": 0.5,
    "▔": 0.125,
    "▁": 0.125,
    "▊": 0.75,
    "▎": 0.25,
    "●": 0.4,
}
#: No character below this one takes two cells.
_WIDEST_FROM = "\u1100"


def coverage(text: str) -> float:
    """Return the share of a cell that a glyph lights, by a rough table."""
    if text.isspace() or not text:
        return 0.0
    if text in _BLOCKS:
        return _BLOCKS[text]
    if 0 <= (dots := ord(text[0]) - 0x2800) <= 0xFF:  # braille: a disc in an eighth of the cell for each dot
        return dots.bit_count() * 0.35 / 8
    return 0.04 if text in ".,'`:;·" else 0.10 if text in '-_~^"!|/\\()[]{}<>=+*─│' else 0.22


@lru_cache(1000)
def light(rgb: tuple[int, ...], weights: tuple[float, ...]) -> float:
    """Return the light of a colour against white, for weights of the linear sRGB channels."""
    linear = [c / 3294.6 if c <= 10.3 else ((c / 255 + 0.055) / 1.055) ** 2.4 for c in rgb]
    return sum(weight * channel for weight, channel in zip(weights, linear, strict=True))


@lru_cache(10_000)
def _cell(attrs: pyte.screens.Char, character: str) -> pyte.screens.Char:
    return attrs._replace(data=character)


class Look(NamedTuple):
    """What one cell gives: its light against a white one, and whether it is lit at all."""

    photopic: float
    scotopic: float
    lit: bool


@dataclass
class Frame:
    """One look at the whole screen: its light against all white, and how many cells are lit."""

    photopic: float
    scotopic: float
    lit: int


class Glass(pyte.Screen):
    """The screen of a terminal, with its default and palette colours."""

    def __init__(self, columns: int, rows: int, keeps_cube: bool = False) -> None:
        self.keeps_cube = keeps_cube
        self.palette: dict[int, tuple[int, ...]] = {}
        self.defaults: dict[int, tuple[int, ...]] = {}
        self.leaks: dict[str, None] = {}
        self.main: dict[int, dict[int, pyte.screens.Char]] | None = None
        self.bells = 0
        self._looks: dict[pyte.screens.Char, Look] = {}  # of cells alike, while the colours stay
        super().__init__(columns, rows)

    @property
    def display(self) -> list[str]:
        """The text of each row, as the class above has it, which asks each character for its width."""
        return [self._text_of(self.buffer[row]) for row in range(self.lines)]

    def _text_of(self, row: Mapping[int, pyte.screens.Char]) -> str:
        cells = [row[column].data for column in range(self.columns)]
        if max(text := "".join(cells)) < _WIDEST_FROM:
            return text
        shown, is_under = [], False  # a wide character covers the cell after its own, whatever is in it
        for cell in cells:
            if not is_under:
                shown.append(cell)
            is_under = not is_under and wcwidth(cell[:1]) == 2
        return "".join(shown)

    def select_graphic_rendition(self, *codes: int, **_: object) -> None:
        """Keep colours as they were asked for: an index, three levels, or the default."""
        todo = list(codes or (0,))
        attrs = self.cursor.attrs
        while todo:
            code = todo.pop(0)
            if code in (38, 48):
                size = {2: 4, 5: 2}.get(todo[0] if todo else 0, 0)
                color: Any
                color, todo = tuple(todo[1:size]), todo[size:]
                attrs = attrs._replace(**{"fg" if code == 38 else "bg": color})
            elif code == 0:
                attrs = self.default_char
            elif code in _ATTRIBUTES:
                name, value = _ATTRIBUTES[code]
                attrs = attrs._replace(**{name: value})
        self.cursor.attrs = attrs

    def draw(self, data: str) -> None:
        """Draw, and look at what has been drawn."""
        attrs, start = self.cursor.attrs, self.cursor.x
        if data.isascii() and data.isprintable() and start + len(data) <= self.columns and self._is_plain():
            # As the class above does it, but without its questions about each character, which take long.
            line = self.buffer[self.cursor.y]
            for place, character in enumerate(data, start):
                line[place] = _cell(attrs, character)
            self.cursor.x += len(data)
            self.dirty.add(self.cursor.y)
        else:
            super().draw(data)
        self.examine(self.cursor.attrs._replace(data=data.strip()[:1] or " "), data)

    def _is_plain(self) -> bool:
        """Whether characters replace what stands there, in the usual set."""
        return not self.charset and self.g0_charset is LAT1_MAP and IRM not in self.mode

    def bell(self, *_: object) -> None:
        """Count: a visual bell is a flash."""
        self.bells += 1

    def colour(self, asked: Any, number: int, bold: bool = False) -> tuple[int, ...]:
        """Return what a cell's colour looks like; `number` 10 for ink, 11 for ground."""
        if asked == "default":
            return self.defaults.get(number, WHITE if number == 10 else BLACK)
        if len(asked) == 3:
            return asked
        index = asked[0] + (8 if bold and asked[0] < 8 else 0)
        return self.palette.get(index, WHITE if index < 16 else _CUBE[index - 16])

    def lights(self, cell: pyte.screens.Char) -> list[tuple[tuple[int, ...], float]]:
        """Return the colours a cell shows and the share of it that each takes."""
        ink, ground = self.colour(cell.fg, 10, cell.bold), self.colour(cell.bg, 11)
        if cell.reverse:
            ink, ground = ground, ink
        share = min(1.0, coverage(cell.data) + 0.06 * bool(cell.underscore))
        return [(ink, share)] * bool(share) + [(ground, 1 - share)]

    def examine(self, cell: pyte.screens.Char, where: str) -> Look:
        """Look at this cell, and note a leak."""
        if seen := self._looks.get(cell):
            return seen
        photopic = scotopic = 0.0
        lit = False
        for rgb, share in self.lights(cell):
            photopic += share * light(rgb, PHOTOPIC)
            scotopic += share * light(rgb, SCOTOPIC)
            lit |= any(rgb)
            if rgb[1] or rgb[2]:
                self.leaks.setdefault(f"{rgb} asked as {cell.fg} on {cell.bg}: {where.strip()[:40]!r}")
        return self._looks.setdefault(cell, Look(photopic, scotopic, lit))

    def frame(self) -> Frame:
        """Look at the whole screen."""
        alike: Counter[int] = Counter()  # by identity: to compare every cell would take far longer
        blank = self.default_char
        cells_of: dict[int, pyte.screens.Char] = {id(blank): blank}
        for row in range(self.lines):
            self.buffer[row].pop(self.columns, None)  # the class above pushes one cell too far out
            drawn = self.buffer[row].values()
            alike.update(map(id, drawn))
            alike[id(blank)] += self.columns - len(drawn)
            cells_of.update(zip(map(id, drawn), drawn, strict=True))
        photopic = scotopic = 0.0
        lit = 0
        for cell, count in ((cells_of[name], count) for name, count in alike.items() if count):
            seen = self.examine(cell, f"on the screen: {cell.data}")
            photopic += count * seen.photopic
            scotopic += count * seen.scotopic
            lit += count * seen.lit
        cells = self.lines * self.columns
        return Frame(photopic / cells, scotopic / cells, lit)

    def full_screen(self, on: bool) -> None:
        """Enter or leave the alternate screen."""
        if on and self.main is None:
            self.main = {y: dict(line) for y, line in self.buffer.items()}
            self.buffer.clear()
        elif not on and self.main is not None:
            self.buffer.clear()
            for y, line in self.main.items():
                self.buffer[y].update(line)
            self.main = None
        self.frame()

    def set_palette(self, colours: Mapping[int, tuple[int, ...]]) -> None:
        """Set colours of the palette."""
        self.palette.update({i: rgb for i, rgb in colours.items() if i < 16 or not self.keeps_cube})
        self._look_again()

    def give_back_palette(self) -> None:
        """Forget the colours of the palette; what stands there in them is looked at when it is next drawn."""
        self.palette.clear()
        self._looks.clear()

    def osc(self, body: str) -> None:
        """Set or give back default and palette colours."""
        code, _, rest = body.partition(";")
        if code in {"10", "11", "12"}:
            self.defaults[int(code)] = _rgb(rest)
        elif code in {"110", "111", "112"}:
            self.defaults.pop(int(code) - 100, None)
        elif code == "4":
            parts = rest.split(";")
            return self.set_palette(dict(zip(map(int, parts[::2]), map(_rgb, parts[1::2]), strict=True)))
        elif code == "104":
            return self.give_back_palette()
        return self._look_again()

    def _look_again(self) -> None:
        self._looks.clear()
        self.frame()


def _rgb(text: str) -> tuple[int, ...]:
    return tuple(int(part[:2], 16) for part in text.removeprefix("rgb:").split("/"))
