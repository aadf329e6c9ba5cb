"""The page of `nightmode terminal`: how dark and red this terminal can be."""

from textwrap import fill

from nightmode.light.depth import Depth
from nightmode.light.promises import SIGNS, Promises
from nightmode.light.returning import Returns

_DEPTHS = {
    Depth.TRUE: "true colour: any level of red, so that all steps of + and - look different",
    Depth.CUBE: "256 colours: five reds; steps of + and - look different only where the palette can be set",
    Depth.SIXTEEN: "unknown, or 16 colours: one or two reds; set TERM to a name that ends in -256color",
    Depth.CONSOLE: "a text console: six reds that the program sets itself",
}
WIDTH = 79
_NOT_TOLD = "it does not say: look at it in the dark first"


def terminal_page(found: Promises, name: str, size: tuple[int, int], is_utf8: bool) -> str:
    """Return a page of text: a line for each property, and what to check by eye.

    name  what the terminal calls itself (TERM)
    size  columns, rows
    """
    rows = (
        ("terminal", f"{name or 'no name'}, {size[0]} columns by {size[1]} rows{_small(size)}"),
        ("red", _DEPTHS[found.depth]),
        ("own colours", _own_colours(found)),
        ("mouse", _mouse(found.mouse)),
        ("signs", _signs(found.cells, is_utf8)),
    )
    width = max(len(label) for label, _ in rows) + 2
    under = " " * width
    lines = [
        fill(f"{label:<{width}}{words}", WIDTH, subsequent_indent=under, break_on_hyphens=False)
        for label, words in rows
    ]
    looks = fill(
        f"Look yourself: {SIGNS} are a disc, a block of dots, degrees and seconds. A border, a scroll bar, "
        "tabs and the pointer belong to the terminal: no program reaches them; docs/terminals.md tells more.",
        WIDTH,
    )
    return "\n".join([*lines, "", looks])


def _own_colours(found: Promises) -> str:
    if found.how is Returns.NEVER:
        return "it cannot be given them back: you are asked before they are taken"
    if found.takes is None:
        return _NOT_TOLD
    if not found.takes:
        return "it keeps them: its border stays bright, and --stay-red cannot hold"
    return (
        "made red and black, and given back afterwards" if found.gives_back else "taken, but not given back"
    )


def _mouse(sends: bool | None) -> str:
    if sends is None:
        return _NOT_TOLD.replace("look at it", "drag and right-click")
    return (
        "clicks go to the program, which ignores them"
        if sends
        else "it marks text and opens menus in its colours"
    )


def _signs(cells: int | None, is_utf8: bool) -> str:
    if not is_utf8:
        return "the locale is not UTF-8: start it with LC_ALL=C.UTF-8, or signs such as ° come out as two"
    if cells is None:
        return _NOT_TOLD
    return (
        "one cell each"
        if cells == len(SIGNS)
        else f"{cells} cells for {len(SIGNS)} signs: columns will not line up"
    )


def _small(size: tuple[int, int]) -> str:
    return "" if size[0] >= 60 and size[1] >= 18 else "; 60 by 18 is the least"
