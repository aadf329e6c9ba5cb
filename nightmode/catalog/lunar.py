"""Features of the Moon by their IAU names."""

import math
from functools import cache

from nightmode.catalog.names import plain_key
from nightmode.catalog.tables import table
from nightmode.model.kind import Kind
from nightmode.model.target import LunarFeature

#: Mean distance of the Moon in km (IAU), for the apparent size of a feature seen face on.
_MEAN_DISTANCE_KM = 384400.0


@cache
def lunar_features() -> dict[str, LunarFeature]:
    """Return all features by plain name."""
    return {plain_key(row["name"]): _feature(row) for row in table("lunar")}


def lunar_subject(name: str) -> LunarFeature | None:
    """Return a feature of the Moon as a target, or None."""
    return lunar_features().get(plain_key(name))


def _feature(row: dict[str, str]) -> LunarFeature:
    size_arcmin = math.degrees(float(row["diameter_km"]) / _MEAN_DISTANCE_KM) * 60
    return LunarFeature(
        name=row["name"],
        kind=Kind.LUNAR_FEATURE,
        latitude_deg=float(row["latitude_deg"]),
        longitude_deg=float(row["longitude_deg"]),
        size_arcmin=round(size_arcmin, 3),
    )
