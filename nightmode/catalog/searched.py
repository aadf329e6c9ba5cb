"""Large tables of stars that are searched as text: of their thousands of rows a plan needs a few.

The first column, keys, has the `stars.star_key` of every name of a row between vertical bars.
"""

import csv
from functools import cache

from nightmode.catalog.names import is_letter
from nightmode.catalog.tables import lines


def row_with_key(table: str, key: str) -> dict[str, str] | None:
    """Return the row of data/TABLE.csv that has a key, or None."""
    if not key or "|" in key:
        return None
    text = _text(table)
    place = text.find(f"|{key}|")
    if place < 0:
        return None
    start, end = text.rfind("\n", 0, place) + 1, text.find("\n", place)
    head = text[: text.index("\n")]
    return next(csv.DictReader((head, text[start : end if end >= 0 else None])))


def names_in_words(table: str) -> list[str]:
    """Return the first names of the rows that are more than a letter or number and a constellation."""
    names = (line.split(",", 2)[1] for line in lines(table)[1:])
    return [name for name in names if not is_letter(name.partition(" ")[0]) and not has_number(name)]


def has_number(name: str) -> bool:
    """Return whether a name is a catalogue's number, or a number and a constellation."""
    return any(map(str.isdigit, name))


@cache
def _text(table: str) -> str:
    return "\n".join(lines(table))
