"""OpenNGC's rows as targets, with our own corrections."""

import math
import sqlite3
from collections.abc import Mapping
from functools import cache
from typing import Any

from nightmode.catalog.components import lettered, numbered
from nightmode.catalog.corrections import corrections, measures
from nightmode.catalog.database import find_row, nicknames
from nightmode.catalog.kinds import KINDS
from nightmode.catalog.lunar import lunar_features
from nightmode.catalog.names import designation_key, display_name, plain_key
from nightmode.catalog.stars import constellations, star_key
from nightmode.catalog.tables import MadeWhenAsked, table, words
from nightmode.kinds import Kind
from nightmode.model.target import Fixed, fixed

#: Last words that people leave out ("Helix", "Wild Duck"), and what is then too little to be a name.
_NOUNS = ("nebula", "galaxy", "galaxies", "cluster")
_TOO_SHORT = {"double", "great", "blue", "spiral", "virgo", "coma", "spider"}


def deepsky_subject(key: str) -> Fixed | None:
    """Return the object with a key in OpenNGC's form, or None where no known object has it."""
    row = find_row(same_object().get(key, key))
    if row is None and key[-1].isalpha() and (name := numbered().get(key)):
        row = find_row(name)
    if row is None or _is_nothing(row):
        return None
    values = _values(row)
    values |= corrections().get(row["name"], {})
    return fixed(values["kind"], values)


def constellation_of(const: str) -> str:
    """Return the IAU abbreviation; OpenNGC parts Serpens into Se1 and Se2."""
    return "Ser" if const in ("Se1", "Se2") else const


def _values(row: sqlite3.Row) -> dict[str, Any]:
    in_v = row["vmag"] is not None
    names = _names(row)
    return {
        "name": names[0],
        "kind": KINDS.get(row["type"], Kind.ASTERISM),
        "ra_deg": math.degrees(row["ra"]),
        "dec_deg": math.degrees(row["dec"]),
        "constellation": constellation_of(row["const"]),
        "other_names": names[1:],
        "magnitude": row["vmag"] if in_v else row["bmag"],
        "magnitude_band": "V" if in_v or row["bmag"] is None else "B",
        "size_arcmin": row["majax"] or None,
        "size_minor_arcmin": row["minax"] or None,
        "hubble_type": row["hubble"] or "",
    }


def _names(row: sqlite3.Row) -> tuple[str, ...]:
    """Return the names, the most usual first: Messier, designations, then words, without repeats."""
    names = [f"M {int(row['messier'])}"] if row["messier"] else []
    names += [usual_name(row["name"]), display_name(_key(row["name"]))]
    names += [display_name(key) for key, name in same_object().items() if name == row["name"]]
    own = [nick["name"] for nick in table("nicknames") if nick["object"] == row["name"]]
    theirs = [
        word
        for word in row["commonnames"].split(",")
        # A name that our table gives to another object is left out here.
        if word and _own_nicknames().get(plain_key(word), row["name"]) == row["name"]
    ]
    return tuple(dict.fromkeys(names + own + theirs))


def usual_name(key: str) -> str:
    """Return what people call an object of OpenNGC that is none of Messier's: "LMC", "NGC 224"."""
    return _usual_names().get(key) or display_name(_key(key))


def _key(name: str) -> str:
    """Return OpenNGC's name for an object, with a letter instead of a running number of its source."""
    return lettered()[name] if " NED" in name else name


@cache
def _usual_names() -> dict[str, str]:
    return {row["object"]: row["name"] for row in table("usual")}


def nothing_there(key: str) -> str:
    """Return what OpenNGC notes on a number under which there is no object of a known type; may be empty."""
    row = find_row(key)
    return (row["nednotes"] or "").split(". ")[0].strip(" .") if row and _is_nothing(row) else ""


def _is_nothing(row: sqlite3.Row) -> bool:
    """True for "NonEx", and for "Other" where we have no correction: plate flaws, a few field stars."""
    return row["type"] not in KINDS and row["name"] not in corrections()


@cache
def same_object() -> dict[str, str]:
    """Return designations that OpenNGC does not list -> its name for the same object."""
    return {row["designation"]: row["object"] for row in table("same")}


@cache
def deepsky_names() -> dict[str, str]:
    """Return plain names in words -> key; ours before OpenNGC's."""
    theirs = {plain_key(word): name for word, name in nicknames().items()}
    usual = {plain_key(word): name for name, word in _usual_names().items()}
    return theirs | usual | _own_nicknames()


def deepsky_named(name: str) -> Fixed | None:
    """Return the object of that name in words, or None; "Omega Cen" is enough for Omega Centauri."""
    found = deepsky_names().get(plain_key(name)) or _by_letter().get(star_key(name))
    return deepsky_subject(found) if found else None


def deepsky_nearly_named(name: str) -> Fixed | None:
    """Return the object of that name less its last word, or None: "Helix" is the Helix Nebula."""
    found = _short_names().get(plain_key(name), "")
    return own_deepsky().get(found) or (deepsky_subject(found) if found else None)


@cache
def _own_nicknames() -> dict[str, str]:
    return {plain_key(row["name"]): row["object"] for row in table("nicknames")}


@cache
def _by_letter() -> dict[str, str]:
    return {star_key(name): key for name, key in deepsky_names().items()}


@cache
def _short_names() -> dict[str, str]:
    """Return names without their last word -> key, where that is an object's alone."""
    words_of_the_sky = (word for names in constellations().values() for word in names)
    taken = {plain_key(word) for word in words_of_the_sky} | lunar_features().keys() | _TOO_SHORT
    short: dict[str, set[str]] = {}
    own = {name: name for name in own_deepsky()}
    for name, key in (deepsky_names() | own).items():
        first, _, noun = name.rpartition(" ")
        if noun in _NOUNS and first not in taken:
            short.setdefault(first, set()).add(key)
    return {name: next(iter(keys)) for name, keys in short.items() if len(keys) == 1}


@cache
def own_deepsky() -> Mapping[str, Fixed]:
    """Return the objects of our own table, by every plain name and designation they have."""
    found = {}
    for row in table("extras"):
        for name in (row["name"], *words(row["other_names"])):
            found[designation_key(name) or plain_key(name)] = row
    return MadeWhenAsked(found, own_row)


def own_row(row: Mapping[str, str]) -> Fixed:
    """Return the object of a row of our own tables."""
    place = {"ra_deg": float(row["ra_deg"]), "dec_deg": float(row["dec_deg"])}
    names = {"name": row["name"], "other_names": words(row["other_names"])}
    values = {**names, **place, "constellation": row["constellation"], **measures(row)}
    values |= corrections().get(row["name"], {})
    return fixed(values["kind"], values)
