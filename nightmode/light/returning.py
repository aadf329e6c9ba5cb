"""Gives a terminal its own colours back. One sequence does for most; a few need more, or have none."""

import contextlib
import os
import re
import select
import time
from collections.abc import Callable, Iterator, Mapping
from enum import Enum

from nightmode.errors import NightmodeError
from nightmode.light.depth import CUBE_INDICES, ST, Depth

try:
    import termios
except ImportError:  # Windows has no termios, and is never asked
    termios = None  # type: ignore[assignment]

#: The default text and background colours, read where only naming them restores them.
TOLD = (10, 11)
#: How long a terminal may take to tell its colours.
ANSWER_S = 0.4
#: Where st keeps its cursor, default ink and default ground (its config.def.h: defaultcs and so on).
_OF_ST = (256, 257, 258, 259)
#: The darkest red of the cube, and a level that it does not have by itself.
TRIED, TRIED_LEVEL = CUBE_INDICES[0], 0x40
KEEPS_RED = "This terminal cannot be given its own colours back: its window will stay red."
_REPLY = re.compile(rb"\x1b\](1[01]);([\w:/#]+)(?=[\x07\x1b])")
_PALETTE = re.compile(rb"\x1b\]4;52;rgb:([0-9a-fA-F]{2,4})/0+/0+(?=[\x07\x1b])")
#: What a terminal answers when it is asked what kind it is: every one does, and so this is asked last.
_KIND_ASKED, _KIND = "\x1b[c", re.compile(rb"\x1b\[\?[\d;]*c")


class Returns(Enum):
    """What a terminal needs to get its own colours back; measured, see docs/terminals.md."""

    AT_ONCE = "one sequence for the palette, one for each of the others"
    ONE_BY_ONE = "a sequence for every colour, the default ones among them by number"
    BY_NAME = "a sequence for every colour of the palette; the default ones have to be named again"
    NEVER = "it knows no such sequence, and does not tell what its colours were"


def returns(env: Mapping[str, str]) -> Returns:
    """Return what the terminal that the environment describes needs."""
    term = env.get("TERM", "")
    if "TMUX" in env or "STY" in env:
        return Returns.AT_ONCE
    if term.startswith("rxvt"):
        return Returns.NEVER
    if term.startswith("mlterm"):
        return Returns.BY_NAME
    return Returns.ONE_BY_ONE if term.startswith(("st-", "stterm")) else Returns.AT_ONCE


def give_back_colours(
    depth: Depth, how: Returns = Returns.AT_ONCE, told: Mapping[int, str] | None = None
) -> str:
    """Return the sequence that gives the user's own colours back.

    told  the default colours as the terminal told them before they were set (10 and 11 -> specification)
    """
    if depth is Depth.CONSOLE:
        return "\x1b]R"
    if how is Returns.NEVER:  # it would print the ends of sequences that it does not know
        return ""
    whole = "".join(f"\x1b]{what}{ST}" for what in (104, 110, 111, 112, 113, 114, 117, 119))
    if how is Returns.AT_ONCE:
        return whole
    numbers = [*range(16), *CUBE_INDICES, *(_OF_ST if how is Returns.ONE_BY_ONE else ())]
    each = "".join(f"\x1b]104;{number}{ST}" for number in numbers)
    return whole + each + "".join(f"\x1b]{what};{colour}{ST}" for what, colour in (told or {}).items())


@contextlib.contextmanager
def unbuffered(fd: int) -> Iterator[None]:
    """A context in which a terminal is read byte by byte, without echo."""
    before = termios.tcgetattr(fd)
    raw = termios.tcgetattr(fd)
    raw[3] &= ~(termios.ICANON | termios.ECHO)
    termios.tcsetattr(fd, termios.TCSANOW, raw)
    try:
        yield
    finally:
        termios.tcsetattr(fd, termios.TCSANOW, before)


def ask(fd: int, question: str, is_enough: Callable[[bytes], bool], within_s: float) -> bytes:
    """Return what a terminal answers, as soon as that is enough, or all that came within so many seconds."""
    heard, until_s = b"", time.monotonic() + within_s
    with unbuffered(fd):
        os.write(fd, question.encode())
        while not is_enough(heard) and (left_s := until_s - time.monotonic()) > 0:
            if select.select([fd], [], [], left_s)[0]:
                heard += os.read(fd, 4096)
    return heard


def ask_all(fd: int, questions: str, within_s: float) -> bytes:
    """Return all that a terminal answers to some questions within so many seconds, and what kind it is."""
    return ask(fd, questions + _KIND_ASKED, lambda heard: bool(_KIND.search(heard)), within_s)


def learn_colours(fd: int, stay_red: bool) -> dict[int, str]:
    """Return the colours that must be named to restore them; ask the observer if they cannot be restored.

    NightmodeError if the observer prefers to keep the colours; then nothing has been changed.
    """
    how = returns(os.environ)
    if stay_red or how in {Returns.AT_ONCE, Returns.ONE_BY_ONE}:
        return {}
    told = _ask_colours(fd) if how is Returns.BY_NAME else {}
    if len(told) < len(TOLD):
        os.write(fd, f"{KEEPS_RED} enter: go on   any other key: leave it as it is\r\n".encode())
        with unbuffered(fd):
            select.select([fd], [], [])
            if os.read(fd, 1) not in {b"\r", b"\n", b" "}:
                raise NightmodeError(
                    "terminal", "left as it is", "use another, or go on unasked with --stay-red"
                )
    return told


def takes_palette(fd: int, depth: Depth) -> bool:
    """Return whether the terminal shows a level set for one of the cube's reds: it is set, then read.

    With true colour and on the console this is true without asking. A terminal that does not answer does not.
    """
    if depth in {Depth.TRUE, Depth.CONSOLE}:
        return True
    if os.environ.get("TERM", "dumb") == "dumb":
        return False
    question = f"\x1b]4;{TRIED};rgb:{TRIED_LEVEL:02x}/00/00{ST}\x1b]4;{TRIED};?{ST}"
    with contextlib.suppress(OSError, termios.error):
        told = _PALETTE.search(ask_all(fd, question, ANSWER_S))
        return told is not None and int(told[1][:2], 16) == TRIED_LEVEL
    return False


def red_stays(how: Returns) -> str:
    """Return a warning for a terminal on which nothing restores the colours after the program has ended."""
    return f"{KEEPS_RED} Open a new one." if how in {Returns.NEVER, Returns.BY_NAME} else ""


def _ask_colours(fd: int) -> dict[int, str]:
    """Return a terminal's default colours; those that it does not tell in time are missing."""
    question = "".join(f"\x1b]{what};?{ST}" for what in TOLD)

    def are_all_told(heard: bytes) -> bool:
        return len(_default_colours(heard)) == len(TOLD)

    with contextlib.suppress(OSError, termios.error):
        return _default_colours(ask(fd, question, are_all_told, ANSWER_S))
    return {}


def _default_colours(heard: bytes) -> dict[int, str]:
    return {int(what): colour.decode("ascii", "ignore") for what, colour in _REPLY.findall(heard)}
