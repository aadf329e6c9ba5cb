"""Reads a latitude or a longitude as people write it: text in, degrees out."""

import re

from nightmode.errors import NightmodeError

_FIGURE = r"(?:\d+(?:[.,]\d*)?|[.,]\d+)"
_LETTER = r"(?:north|south|east|west|[nsew])"
#: A letter before or after; degrees, minutes and seconds with marks, colons or blanks between them. An "s"
#: behind the seconds is taken for their mark here; `_letters` says when it means south.
_ANGLE = re.compile(
    rf"""(?P<before>{_LETTER})?\s*(?P<sign>[+\-−–])?\s*(?P<degrees>{_FIGURE}(?:e[+-]?\d+)?)
    (?: (?:\s*(?:°|º|˚|deg|d|:)\s*|\s+)(?P<minutes>{_FIGURE})
        (?: (?:\s*(?P<mark>['′’´m:])\s*|\s+)(?P<seconds>{_FIGURE})(?:\s*(?P<last>["″”s]|''|′′))?
        |   \s*['′’´m] )?
    |   \s*(?:°|º|˚|deg|d) )?
    \s*(?P<after>{_LETTER})?""",
    re.VERBOSE | re.IGNORECASE,
)

#: What can stand between a latitude and a longitude; a whole number.
_BETWEEN, _WHOLE = re.compile(r"\s*[;,]\s*|\s+"), re.compile(r"[+\-−–]?\d+")


def pair(text: str) -> tuple[str, str] | None:
    """Return latitude and longitude of a text that holds both, as maps give them; None if it does not.

    What can be read as one angle is one. At a blank two whole numbers are not parted: they may be degrees and
    minutes. Where a comma may part two angles or be of a fraction, both angles have as many figures.
    """
    said = text.strip()
    if _is_angle(said, "NS"):
        return None
    found = [parted for between in _BETWEEN.finditer(said) if (parted := _parted(said, between))]
    if len(found) > 1:
        found = [both for both in found if len({len(re.findall(_FIGURE, one)) for one in both}) == 1]
    return found[0] if len(found) == 1 else None


def _parted(said: str, between: re.Match[str]) -> tuple[str, str] | None:
    first, second = said[: between.start()], said[between.end() :]
    is_marked = not between[0].isspace() or not (_WHOLE.fullmatch(first) or _WHOLE.fullmatch(second))
    is_both = is_marked and _is_angle(first, "NS") and _is_angle(second, "EW")
    return (first, second) if is_both else None


def _is_angle(text: str, letters: str) -> bool:
    try:
        angle(text, "", letters)
    except NightmodeError:
        return False
    return True


def angle(text: str, where: str, letters: str) -> float:
    """Return degrees from decimals or from degrees, minutes, seconds, with a sign or a letter or neither.

    letters are those that count here, the positive one first: "NS" for a latitude, "EW" for a longitude.
    NightmodeError at `where` if text is no angle, or has another letter, or one that contradicts its sign.
    """
    said, example = repr(text.strip()), f"48 12 36 {letters[0]}"
    match = _ANGLE.fullmatch(text.strip())
    if not match:
        raise NightmodeError(where, f"{said} is not an angle", f"write it like 48.21 or {example}")
    size, found = _size(match, where, said, example), _letters(match)
    if len(found) > 1:
        raise NightmodeError(where, f"{said} has two letters", f"write one, like {example}")
    if not found:
        return -size if match["sign"] in ("-", "−", "–") else size
    if found not in letters:
        other = "longitude" if letters == "NS" else "latitude"
        raise NightmodeError(where, f"{said} has the letter of a {other}", f"write it like {example}")
    positive = found == letters[0]
    if match["sign"] and (match["sign"] == "+") != positive:
        what = f"{said} has a sign and a letter that contradict each other"
        raise NightmodeError(where, what, f"write the letter alone, like {example}")
    return size if positive else -size


def _size(match: re.Match[str], where: str, said: str, example: str) -> float:
    """Return the figures of a match in degrees, without a sign."""
    texts = [part.replace(",", ".") for part in match.group("degrees", "minutes", "seconds") if part]
    parts = [float(part) for part in texts]
    if not all(part.isdecimal() for part in texts[:-1]):
        raise NightmodeError(
            where, f"{said} has a fraction before its last figure", f"write it like {example}"
        )
    if any(part >= 60 for part in parts[1:]):
        raise NightmodeError(
            where, f"{said} has minutes or seconds of 60 or more", f"write it like {example}"
        )
    return sum(part / 60**place for place, part in enumerate(parts))


def _letters(match: re.Match[str]) -> str:
    """Return the first letters of the directions in a match, in capitals: "", one, or two.

    A last "s" is south, as in 30 12 36 s. It is the mark of seconds only where another letter is there too
    (30 12 36s N), or where the minutes have a letter of the same case (30d12m36s; 30d12m36S is south).
    """
    found = [word[0].upper() for word in match.group("before", "after") if word]
    last, mark = match["last"] or "", match["mark"] or ""
    is_mark = bool(found) or (mark.lower() == "m" and mark.islower() == last.islower())
    if last.lower() == "s" and not is_mark:
        found.append("S")
    return "".join(found)
