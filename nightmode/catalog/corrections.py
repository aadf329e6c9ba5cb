"""Values of published tables, and our own, that replace OpenNGC's; docs/catalog.md has the sources."""

from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any

from nightmode.catalog.tables import MadeWhenAsked, number_in, table
from nightmode.kinds import Kind, ShinesIn

#: Later tables replace values of earlier ones.
TABLES = ("globulars", "clusters", "galaxies", "groups", "planetaries", "nebulae", "corrections", "tellings")
_NUMBERS = (
    "companion_magnitude",
    "size_arcmin",
    "size_minor_arcmin",
    "separation_arcsec",
    "half_light_arcmin",
    "tenth_star_magnitude",
    "surface_brightness_mag",
    "told_dex",
)


@cache
def corrections() -> Mapping[str, dict[str, Any]]:
    """Return the values that replace OpenNGC's, by its name for the object and by field."""
    found: dict[str, list[Mapping[str, str]]] = {}
    for name in TABLES:
        for row in table(name):
            found.setdefault(row["object"], []).append(row)
    return MadeWhenAsked(found, _all_measures)


def _all_measures(rows: Iterable[Mapping[str, str]]) -> dict[str, Any]:
    return {field: value for row in rows for field, value in measures(row).items()}


def measures(row: Mapping[str, str]) -> dict[str, Any]:
    """Return the filled cells of a row, as fields of a target.

    A magnitude of "-" is None: the catalogued value is that of a star, and none is published for the object.
    """
    update: dict[str, Any] = {field: float(row[field]) for field in _NUMBERS if row.get(field)}
    if cell := row.get("magnitude"):
        update |= {"magnitude": None if cell == "-" else number_in(cell), "magnitude_band": "V"}
    if row.get("hubble_type"):
        update["hubble_type"] = row["hubble_type"]
    if row.get("kind"):
        update["kind"] = Kind(row["kind"])
    if row.get("shines_in"):
        update["shines_in"] = ShinesIn(row["shines_in"])
    if row.get("opacity"):
        update["opacity"] = int(row["opacity"])
    return update
