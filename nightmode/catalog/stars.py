"""Bright stars and double stars from our own tables."""

import re
from collections.abc import Mapping
from functools import cache

from nightmode.catalog.names import plain_key
from nightmode.catalog.tables import MadeWhenAsked, number_in, star_values, table, words
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


def pair_of(name: str) -> Fixed | None:
    """Return the double star of which a name is the companion or the two together, or None.

    "Sirius B", "Gamma Andromedae AB": whoever looks for the companion looks at the pair.
    """
    whole, _, part = plain_key(name).rpartition(" ")
    if not whole or part not in ("b", "ab"):
        return None
    found = star_subject(whole)
    return found if found is not None and found.kind is Kind.DOUBLE else None


@cache
def constellations() -> dict[str, tuple[str, str]]:
    """Return IAU abbreviation -> (name, genitive)."""
    return {row["abbreviation"]: (row["name"], row["genitive"]) for row in table("constellations")}


def star_key(name: str) -> str:
    """Return a plain name with the constellation shortened: "Gamma Leonis", "γ Leo" -> "gamma leo"."""
    key = plain_key(name)
    if key[-1:].isdigit() or key.endswith("b"):  # a number, or one and "AB": few names end so
        if discovered := _DISCOVERED.match(key):
            return f"{_DISCOVERERS.get(discovered[1], discovered[1])} {discovered[2]}"
        if numbered := _NUMBERED.match(key):
            return f"{numbered[1]} {numbered[2]}"
    first, _, rest = key.partition(" ")
    if not rest:
        return key
    first = _LETTERS.get(first, first)
    if rest[0].isdigit() and (number_after := re.match(r"^(\d) (.+)$", rest)):
        first, rest = f"{first}{number_after[1]}", number_after[2]
    return f"{first} {_genitives().get(rest, rest)}"


#: Discoverers of double stars as people write them -> their code in the catalogues of doubles; then a number.
_DISCOVERERS = {
    "struve": "stf", "sigma": "stf", "otto struve": "stt", "o sigma": "stt", "o sigma sigma": "stta",
    "dunlop": "dun", "burnham": "bu", "rumker": "rmk", "h": "hj",
}  # fmt: skip
_CODES = (
    *("stf", "stfa", "stt", "stta", "dun", "bu", "rmk", "hj", "shj", "agc", "gnt", "rhd", "pz", "lcl", "jc"),
    *("slr", "cpo", "da", "hdo"),
)
_DISCOVERED = re.compile(
    "^(" + "|".join(sorted((*_DISCOVERERS, *_CODES), key=len, reverse=True)) + r") ?0*(\d{1,4})(?: ?a ?b)?$"
)
#: Numbers of the great catalogues of stars, and of radio sources that look like stars.
_NUMBERED = re.compile(r"^(hip|hd|hr|3c) ?0*(\d{1,6})$")
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
    return MadeWhenAsked({row["name"]: row for row in table("orbits")}, _orbit)


def _orbit(row: Mapping[str, str]) -> Orbit:
    return Orbit(**{field: float(row[field]) for field in field_names(Orbit)})


def _subject(entry: tuple[Kind, Mapping[str, str]]) -> Fixed:
    kind, row = entry
    values = star_values(row) | {
        "companion_magnitude": number_in(row.get("companion_magnitude")),
        "separation_arcsec": number_in(row.get("separation_arcsec")),
        "position_angle_deg": number_in(row.get("position_angle_deg")),
        "epoch_year": number_in(row.get("epoch")),
        "orbit": _orbits().get(row["name"]),
    }
    return fixed(kind, values)
