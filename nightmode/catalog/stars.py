"""Bright stars and double stars from our own tables."""

import re
from collections.abc import Mapping
from functools import cache
from math import cos, hypot, radians

from nightmode.catalog.names import plain_key
from nightmode.catalog.tables import MadeWhenAsked, number_in, pair_values, star_values, table, words
from nightmode.kinds import Kind
from nightmode.model.target import Fixed, Orbit, fixed
from nightmode.records import field_names


@cache
def stars() -> Mapping[str, Fixed]:
    """Return stars and double stars by every plain name they have; a double before a star of that name."""
    found: dict[str, tuple[Kind, Mapping[str, str]]] = {}
    for name, kind in (("stars", Kind.STAR), ("doubles", Kind.DOUBLE)):
        for row in table(name):
            entry = kind, row
            found |= {star_key(word): entry for word in (row["name"], *words(row["other_names"]))}
    return MadeWhenAsked(found, _subject)


def star_subject(name: str) -> Fixed | None:
    """Return a star or double star by its own name, or by letter or number and constellation, or None."""
    return stars().get(star_key(name))


@cache
def constellations() -> dict[str, tuple[str, str]]:
    """Return IAU abbreviation -> (name, genitive)."""
    return {row["abbreviation"]: (row["name"], row["genitive"]) for row in table("constellations")}


def constellation_named(word: str) -> str | None:
    """Return the abbreviation of a constellation by it, its name or its genitive; None for other words."""
    return _constellation_words().get(plain_key(word))


@cache
def _constellation_words() -> dict[str, str]:
    return {plain_key(word): short for short, names in constellations().items() for word in (short, *names)}


def star_key(name: str) -> str:
    """Return a plain name with the constellation shortened: "Gamma Leonis", "γ Leo" -> "gamma leo".

    Numbers of discoverers of double stars have the discoverer's code, and letters of components after a
    blank: "Σ1932AB" -> "stf 1932 ab".
    """
    key = plain_key(name)
    if any(map(str.isdigit, key[-6:])):  # few names end in a number, or in one and letters
        if discovered := _DISCOVERED.match(key):
            code, number, components = discovered.groups("")
            return f"{_DISCOVERERS.get(code, code)} {number} {components}".rstrip()
        if numbered := _NUMBERED.match(key):
            return f"{numbered[1]} {numbered[2]}"
    first, _, rest = key.partition(" ")
    if not rest:
        return key
    first = _LETTERS.get(first, first)
    if rest[0].isdigit() and (number_after := re.match(r"^(\d) (.+)$", rest)):
        first, rest = f"{first}{number_after[1]}", number_after[2]
    return f"{first} {_genitives().get(rest, rest)}"


#: Discoverers of double stars as people write them -> their code in the catalogues of doubles.
_DISCOVERERS = {
    "struve": "stf", "sigma": "stf", "sigma i": "stfa", "otto struve": "stt", "o struve": "stt",
    "o sigma": "stt", "o sigma sigma": "stta", "herschel": "hj", "john herschel": "hj", "h": "hj",
    "h n": "h n", "hn": "h n", "south": "s", "dunlop": "dun", "delta": "dun", "burnham": "bu", "beta": "bu",
    "rumker": "rmk", "alvan clark": "ac", "a clark": "ac", "a g clark": "agc", "aitken": "a",
    "innes": "i", "finsen": "fin", "phi": "fin", "van den bos": "b", "rossiter": "rst", "hussey": "hu",
    "hough": "ho", "kuiper": "kui", "dawes": "da", "couteau": "cou", "jacob": "jc", "russell": "r",
    "kruger": "kr", "krueger": "kr", "espin": "es", "heintz": "hei", "jonckheere": "j",
    "sellors": "slr", "howe": "hwe", "donner": "don", "brisbane": "bso", "lacaille": "lcl",
    "pigott": "pz", "piazzi": "pz",
}  # fmt: skip
#: A discoverer or a code of up to four letters, a number, and the letters of components, as in "A,BC".
_DISCOVERED = re.compile(
    "^("
    + "|".join(sorted(_DISCOVERERS, key=len, reverse=True))
    + r"|[a-z]{1,4}) ?0*(\d{1,4})(?: ?([a-i]{1,2}(?: [a-i]{1,2})?))?$"
)
#: Numbers of the great catalogues of stars, and of radio sources that look like stars.
_NUMBERED = re.compile(r"^(hip|hd|hr|ads|3c) ?0*(\d{1,6})$")
_LETTERS = {
    "alf": "alpha", "alp": "alpha",
    "bet": "beta", "gam": "gamma", "del": "delta", "eps": "epsilon", "zet": "zeta", "the": "theta",
    "tet": "theta", "iot": "iota", "kap": "kappa", "lam": "lambda", "omi": "omicron", "sig": "sigma",
    "ups": "upsilon", "ome": "omega", "o": "omicron",
}  # fmt: skip


@cache
def _genitives() -> dict[str, str]:
    pairs = constellations().items()
    return {plain_key(word): abbreviation.casefold() for abbreviation, names in pairs for word in names}


@cache
def _orbits() -> Mapping[str, Orbit]:
    """Return the orbits of our double stars by the star's name in the table of doubles."""
    return MadeWhenAsked({row["name"]: row for row in table("orbits")}, orbit_in)


def orbit_in(row: Mapping[str, str]) -> Orbit:
    """Return the orbit in a row."""
    return Orbit(**{field: float(row[field]) for field in field_names(Orbit)})


def _closest_arcsec(double: Mapping[str, str]) -> float | None:
    """Return the least separation of the pairs that stand within a wider pair, None if there is none."""
    separation_arcsec = number_in(double["separation_arcsec"]) or 0.0
    within = [
        closer
        for row in _doubles_in(double["constellation"])
        if (closer := number_in(row["separation_arcsec"]) or separation_arcsec) < separation_arcsec
        and _apart_arcsec(double, row) <= separation_arcsec + closer
    ]
    return min(within, default=None)


@cache
def _doubles_in(constellation: str) -> list[Mapping[str, str]]:
    return [row for row in table("doubles") if row["constellation"] == constellation]


def _apart_arcsec(one: Mapping[str, str], other: Mapping[str, str]) -> float:
    """Return how far apart two neighbours stand, as on a plane."""
    east_deg = (float(one["ra_deg"]) - float(other["ra_deg"])) * cos(radians(float(one["dec_deg"])))
    return 3600.0 * hypot(east_deg, float(one["dec_deg"]) - float(other["dec_deg"]))


def _subject(entry: tuple[Kind, Mapping[str, str]]) -> Fixed:
    kind, row = entry
    values = star_values(row) | pair_values(row) | {"orbit": _orbits().get(row["name"])}
    if kind is Kind.DOUBLE:
        values["closest_arcsec"] = _closest_arcsec(row)
    return fixed(kind, values)
