"""Some 3,300 stars that no other table has, by letter, number or name; the file is searched as text."""

import csv
from functools import cache

from nightmode.catalog.lunar import lunar_features
from nightmode.catalog.names import is_letter
from nightmode.catalog.stars import star_key, stars
from nightmode.catalog.tables import lines, star_values, words
from nightmode.kinds import Kind
from nightmode.model.target import Fixed, fixed

_TABLE = "bright_stars"


def bright_star(name: str) -> Fixed | None:
    """Return the star of that name ("12 CVn", "o Cet", "HIP 27989", "HD 39801", "Dschubba"), or None.

    A star that our tables of stars and doubles have under another name is returned as they have it. Names of
    features of the Moon are left to those: Copernicus is the crater.
    """
    key = star_key(name)
    row = None if key in lunar_features() else _row(key)
    if row is None:
        return None
    names = (row["name"], *words(row["other_names"]))
    known = next((found for name in names if (found := stars().get(star_key(name)))), None)
    return known or _subject(row)


def bright_names() -> list[str]:
    """Return the stars' names in words: those that are more than a letter or number and a constellation."""
    names = (line.split(",", 2)[1] for line in lines(_TABLE)[1:])
    return [name for name in names if not is_letter(name.partition(" ")[0]) and not name[0].isdigit()]


@cache
def _text() -> str:
    return "\n".join(lines(_TABLE))


def _row(key: str) -> dict[str, str] | None:
    if not key or "|" in key:
        return None
    text = _text()
    place = text.find(f"|{key}|")
    if place < 0:
        return None
    start, end = text.rfind("\n", 0, place) + 1, text.find("\n", place)
    head = text[: text.index("\n")]
    return next(csv.DictReader((head, text[start : end if end >= 0 else None])))


def _subject(row: dict[str, str]) -> Fixed:
    return fixed(Kind.STAR, star_values(row))
