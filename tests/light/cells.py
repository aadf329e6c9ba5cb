"""A scan of every cell that Textual would send: for tests with the pilot, on any screen."""

from typing import NamedTuple

from textual._context import visible_screen_stack


class Lit(NamedTuple):
    """A cell that is not pure red on black."""

    row: int
    column: int
    text: str
    why: str


def strips(app):
    """Return the lines of the screen as they go to the driver, the screens under a modal one included."""
    token = visible_screen_stack.set(list(app._background_screens))
    try:
        return app.screen._compositor.render_strips()
    finally:
        visible_screen_stack.reset(token)


def wrong_cells(app):
    """Return every run of cells that is not explicit pure red on explicit black, in a plain style."""
    wrong = []
    for row, strip in enumerate(strips(app)):
        column = 0
        for segment in strip:
            if why := _why_wrong(segment.style):
                wrong.append(Lit(row, column, segment.text, why))
            column += segment.cell_length
    return wrong


def _why_wrong(style):
    if style is None or style.color is None or style.bgcolor is None:
        return "a default colour"
    if style.color.triplet is None or style.bgcolor.triplet is None:
        return f"a palette colour: {style}"
    red, green, blue = style.color.triplet
    if green or blue or not 0 <= red <= 255:
        return f"ink {style.color.triplet}"
    if tuple(style.bgcolor.triplet) != (0, 0, 0):
        return f"ground {style.bgcolor.triplet}"
    if style.bold or style.blink or style.blink2 or style.reverse or style.dim or style._meta:
        return f"an attribute: {style}"
    return ""


def assert_all_red(app):
    """Fail unless every cell of the screen is pure red on black."""
    assert strips(app), "there is no screen to look at"
    assert wrong_cells(app) == []


def lit_cells(app):
    """Return how many cells show a glyph or an underline in any red."""
    return sum(
        len(segment.text) if segment.style.underline else sum(not c.isspace() for c in segment.text)
        for strip in strips(app)
        for segment in strip
        if segment.style.color.triplet.red
    )


def levels(app):
    """Return the levels of red of the visible text on the screen."""
    return {
        segment.style.color.triplet.red
        for strip in strips(app)
        for segment in strip
        if segment.text.strip() or segment.style.underline
    }
