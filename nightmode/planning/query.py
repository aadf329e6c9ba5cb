"""Reads the flags that say where the objects of a draft lie, how bright and how large they are."""

from nightmode.catalog.names import plain_key
from nightmode.catalog.query import Near, Query
from nightmode.catalog.resolve import lookup
from nightmode.catalog.stars import constellations
from nightmode.errors import NightmodeError
from nightmode.model.target import Fixed
from nightmode.setup.answers import number


def read_query(
    within: str | None,
    brighter: str | None,
    larger: str | None,
    near: tuple[str, str] | None,
    not_below: str | None,
) -> Query:
    """Return what the flags ask for. NightmodeError names a flag whose text does not fit."""
    return Query(
        constellations=_constellations(within) if within is not None else frozenset(),
        brighter_mag=_within(brighter, "--brighter", -2.0, 20.0),
        larger_arcmin=_within(larger, "--larger", 0.0, 1200.0),
        near=_near(*near) if near is not None else None,
        not_below_deg=_within(not_below, "--not-below", 0.0, 85.0),
    )


def _constellations(text: str) -> frozenset[str]:
    """Return the abbreviations of constellations given by abbreviation, name or genitive, with commas."""
    known = {plain_key(short): short for short in constellations()}
    for short, names in constellations().items():
        known |= {plain_key(name): short for name in names}
    words = [word.strip() for word in text.split(",") if word.strip()]
    if not words:
        raise NightmodeError("--in", "names no constellation", "write some with commas, like Vir,Com")
    for word in words:
        if plain_key(word) not in known:
            instead = "write IAU abbreviations or names with commas, like Vir,Com"
            raise NightmodeError("--in", f"{word!r} is not a constellation", instead)
    return frozenset(known[plain_key(word)] for word in words)


def _near(name: str, radius: str) -> Near:
    around = lookup(name)
    if not isinstance(around, Fixed):
        what = "is not in the catalogue" if around is None else "moves, so that nothing lies near it for long"
        raise NightmodeError("--near", f"{name!r} {what}", 'write an object and degrees, like "M 87" 5')
    radius_deg = _within(radius, "--near", 0.01, 180.0)
    assert radius_deg is not None
    return Near(name, around.ra_deg, around.dec_deg, radius_deg)


def _within(text: str | None, flag: str, low: float, high: float) -> float | None:
    if text is None:
        return None
    value = number(text, flag)
    if not low <= value <= high:
        raise NightmodeError(flag, f"{text} is not {low:g} to {high:g}", f"write a number like {high / 4:g}")
    return value
