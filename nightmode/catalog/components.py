"""Components of pairs and groups of galaxies, which OpenNGC calls by running numbers of its source: NED01."""

from functools import cache

from nightmode.catalog.database import component_keys

_LETTERS = "ABCDEFGH"


@cache
def lettered() -> dict[str, str]:
    """Return OpenNGC's name of each numbered component -> its key with a letter, as observers write it.

    "NGC0520 NED01" is "NGC0520A". Where OpenNGC calls another component of the same number by that letter,
    the next free one is taken.
    """
    numbered, taken = component_keys()
    found: dict[str, str] = {}
    for name in sorted(numbered):
        whole, _, number = name.partition(" NED")
        used = {*taken, *found.values()}
        free = [whole + letter for letter in _LETTERS if whole + letter not in used]
        own = whole + _LETTERS[int(number) - 1]
        found[name] = own if own in free else free[0]
    return found


@cache
def numbered() -> dict[str, str]:
    """Return the keys of `lettered` with a letter -> OpenNGC's name."""
    return {key: name for name, key in lettered().items()}
