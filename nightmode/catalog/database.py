"""OpenNGC, read straight from the database file that the pyongc package carries.

The file is opened read-only and immutable: no lock, no journal, nothing written beside it. The package itself
is not imported, which saves a good part of a start in the cold.
"""

import importlib.util
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any

from nightmode.errors import NightmodeError

_COLUMNS = (
    "name, type, ra, dec, const, majax, minax, bmag, vmag, hubble, messier, ngc, ic, identifiers, "
    "commonnames, nednotes"
)


@cache
def database_path() -> Path:
    """Return where the catalogue lies."""
    spec = importlib.util.find_spec("pyongc")
    if spec is None or not spec.submodule_search_locations:
        raise NightmodeError("catalogue", "the package pyongc is missing", "install nightmode again")
    return Path(next(iter(spec.submodule_search_locations))) / "ongc.db"


@cache
def _connection() -> sqlite3.Connection:
    """Open the catalogue, once: that takes longer than a question. Any thread may ask; nothing writes."""
    path = f"{database_path().as_uri()}?mode=ro&immutable=1"
    connection = sqlite3.connect(path, uri=True, check_same_thread=False)
    connection.row_factory = sqlite3.Row
    return connection


@contextmanager
def _reading() -> Iterator[sqlite3.Connection]:
    try:
        yield _connection()
    except sqlite3.Error as problem:
        raise NightmodeError(
            str(database_path()), f"cannot be read as the catalogue ({problem})", "install nightmode again"
        ) from problem


def find_row(key: str) -> sqlite3.Row | None:
    """Return the object with an identifier in OpenNGC's form ("NGC0224", "M031", "MEL022"), or None.

    A duplicated record is followed to the object that it repeats.
    """
    with _reading() as connection:
        row = _by_identifier(connection, key)
        if row is not None and row["type"] == "Dup":
            return _by_identifier(connection, _repeated(row))
        return row


def all_rows() -> list[tuple[Any, ...]]:
    """Return every object as (name, type, ra, dec, const, majax, minax, bmag, vmag, hubble, messier)."""
    with _reading() as connection:
        query = "SELECT name, type, ra, dec, const, majax, minax, bmag, vmag, hubble, messier FROM objects"
        cursor = connection.cursor()
        cursor.row_factory = None  # plain tuples: nobody asks for a column by its name
        return cursor.execute(query).fetchall()


def planetary_rows() -> list[tuple[str, float, float, str]]:
    """Return every planetary nebula as (name, ra, dec, identifiers), the place in radians."""
    with _reading() as connection:
        query = "SELECT name, ra, dec, identifiers FROM objects WHERE type = 'PN'"
        return [
            (row["name"], row["ra"], row["dec"], row["identifiers"] or "")
            for row in connection.execute(query)
        ]


def component_keys() -> tuple[set[str], set[str]]:
    """Return the names of components that end in a running number ("NGC0520 NED01"), and in a letter."""
    with _reading() as connection:
        numbered, lettered = (
            {
                row["name"]
                for row in connection.execute("SELECT name FROM objects WHERE name GLOB ?", (ending,))
            }
            for ending in ("* NED[0-9][0-9]", "*[0-9][A-H]")
        )
    return numbered, lettered


@cache
def nicknames() -> dict[str, str]:
    """Return OpenNGC's names in words, as catalogued, with the object they belong to."""
    with _reading() as connection:
        rows = connection.execute(
            "SELECT name, commonnames FROM objects WHERE commonnames != '' AND type != 'Dup'"
        ).fetchall()
    return {word: row["name"] for row in rows for word in row["commonnames"].split(",")}


@cache
def messier() -> dict[str, str]:
    """Return the numbers of Messier's list ("M031") with the object that each belongs to."""
    with _reading() as connection:
        rows = connection.execute("SELECT messier, name FROM objects WHERE messier != '' AND type != 'Dup'")
        return {f"M{row['messier']}": row["name"] for row in rows}


@cache
def caldwell() -> frozenset[str]:
    """Return the objects of the Caldwell list (Moore 1995), as OpenNGC names them.

    His 49 is the whole Rosette, for which OpenNGC has a piece of it.
    """
    with _reading() as connection:
        query = "SELECT name FROM objIdentifiers WHERE identifier GLOB 'C[01][0-9][0-9]'"
        names = frozenset(row["name"] for row in connection.execute(query))
    return names - {"NGC2238"} | {"NGC2237"}


def _by_identifier(connection: sqlite3.Connection, key: str) -> sqlite3.Row | None:
    name = messier().get(key, key) if key.startswith("M0") or key.startswith("M1") else key
    query = (
        f"SELECT {_COLUMNS} FROM objects WHERE name = "
        "(SELECT name FROM objIdentifiers WHERE identifier = ? OR identifier = ?)"
    )
    return connection.execute(query, (name, name.upper())).fetchone()


def _repeated(row: sqlite3.Row) -> str:
    if row["messier"]:
        return f"M{row['messier']}"
    return f"NGC{row['ngc']}" if row["ngc"] else f"IC{row['ic']}"
