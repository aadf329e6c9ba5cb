"""Objects that many know: in Messier's or Caldwell's list, or with a name of their own. A measure of fame.

All are keys: the name in the catalogue's columns without spaces and in small letters, as "ngc457" or "m1".
"""

from collections.abc import Iterable
from functools import cache

from nightmode.catalog.database import caldwell, messier, nicknames
from nightmode.catalog.deepsky import own_deepsky, usual_name
from nightmode.catalog.searched import has_number
from nightmode.catalog.tables import table


@cache
def well_known() -> frozenset[str]:
    """Return the keys of what has a name in words or a place in a famous list."""
    return named() | in_messier() | in_caldwell()


@cache
def in_messier() -> frozenset[str]:
    """Return the keys of Messier's list: "m1" to "m110"."""
    return frozenset(f"m{number}" for number in range(1, 111))


@cache
def in_caldwell() -> frozenset[str]:
    """Return the keys of Caldwell's list."""
    return _keys(caldwell())


@cache
def named() -> frozenset[str]:
    """Return the keys of what has a name in words, as "ngc457" for the Owl Cluster."""
    ours = {row["object"] for row in table("nicknames") if not has_number(row["name"])}
    added = {_key(own.name) for own in own_deepsky().values() if not all(map(has_number, own.other_names))}
    return _keys(ours | set(nicknames().values())) | added


def _keys(catalogued: Iterable[str]) -> frozenset[str]:
    """Return the keys of objects as OpenNGC names them."""
    numbers = {name: f"m{int(number[1:])}" for number, name in messier().items()}
    return frozenset(numbers.get(name) or _key(usual_name(name)) for name in catalogued)


def _key(name: str) -> str:
    return name.replace(" ", "").casefold()
