"""The driver's part of the guard: it writes only red on black, whatever passes the filters."""

import re
from functools import lru_cache
from typing import Any, cast

from textual.app import App
from textual.driver import Driver

from nightmode.app.guard.guarded import Guarded
from nightmode.light.depth import Depth, sgr
from nightmode.light.terminal import START_LEVEL

_SGR_RUN = re.compile(r"(?:\x1b\[[0-9;:]*m)+")
# Bells, titles, links, clipboard, pointer shapes; the cursor is shown again by the terminal's own closing.
_DROPPED = re.compile(r"\x1b\][^\x07\x1b]*(?:\x07|\x1b\\)|\x07|\x1b\[\?25h")


@lru_cache(4096)
def red_sgr(run: str, depth: Depth) -> str:
    """Return one sequence, red on black, for a run of SGR sequences, read as if nothing had been set before.

    Ink that is not a true-colour pure red (a palette index, the default, grey) becomes the darkest red that
    every terminal has, so that a colour from anywhere still cannot be other than red.
    """
    level, marked = START_LEVEL, False
    codes = [int(code or 0) for code in re.findall(r"[0-9]+|(?<=\[)(?=m)", run)]
    while codes:
        code = codes.pop(0)
        if code == 0:
            level, marked = START_LEVEL, False
        elif code in (4, 24):
            marked = code == 4
        elif code in (38, 48, 58):
            size = {2: 4, 5: 2}.get(codes[0] if codes else 0, 0)
            color, codes = codes[:size], codes[size:]
            if code == 38:
                level = color[1] if len(color) == 4 and color[2:] == [0, 0] else START_LEVEL
    return sgr(depth, min(level, 255), marked)


def guarded(data: str, depth: Depth) -> str:
    """Return data with every SGR sequence made red on black; one equal to the present state is left out."""
    in_force = ""

    def replace(match: re.Match[str]) -> str:
        nonlocal in_force
        red = red_sgr(match.group(), depth)
        if red == in_force:
            return ""
        in_force = red
        return red

    return _SGR_RUN.sub(replace, _DROPPED.sub("", data))


class Guard(Driver):
    """Mixin for a driver: rewrites everything that is written."""

    def __init__(self, app: App[Any], **options: Any) -> None:
        super().__init__(app, **options)
        self._guarded = cast(Guarded, app)

    def write(self, data: str) -> None:
        """Write data with its colours made red."""
        super().write(guarded(data, self._guarded.depth))  # type: ignore[safe-super]  # the next class writes

    def write_palette(self, sequence: str) -> None:
        """Write a palette sequence made by the guard itself, in order with the frames around it."""
        super().write(sequence)  # type: ignore[safe-super]  # the next class writes

    def stop_reading(self) -> None:
        """Tell a thread that reads keys to end; to be overridden by a driver that has one."""
