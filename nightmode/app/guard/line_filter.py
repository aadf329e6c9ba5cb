"""The last stage before the driver: whatever a widget asks for becomes red on black."""

from functools import lru_cache

from rich.color import Color as RichColor
from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter

from nightmode.app.guard.levels import BLACK, Paint

_GROUND = RichColor.from_rgb(0, 0, 0)


class RedFilter(LineFilter):
    """Maps every style, and the absence of one, to a level of pure red on black.

    Pure reds are scaled by the paint's table; any other colour becomes the paint's faint red; bold, italic,
    blinking, dim and reverse are dropped. A lit ground (a cursor, a selected row) becomes a line under the text:
    it marks as well, for a fraction of the light.

    Textual caches lines by filter, so another paint needs another instance.
    """

    def __init__(self, paint: Paint) -> None:
        super().__init__()
        self.paint = paint
        self._red = lru_cache(2048)(self._make_red)

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """Return the segments in red, without controls; blank ones where the paint is black."""
        if self.paint is BLACK:
            return [Segment(" " * segment.cell_length, self._red(None)) for segment in segments]
        red = self._red
        return [Segment(text, red(style)) for text, style, _control in segments]

    def _make_red(self, style: Style | None) -> Style:
        ink, ground = self._ink(style), 0
        underline = False
        if style is not None:
            ground = self._level(style.bgcolor, unset=0)
            underline = bool(style.underline)
            if style.reverse:
                ink, ground = ground, ink
            if style.dim:
                ink = min(ink, self.paint.faint)
        if ground > 0:
            ink, underline = max(ink, ground), True
        if self.paint is BLACK:
            ink, underline = 0, False
        return Style(color=RichColor.from_rgb(ink, 0, 0), bgcolor=_GROUND, underline=underline)

    def _ink(self, style: Style | None) -> int:
        return self.paint.text if style is None else self._level(style.color, unset=self.paint.text)

    def _level(self, color: RichColor | None, unset: int) -> int:
        """Return the level sent for a colour; `unset` for none and for the terminal's default."""
        if color is None or color.is_default:
            return unset
        red, green, blue = color.get_truecolor()
        if green == blue == 0:
            return self.paint.table[red]
        return self.paint.faint
