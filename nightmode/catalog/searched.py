"""Large tables of stars that are searched as text: of their thousands of rows a plan needs a few.

The first column, keys, has the `stars.star_key` of every name of a row between vertical bars.
"""

import csv
import re
from functools import cache

from nightmode.catalog.names import is_letter
from nightmode.catalog.tables import lines

#: Letters of the components of a multiple star, as they stand in a key: "ab", "bc", "ab c".
COMPONENTS = "(?:abc|[a-i]{1,2}(?: [a-i]{1,2})?)"
_REST_OF_KEY = re.compile(rf"{COMPONENTS}\|")


def row_with_key(table: str, key: str) -> dict[str, str] | None:
    """Return the row of data/TABLE.csv that has a key, or None."""
    if not key or "|" in key:
        return None
    place = _text(table).find(f"|{key}|")
    return None if place < 0 else _row_at(table, place)


def row_with_component(table: str, key: str) -> dict[str, str] | None:
    """Return the first row of data/TABLE.csv that has a key with the letters of components, or None."""
    text, start = _text(table), f"|{key} "
    place = text.find(start)
    while place >= 0 and not _REST_OF_KEY.match(text, place + len(start)):
        place = text.find(start, place + 1)
    return None if place < 0 else _row_at(table, place)


def _row_at(table: str, place: int) -> dict[str, str]:
    text = _text(table)
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
