"""Converts a theme's red levels to the levels sent to the terminal, for each step of glow. Pure.

A level is the red channel of sRGB, 0-255. Its light is `linear_light(level)`; how bright that looks goes with
the cube root of the light (CIE 1976 lightness without the straight piece near black, which belongs to the eye
adapted to a lit room). Glow steps are equal steps of that cube root.
"""

from bisect import bisect_left
from typing import TYPE_CHECKING

from nightmode.light.depth import CONSOLE_MARK, CUBE, Depth, cube_index, snap_down
from nightmode.records import Record

if TYPE_CHECKING:
    from nightmode.model.theme import Red

GLOW_STEPS = 8
DEFAULT_GLOW = 3
LOWEST_LIGHT = 0.235  # light of glow 0 as a share of the default glow's: just under a quarter
ROLES = ("line", "faint", "text", "strong", "alert")
#: The darkest level of each role that can still be made out in the dark: judged by eye, no published source.
FLOOR = {"line": 20, "faint": 40, "text": 48, "strong": 52, "alert": 56}
#: tmux without its RGB feature turns true-colour reds below 53 into a grey, whichever way they were set.
TINT_FLOOR = 56


def linear_light(level: int) -> float:
    """Return the light of a level, 0 to 1 of full red (IEC 61966-2-1, the sRGB curve)."""
    share = level / 255
    return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4


_LIGHT = [linear_light(level) for level in range(256)]


def level_of(light: float) -> int:
    """Return the brightest level whose light is not above this light (0 to 1)."""
    index = bisect_left(_LIGHT, light)
    return index if index < 256 and _LIGHT[index] == light else max(index - 1, 0)


class Paint(Record):
    """What one theme at one step of glow sends to one kind of terminal.

    table    for every level a style may ask for (0-255) the level that is sent
    text     the level sent for text that asks for nothing
    faint    the level sent for colours that are not ours, and for dimmed text
    palette  palette index -> level of red, to be set on the terminal before anything is drawn
    """

    table: tuple[int, ...]
    text: int
    faint: int
    palette: tuple[tuple[int, int], ...] = ()


BLACK = Paint(table=(0,) * 256, text=0, faint=0)


def glow_levels(red: "Red", glow: int) -> dict[str, int]:
    """Return the level of each role at a step of glow, 0 (lowest) to GLOW_STEPS - 1.

    The theme's own levels at DEFAULT_GLOW; at 0 under a quarter of their light, unless the theme is so dark
    that its text would vanish.
    """
    light = {role: _LIGHT[getattr(red, role)] for role in ROLES}
    lowest = max(LOWEST_LIGHT ** (1 / 3), min(1.0, (_LIGHT[FLOOR["text"]] / light["text"]) ** (1 / 3)))
    scale = (lowest + (1 - lowest) / DEFAULT_GLOW * glow) ** 3
    levels = {role: max(level_of(min(1.0, light[role] * scale)), FLOOR[role]) for role in ROLES}
    return levels if glow != DEFAULT_GLOW else {role: max(getattr(red, role), FLOOR[role]) for role in ROLES}


def paint(red: "Red", glow: int, depth: Depth, tints: bool = False) -> Paint:
    """Return what a theme sends to a terminal of this depth at this step of glow.

    tints  whether the terminal is known to take exact levels for the cube's reds: each role then has one
    """
    levels = glow_levels(red, glow)
    if depth is Depth.TRUE:
        table = _between(red, levels)
        return Paint(table, levels["text"], levels["faint"])
    if depth is Depth.CONSOLE:
        codes = dict(zip(ROLES, CUBE[1:], strict=True))
        slots = {slot: levels[role] for slot, role in enumerate(ROLES, start=1)}
        slots |= {CONSOLE_MARK: levels["line"]} | dict.fromkeys(range(7, 16), levels["text"])
        return Paint(_nearest_role(red, codes), codes["text"], codes["faint"], tuple(slots.items()))
    if tints:
        codes = dict(zip(ROLES, CUBE[1:], strict=True))
        palette = {cube_index(codes[role]): max(levels[role], TINT_FLOOR) for role in ROLES}
        palette |= dict.fromkeys(range(1, 16), levels["text"]) if depth is Depth.SIXTEEN else {}
        return Paint(_nearest_role(red, codes), codes["text"], codes["faint"], tuple(palette.items()))
    table = tuple(snap_down(level) for level in _between(red, levels))
    steps = {role: snap_down(levels[role]) for role in ROLES}
    palette = _tints(levels, steps)
    if depth is Depth.SIXTEEN:
        palette = dict.fromkeys(range(1, 16), levels["text"]) | palette
    return Paint(table, steps["text"], steps["faint"], tuple(palette.items()))


def role_light(red: "Red", glow: int, depth: Depth, tints: bool = False) -> dict[str, float]:
    """Return the light of each role as it is shown, divided by what text is meant to give at this glow.

    tints  whether the terminal takes exact levels for the cube's reds; else it shows the cube's own
    """
    levels = glow_levels(red, glow)
    meant = _LIGHT[levels["text"]]
    if depth in {Depth.TRUE, Depth.CONSOLE}:
        return {role: _LIGHT[level] / meant for role, level in levels.items()}
    if tints:
        return {role: _LIGHT[max(level, TINT_FLOOR)] / meant for role, level in levels.items()}
    steps = {role: snap_down(level) for role, level in levels.items()}
    tinted = _tints(levels, steps)  # it may take them all the same
    return {role: _LIGHT[max(step, tinted[cube_index(step)])] / meant for role, step in steps.items()}


def _between(red: "Red", levels: dict[str, int]) -> tuple[int, ...]:
    """Return the level sent for every level asked for, interpolated between those of the roles."""
    asked = [0] + [getattr(red, role) for role in ROLES] + [255]
    sent = [0] + [levels[role] for role in ROLES] + [levels["alert"]]
    table = [0] * 256
    for level in range(1, 256):
        upper = max(bisect_left(asked, level), 1)
        low, high = asked[upper - 1], asked[min(upper, len(asked) - 1)]
        share = (level - low) / (high - low) if high > low else 1.0
        table[level] = max(FLOOR["line"], round(sent[upper - 1] + share * (sent[upper] - sent[upper - 1])))
    return tuple(table)


def _nearest_role(red: "Red", codes: dict[str, int]) -> tuple[int, ...]:
    """Return for every level asked the code of the brightest role not above it, `line` at the least."""
    table = [0] * 256
    for level in range(1, 256):
        role = "line"
        for brighter in ROLES:
            if getattr(red, brighter) <= level:
                role = brighter
        table[level] = codes[role]
    return tuple(table)


def _tints(levels: dict[str, int], steps: dict[str, int]) -> dict[int, int]:
    """Return exact levels for the cube's reds in use, for terminals that let the palette be changed.

    A red shared by several roles gets the level of `text` if that is one of them, so that text is exact and
    never unreadable, else of its darkest role. A terminal that ignores this shows the cube's own red.
    """
    tints = {cube_index(steps[role]): max(levels[role], TINT_FLOOR) for role in reversed(ROLES)}
    return tints | {cube_index(steps["text"]): max(levels["text"], TINT_FLOOR)}
