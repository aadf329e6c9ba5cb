"""Questions in the terminal, with prompt and answer in red if the observer wants that."""

import os
import sys
from collections.abc import Callable

from nightmode.errors import NightmodeError

LONGEST_ANSWER = 10_000


def asker(red: bool) -> Callable[[str], str]:
    """Return a function that asks for a line: the usual input, or one in red, for use in `red_stdout`."""
    return _ask_in_red if red and sys.stdout.isatty() else _ask


def _ask(prompt: str) -> str:
    """Ask for a line. EOFError at the end of input, or without one; NightmodeError for an endless line."""
    if sys.stdin is None:
        raise EOFError
    if sys.stdin.isatty():
        return input(prompt)
    sys.stdout.write(prompt)
    sys.stdout.flush()
    line = sys.stdin.readline(LONGEST_ANSWER + 1)
    if not line:
        raise EOFError
    if len(line) > LONGEST_ANSWER:
        raise NightmodeError(
            "answers", f"a line has over {LONGEST_ANSWER} characters", "write one answer a line"
        )
    return line.rstrip("\r\n")


def _ask_in_red(prompt: str) -> str:
    from nightmode.light.depth import Depth, sgr
    from nightmode.light.terminal import START_LEVEL, said_in_red, terminal_depth

    depth = terminal_depth()
    red = sgr(Depth.SIXTEEN if depth is Depth.CONSOLE else depth, START_LEVEL)
    # The terminal echoes what is typed in the colour that is set: red must outlast the prompt, and be set
    # in the same write. Whatever is printed next ends it.
    sys.stdout.flush()
    os.write(sys.stdout.fileno(), f"{said_in_red(prompt)}{red}".encode())
    try:
        return _ask("")
    except BaseException:
        os.write(sys.stdout.fileno(), b"\x1b[0m")
        raise
