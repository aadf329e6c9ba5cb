"""The small tables that travel with the program, read once."""

import csv
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from importlib.resources import files
from typing import Any, Generic, TypeVar

Row = TypeVar("Row")
Made = TypeVar("Made")


class MadeWhenAsked(Mapping[str, Made], Generic[Row, Made]):
    """A table by name: a row becomes what it stands for when it is first looked up, and stays so.

    A plan names a few dozen of the thousands that the tables hold.
    """

    def __init__(self, rows: Mapping[str, Row], make: Callable[[Row], Made]) -> None:
        self._rows, self._make = rows, make
        self._made: dict[int, Made] = {}

    def __getitem__(self, name: str) -> Made:
        row = self._rows[name]
        if id(row) not in self._made:  # one row may have several names
            self._made[id(row)] = self._make(row)
        return self._made[id(row)]

    def __contains__(self, name: object) -> bool:
        return name in self._rows

    def __iter__(self) -> Iterator[str]:
        return iter(self._rows)

    def __len__(self) -> int:
        return len(self._rows)


@cache
def table(name: str) -> tuple[dict[str, str], ...]:
    """Return the rows of data/NAME.csv."""
    head, *rows = csv.reader(lines(name))
    return tuple(dict(zip(head, row, strict=True)) for row in rows if row)


def lines(name: str) -> list[str]:
    """Return the lines of data/NAME.csv, the head first; lines that begin with # are remarks and left out."""
    text = (files(__package__) / "data" / f"{name}.csv").read_text(encoding="utf-8")
    return [line for line in text.splitlines() if not line.startswith("#")]


def number_in(text: str | None) -> float | None:
    """Return a cell as a number, None where it is empty."""
    return float(text) if text else None


def words(text: str | None) -> tuple[str, ...]:
    """Return the names in a cell, which vertical bars part."""
    return tuple(part.strip() for part in (text or "").split("|") if part.strip())


def star_values(row: Mapping[str, str]) -> dict[str, Any]:
    """Return what the tables of stars have in common, by the names of a target's fields."""
    return {
        "name": row["name"],
        "ra_deg": float(row["ra_deg"]),
        "dec_deg": float(row["dec_deg"]),
        "motion_ra_mas": float(row["motion_ra_mas"] or 0),
        "motion_dec_mas": float(row["motion_dec_mas"] or 0),
        "constellation": row["constellation"],
        "other_names": words(row["other_names"]),
        "magnitude": number_in(row["magnitude"]),
    }


def pair_values(row: Mapping[str, str]) -> dict[str, Any]:
    """Return what the tables of double stars have beyond `star_values`; None where a row lacks it."""
    return {
        "companion_magnitude": number_in(row.get("companion_magnitude")),
        "separation_arcsec": number_in(row.get("separation_arcsec")),
        "position_angle_deg": number_in(row.get("position_angle_deg")),
        "epoch_year": number_in(row.get("epoch")),
    }
