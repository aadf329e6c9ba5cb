"""The widget that shows a page: rows of text in the roles of the theme."""

from collections.abc import Callable, Sequence

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from nightmode.app.pages.line import SHOWN_AS, Line, Role, fit_line
from nightmode.model.theme import Red


class Page(Widget):
    """Rows of text. `show` gives it lines, and it draws those that have changed; resized asks for more."""

    DEFAULT_CSS = "Page { width: 1fr; height: 1fr; }"

    def __init__(self, red: Red, resized: Callable[[], None]) -> None:
        super().__init__()
        self._resized = resized
        self._styles: dict[Role, Style] = {
            role: Style(color=f"rgb({getattr(red, role)},0,0)", bgcolor="rgb(0,0,0)")
            for role in ("strong", "text", "faint", "line", "alert")
        }
        self._styles |= {role: self._styles[shown] for role, shown in SHOWN_AS.items()}
        self._lines: tuple[Line, ...] = ()

    @property
    def lines(self) -> tuple[Line, ...]:
        """The rows shown now."""
        return self._lines

    def show(self, lines: Sequence[Line]) -> None:
        """Show these rows from the top."""
        before, self._lines = self._lines, tuple(lines)
        for row in range(max(len(before), len(self._lines))):
            if before[row : row + 1] != self._lines[row : row + 1]:
                self.refresh(Region(0, row, self.size.width, 1))

    def on_resize(self) -> None:
        """Ask for the rows of the new size: of the screen, or beside a row for typing that comes or goes."""
        self._resized()

    def render_line(self, y: int) -> Strip:
        """Return row y as Textual draws it."""
        pieces = self._lines[y] if y < len(self._lines) else ()
        columns = self.size.width
        segments = [Segment(text, self._styles[role]) for text, role in fit_line(pieces, columns)]
        return Strip(segments).adjust_cell_length(columns, self._styles["line"])
