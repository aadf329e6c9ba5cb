"""Replaces signs that a terminal may draw in full colour by plain ones. Pure.

Terminals take emoji, flags and keycaps from a font that holds pictures: their white and yellow shine whatever
colour is asked for. Here each becomes a plain sign, or its name in words. Only what is shown is changed, not
what a file holds.
"""

import re
import unicodedata
from collections.abc import Callable
from functools import cache

#: Characters with the property Emoji, and those set aside for emoji to come (Extended_Pictographic from
#: U+1F000 on), without ASCII: Unicode 15.0, emoji-data.txt. Letters of flags and tones of skin come below.
_SIGNS = """
a9 ae 203c 2049 2122 2139 2194-2199 21a9-21aa 231a-231b 2328 23cf 23e9-23f3 23f8-23fa 24c2 25aa-25ab
25b6 25c0 25fb-25fe 2600-2604 260e 2611 2614-2615 2618 261d 2620 2622-2623 2626 262a 262e-262f
2638-263a 2640 2642 2648-2653 265f-2660 2663 2665-2666 2668 267b 267e-267f 2692-2697 2699 269b-269c
26a0-26a1 26a7 26aa-26ab 26b0-26b1 26bd-26be 26c4-26c5 26c8 26ce-26cf 26d1 26d3-26d4 26e9-26ea
26f0-26f5 26f7-26fa 26fd 2702 2705 2708-270d 270f 2712 2714 2716 271d 2721 2728 2733-2734 2744 2747
274c 274e 2753-2755 2757 2763-2764 2795-2797 27a1 27b0 27bf 2934-2935 2b05-2b07 2b1b-2b1c 2b50 2b55
3030 303d 3297 3299 1f000-1f0ff 1f10d-1f10f 1f12f 1f16c-1f171 1f17e-1f17f 1f18e 1f191-1f19a
1f1ad-1f1e5 1f201-1f20f 1f21a 1f22f 1f232-1f23a 1f23c-1f23f 1f249-1f3fa 1f400-1f53d 1f546-1f64f
1f680-1f6ff 1f774-1f77f 1f7d5-1f7ff 1f80c-1f80f 1f848-1f84f 1f85a-1f85f 1f888-1f88f 1f8ae-1f8ff
1f90c-1f93a 1f93c-1f945 1f947-1faff 1fc00-1fffd
"""
_PLAIN = {
    "©": "(c)", "®": "(R)", "™": "(TM)", "‼": "!!", "⁉": "!?", "❗❕❣": "!", "❓❔": "?", "ℹ": "i",
    "↔": "<->", "▶": "►", "◀": "◄", "▪◼◾⬛🔲": "■", "▫◻◽⬜🔳": "□", "⚫🔴🟠🟡🟢🔵🟣🟤": "●", "⚪⭕🔘": "○",
    "☀🌞": "☉", "⭐🌟": "★", "✔✅☑": "✓", "✖❌❎": "x", "✳✴❇✨": "*", "➕": "+", "➖": "-", "➡": "→",
    "⬅": "←", "⬆": "↑", "⬇": "↓", "〰": "~", "Ⓜ": "(M)",
}  # fmt: skip
_ONE = {ord(sign): plain for signs, plain in _PLAIN.items() for sign in signs}


def _class(ranges: str) -> str:
    """Return ranges of code points as the inside of a character class."""
    pairs = (part.partition("-") for part in ranges.split())
    return "".join(f"\\U{first:0>8}-\\U{last or first:0>8}" for first, _, last in pairs)


#: What follows a sign and changes it: selectors, an enclosing keycap, a tone of skin, the tags of a flag.
_WITH = "[\ufe0e\ufe0f\u20e3\U0001f3fb-\U0001f3ff\U000e0020-\U000e007f]*"
_FLAG = "[\U0001f1e6-\U0001f1ff]"
#: Below this, these are all the signs there are.
_FIRST, _BELOW = "\u203c", ("©", "®")


@cache
def _patterns() -> tuple[re.Pattern[str], re.Pattern[str]]:
    """Return two patterns: for a sign with all that belongs to it, and for the signs in that.

    Made only when a text needs them, because it takes long.
    """
    sign = f"[{_class(_SIGNS)}\U0001f3fb-\U0001f3ff]"
    coloured = f"(?P<flag>{_FLAG}+)|\u200d*{sign}{_WITH}(?:\u200d(?:{sign}{_WITH})?)*|[\ufe0e\ufe0f\u20e3]"
    return re.compile(coloured), re.compile(f"{_FLAG}|{sign}")


def _is_plain(text: str) -> bool:
    """Return whether a text surely holds no sign; a quick test that most texts pass."""
    return text.isascii() or (max(text) < _FIRST and not any(sign in text for sign in _BELOW))


def plain_signs(text: str) -> str:
    """Return text without anything that may be drawn in colour: `M 42 🔥` becomes `M 42 (fire)`."""
    return text if _is_plain(text) else _patterns()[0].sub(_plain, text)


def plain_cells(text: str, cells: Callable[[str], int]) -> str:
    """Return the same in exactly as many cells, for text whose place on the screen is fixed.

    cells  how many cells a text takes
    """

    def plain(match: re.Match[str]) -> str:
        room, shown = cells(match.group()), _plain(match)
        return (shown if cells(shown) <= room else "□"[:room]).ljust(room)

    return text if _is_plain(text) else _patterns()[0].sub(plain, text)


def _plain(match: re.Match[str]) -> str:
    if match["flag"]:
        return "".join(chr(ord(letter) - 0x1F1E6 + ord("A")) for letter in match["flag"])
    signs = _patterns()[1].findall(match.group())
    tones = {sign for sign in signs[1:] if "\U0001f3fb" <= sign <= "\U0001f3ff"}
    shown = [sign for sign in signs if sign not in tones]
    if len(shown) == 1 and ord(shown[0]) in _ONE:
        return _ONE[ord(shown[0])]
    return f"({', '.join(_name(sign) for sign in shown)})" if shown else ""


def _name(sign: str) -> str:
    """Return the name of a sign in words; the newest may have none here."""
    return unicodedata.name(sign, "sign").lower()
