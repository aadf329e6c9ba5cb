"""Lines of lists and books that hold more than one name: an object twice ("Praesepe (M 44)"), or two objects.

Pure text work; what a name means, `resolve` knows.
"""

import re

_IN_BRACKETS = re.compile(r"^(?P<before>[^()\[\]]+?)\s*[(\[](?P<within>[^()\[\]]+)[)\]]\s*$")
_JOINT = re.compile(r"\s*[/=&+,;]\s*|\s+(?:and|or)\s+|\s+[-–—]\s+|(?<=\d)[-–—](?=\d)", re.IGNORECASE)
#: A catalogue and a number, as in "M 81", "NGC7789", "Σ 2470"; then, perhaps, words.
_NUMBERED = re.compile(
    r"^(?P<catalogue>[^\W\d]+(?: [^\W\d]+)?[ \-]?)(?P<number>\d+)(?:\s+(?P<words>[^\W\d].+))?$"
)
#: Numbers of neighbours in the sky differ by little: 6960/92 is 6992, but 108/97 is not 197 (our own rule).
_NEAR = 50
_FLAMSTEED = re.compile(r"^\d+(?P<constellation>\s+[^\W\d]+)$")
_BARE_NUMBER = re.compile(r"^\d+$")


def parts_of(name: str) -> tuple[str, ...]:
    """Return the names within a name, none if it holds only one.

    A bare number takes the catalogue of the name before it, and the figures that it lacks: "M81/82" holds
    "M81" and "M82", "NGC 4038/9" holds "NGC 4038" and "NGC 4039". At the beginning it takes the constellation
    of the next: "40/41 Dra" holds "40 Dra" and "41 Dra".
    """
    if bracketed := _IN_BRACKETS.match(name):
        return bracketed["before"], bracketed["within"].strip()
    parts: list[str] = []
    for part in filter(None, _JOINT.split(name.strip())):
        before = _NUMBERED.match(parts[-1]) if parts and _BARE_NUMBER.match(part) else None
        parts.append(before["catalogue"] + _completed(part, before["number"]) if before else part)
    if len(parts) > 1:
        if _BARE_NUMBER.match(parts[0]) and (after := _FLAMSTEED.match(parts[1])):
            parts[0] += after["constellation"]
        return tuple(parts)
    numbered = _NUMBERED.match(name.strip())
    if numbered and numbered["words"]:
        return f"{numbered['catalogue']}{numbered['number']}", numbered["words"]
    return ()


def _completed(number: str, before: str) -> str:
    """Return a number with the first figures of the one before it, if that makes it the next or nearly so."""
    full = before[: -len(number)] + number
    return full if 0 < int(full) - int(before) <= _NEAR else number
