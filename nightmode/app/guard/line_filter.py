"""The last filter before the driver: whatever a widget asks for becomes red on black."""

from functools import lru_cache

from rich.cells import cell_len, set_cell_size
from rich.color import Color as RichColor
from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter

from nightmode.app.guard.levels import BLACK, Paint
from nightmode.light.signs import plain_cells

MARK_FROM = 24  # the dimmest background red that marks; focused widgets have weaker tints
_GROUND = RichColor.from_rgb(0, 0, 0)


class RedFilter(LineFilter):
    """Maps every style, and the absence of one, to a level of pure red on black.

    Pure reds are scaled by the paint's table; any other colour becomes the paint's faint red; bold, italic,
    blinking, dim and reverse are dropped. A lit ground (a cursor, a selected row) becomes a line under the
    text: it marks as well, for a fraction of the light.

    Textual caches lines by filter, so another paint needs another instance.
    """

    def __init__(self, paint: Paint) -> None:
        super().__init__()
        self.paint = paint
        self._red = lru_cache(2048)(self._make_red)

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """Return the segments in red, without control codes; blank ones where the paint is black."""
        if self.paint is BLACK:
            return [Segment(" " * segment.cell_length, self._red(None)) for segment in segments]
        red = self._red
        return [Segment(_plain(text), red(style)) for text, style, _control in segments]

    def _make_red(self, style: Style | None) -> Style:
        if style is None or self.paint is BLACK:
            return _style(self.paint.text, underline=False)
        unset = self.paint.text
        ink, ground = self._level(style.color, unset), self._level(style.bgcolor, 0)
        marked = ground > 0 and _is_mark(style.bgcolor)
        if style.reverse:
            ink, ground, marked = ground, ink, True
        if style.dim:
            ink = min(ink, self.paint.faint)
        if marked or ink == 0:
            ink = max(ink, ground)
        return _style(ink, underline=marked or bool(style.underline))

    def _level(self, color: RichColor | None, unset: int) -> int:
        """Return the level sent for a colour; `unset` for none and for the terminal's default."""
        if color is None or color.is_default:
            return unset
        red, green, blue = color.get_truecolor()
        if green == blue == 0:
            return self.paint.table[red]
        return self.paint.faint


@lru_cache(1024)
def _plain(text: str) -> str:
    """Return text in as many cells, without signs that a terminal may draw in colours of its own."""
    plain = plain_cells(text, cell_len)
    return plain if plain is text else set_cell_size(plain, cell_len(text))


def _is_mark(ground: RichColor | None) -> bool:
    """Return whether a background is one of our own reds; a slight tint or another colour marks nothing."""
    if ground is None or ground.is_default:
        return False
    red, green, blue = ground.get_truecolor()
    return green == blue == 0 and red >= MARK_FROM


def _style(level: int, underline: bool) -> Style:
    return Style(color=RichColor.from_rgb(level, 0, 0), bgcolor=_GROUND, underline=underline)
