"""Variable stars: how the light of known stars changes, and variables that no other table has."""

import re
from collections.abc import Iterable, Mapping
from functools import cache

from nightmode.catalog.names import plain_key
from nightmode.catalog.pairs import known_star
from nightmode.catalog.stars import constellations, star_key
from nightmode.catalog.tables import number_in, table
from nightmode.kinds import Kind
from nightmode.model.target import Double, Fixed, Star
from nightmode.model.variable import Variability
from nightmode.records import replace

#: What a variable star without an older letter is called: R to Z, RR to QZ, V335 and on, and a constellation.
_LETTERS = re.compile(r"^(?:[r-z]|[a-z][a-z]|v\d{3,4}) \w{3}$")
_NUMBER = re.compile(r"^v ?0*(\d{3,4}) ")


def varying(star: Fixed) -> Fixed:
    """Return a star or double with how its light changes added, if it is a variable and lacks that."""
    if not isinstance(star, Star | Double) or star.varies is not None:
        return star
    row = _row_of((star.name, *star.other_names))
    if row is None:
        return star
    known = {star_key(name) for name in (star.name, *star.other_names)}
    others = star.other_names if star_key(row["name"]) in known else (row["name"], *star.other_names)
    kind = Kind.VARIABLE if star.kind is Kind.STAR else star.kind
    return replace(star, varies=_variability(row), kind=kind, other_names=others)


def variable_star(name: str) -> Fixed | None:
    """Return a variable star by any way of writing its designation: "R Leo", "rz cas", "V335 Hya"; or None.

    A star that the tables of stars have is returned as they have it.
    """
    row = _rows().get(_key(name))
    if row is None:
        return None
    if row["star"]:
        known = known_star(row["star"])
        return None if known is None else varying(known)
    varies = _variability(row)
    return Star(
        name=row["name"],
        kind=Kind.VARIABLE,
        constellation=row["constellation"],
        ra_deg=float(row["ra_deg"]),
        dec_deg=float(row["dec_deg"]),
        magnitude=round(varies.steady_mag, 2),
        varies=varies,
    )


def variable_names() -> list[str]:
    """Return the name of every variable star of the table, brightest first."""
    return [row["name"] for row in table("variables")]


def variable_stars() -> list[Fixed]:
    """Return every variable star of the table that is not a double, brightest first."""
    found = ((name, variable_star(name)) for name in variable_names())
    return [
        # Nobody calls P Cygni 34 Cygni.
        replace(star, name=name) if star.name[0].isdigit() else star
        for name, star in found
        if star is not None and star.kind is Kind.VARIABLE
    ]


def is_variable_designation(name: str) -> bool:
    """Return whether a name is made as those of variable stars are: R Leo, RZ Cas, V335 Hya."""
    key = _key(name)
    return bool(_LETTERS.match(key)) and key.rpartition(" ")[2] in map(str.casefold, constellations())


def _key(name: str) -> str:
    """Return the key of a name; a number after V loses blanks and zeros, as in "V 0335 Hya"."""
    return star_key(_NUMBER.sub(r"v\1 ", plain_key(name)))


def _row_of(names: Iterable[str]) -> Mapping[str, str] | None:
    rows = _rows()
    return next((row for name in names if (row := rows.get(_key(name)))), None)


@cache
def _rows() -> dict[str, dict[str, str]]:
    """Return the rows of the table by the keys of both names."""
    rows = table("variables")
    found = {star_key(row["star"]): row for row in rows if row["star"]}
    return found | {_key(row["name"]): row for row in rows}


def _variability(row: Mapping[str, str]) -> Variability:
    share = number_in(row["share_pct"])
    return Variability(
        type=row["type"],
        brightest_mag=float(row["brightest"]),
        faintest_mag=float(row["faintest"]),
        second_mag=number_in(row["second"]),
        usual_max_mag=number_in(row["usual_max"]),
        usual_min_mag=number_in(row["usual_min"]),
        epoch_jd=number_in(row["epoch_jd"]),
        period_d=number_in(row["period_d"]),
        change_d=number_in(row["change_d"]) or 0.0,
        share=None if share is None else share / 100.0,
        epoch_error_d=number_in(row["epoch_error_d"]),
        period_error_d=number_in(row["period_error_d"]),
        source=row["source"],
    )
