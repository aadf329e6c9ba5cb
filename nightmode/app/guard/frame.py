"""Writes a page to the terminal, in red, before Textual is loaded to draw it."""

from collections.abc import Sequence

from nightmode.app.guard.levels import DEFAULT_GLOW, paint, role_light
from nightmode.app.pages.line import SHOWN_AS, Line, fit_line
from nightmode.light.depth import sgr
from nightmode.light.terminal import Terminal
from nightmode.model.theme import Red


def first_light(terminal: Terminal, red: Red) -> dict[str, float]:
    """Return the light of each role at the default glow, divided by what text is meant to give."""
    return role_light(red, DEFAULT_GLOW, terminal.depth, terminal.takes_palette)


def show_page(terminal: Terminal, red: Red, lines: Sequence[Line], size: tuple[int, int]) -> None:
    """Write a page of size (columns, rows) to the full screen, cell for cell as the app will draw it."""
    shown = paint(red, DEFAULT_GLOW, terminal.depth, terminal.takes_palette)
    rows = [
        f"\x1b[{row};1H"
        + "".join(
            sgr(terminal.depth, shown.table[getattr(red, SHOWN_AS.get(role, role))]) + text
            for text, role in fit_line(pieces, size[0])
        )
        for row, pieces in enumerate(lines[: size[1]], start=1)
    ]
    terminal.take_full_screen(terminal.paint(dict(shown.palette)) + "".join(rows))
