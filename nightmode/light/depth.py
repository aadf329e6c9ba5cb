"""The sequences for a level of red on each kind of terminal. Pure, and without heavy imports.

Levels of red run from 0 to 255 (the red channel of sRGB, green and blue always 0). Where a terminal has no
true colour only the pure reds of the 256-colour cube are used: 95, 135, 175, 215, 255.
"""

from collections.abc import Mapping
from enum import Enum
from functools import lru_cache

CUBE = (0, 95, 135, 175, 215, 255)
_INDEX = {0: 16, 95: 52, 135: 88, 175: 124, 215: 160, 255: 196}
CUBE_INDICES = tuple(index for step, index in _INDEX.items() if step)
_CONSOLE_SLOT = {95: 1, 135: 2, 175: 3, 215: 4, 255: 5}
CONSOLE_MARK = 6
ST = "\x1b\\"  # the end of an OSC; the other end, BEL, would flash a terminal that does not know the OSC


class Depth(Enum):
    """The depth of colour of a terminal."""

    TRUE = "true colour: any level"
    CUBE = "256 colours: the five reds of the cube, by index"
    SIXTEEN = "unknown or 16 colours: colour 1, then the cube's red for those that know it"
    CONSOLE = "the Linux console: 16 colours, every one of which the program sets itself"


def depth_of(env: Mapping[str, str], windows: bool = False) -> Depth:
    """Return the depth of the terminal, from the environment variables.

    NO_COLOR is ignored: without colour the text would be white. Inside tmux and screen true colour is never
    used, because without the RGB feature they turn its darkest reds grey; an index of the cube stays red.
    """
    term = env.get("TERM", "")
    if term == "linux":
        return Depth.CONSOLE
    if "TMUX" in env or term.startswith("tmux"):
        return Depth.CUBE
    if term.startswith("screen") or "STY" in env:
        return Depth.CUBE if "256color" in term else Depth.SIXTEEN
    if term == "dumb":
        return Depth.SIXTEEN
    if env.get("COLORTERM", "").lower() in {"truecolor", "24bit"} or term.endswith("-direct") or windows:
        return Depth.TRUE
    return Depth.CUBE if "256color" in term else Depth.SIXTEEN


def snap_down(level: int) -> int:
    """Return the brightest red of the cube not above `level`; the lowest, 95, for anything dark but lit.

    Down, so that nothing becomes brighter; only what is darker than the lowest red gets that, so as not to
    vanish.
    """
    return 0 if level <= 0 else max((step for step in CUBE if 0 < step <= level), default=CUBE[1])


@lru_cache(1024)
def sgr(depth: Depth, level: int, marked: bool = False) -> str:
    """Return the escape sequence for text of this level on black, with nothing else lit.

    level   0-255; codes of `CUBE` on the Linux console, where they name the slots set by `set_palette`
    marked  a line under the text (on the console, where a line is a change of colour, a dark ground)
    """
    line = "4;" if marked else ""
    if depth is Depth.TRUE:
        return f"\x1b[0;{line}38;2;{level};0;0;48;2;0;0;0m"
    step = snap_down(level)
    if depth is Depth.CONSOLE:
        ground = 40 + CONSOLE_MARK if marked else 40
        return f"\x1b[0;{30 + _CONSOLE_SLOT.get(step, 0)};{ground}m"
    cube = f"38;5;{_INDEX[step]};48;5;16"
    if depth is Depth.CUBE:
        return f"\x1b[0;{line}{cube}m"
    # A terminal that does not know 38;5;N may take the 5 for blinking; 25 ends that.
    return f"\x1b[0;{line}{31 if step else 30};40;{cube};25m"


def cube_index(level: int) -> int:
    """Return the palette index of a red of the cube."""
    return _INDEX[snap_down(level)]


def set_palette(depth: Depth, levels: Mapping[int, int]) -> str:
    """Return the sequence that gives palette colours these levels of red (index -> level)."""
    if depth is Depth.CONSOLE:
        return "".join(f"\x1b]P{index:x}{level:02x}0000" for index, level in levels.items() if index < 16)
    # One sequence a colour: some terminals read no more than the first few of a long one.
    return "".join(f"\x1b]4;{index};rgb:{level:02x}/00/00{ST}" for index, level in levels.items())


def own_colours(depth: Depth, ink: int) -> str:
    """Return the sequence that makes the terminal's own colours red on black.

    They are the default, cursor, pointer and selection colours (OSC 10 to 12, 13 and 14, 17 and 19 of xterm's
    control sequences) and the first sixteen of the palette. What is selected looks like all the rest, so that
    it is no brighter; its background is not quite black, because xterm inverts the text if both are equal.
    """
    palette = {index: ink if index else 0 for index in range(16)}
    if depth is Depth.CONSOLE:
        return set_palette(depth, palette)
    red, black, nearly = f"rgb:{ink:02x}/00/00", "rgb:00/00/00", "rgb:01/00/00"
    asked = {10: red, 11: black, 12: red, 13: red, 14: black, 17: nearly, 19: red}
    own = [f"\x1b]{what};{colour}{ST}" for what, colour in asked.items()]
    return "".join(own) + set_palette(depth, palette)


def through_screen(sequence: str, env: Mapping[str, str]) -> str:
    """Return the sequence wrapped so that GNU screen passes it on to the terminal around it.

    tmux keeps default and palette colours for each pane itself, and needs no wrapping.
    """
    if "STY" not in env or not sequence:
        return sequence
    parts = sequence.split(ST)
    return sequence + "".join(f"\x1bP{part}\x07{ST}" for part in parts if part)
