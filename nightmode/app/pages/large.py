"""Figures three rows high, drawn with thin lines: readable from a step away, and with few lit dots."""

from nightmode.app.pages.dots import Style

_THIN = {
    "0": "┌─┐│ │└─┘", "1": "  ╷  │  ╵", "2": "╶─┐┌─┘└─╴", "3": "╶─┐╶─┤╶─┘", "4": "╷ ╷└─┤  ╵",
    "5": "┌─╴└─┐╶─┘", "6": "┌─╴├─┐└─┘", "7": "╶─┐  │  ╵", "8": "┌─┐├─┤└─┘", "9": "┌─┐└─┤╶─┘",
    "+": "   ╶┼╴   ", "-": "   ╶─╴   ",
}  # fmt: skip
_PLAIN = {
    "0": " _ | ||_|", "1": "     |  |", "2": " _  _||_ ", "3": " _  _| _|", "4": "   |_|  |",
    "5": " _ |_  _|", "6": " _ |_ |_|", "7": " _   |  |", "8": " _ |_||_|", "9": " _ |_| _|",
    "+": "   -+-   ", "-": "   ---   ",
}  # fmt: skip
ROWS = 3


def large(text: str, style: Style) -> list[str]:
    """Return a text as three rows: digits and signs large, everything else small in the lowest row."""
    glyphs = _THIN if style.has_dots else _PLAIN
    rows = ["", "", ""]
    for character in text:
        glyph = glyphs.get(character)
        for row in range(ROWS):
            if glyph is not None:
                rows[row] += glyph[3 * row : 3 * row + 3] + " "
            elif row == ROWS - 1 or character == " ":
                rows[row] += character + " "
            else:
                rows[row] += "  "
    return [row.rstrip() for row in rows]
