"""Features of the Moon by their IAU names and by the names that observers use."""

import math
from functools import cache

from nightmode.catalog.names import plain_key
from nightmode.catalog.tables import number_in, table, words
from nightmode.kinds import Kind
from nightmode.model.target import FeatureSort, Illumination, LunarFeature

#: Mean distance of the Moon in km (IAU), for the apparent size of a feature seen face on.
_MEAN_DISTANCE_KM = 384400.0


@cache
def lunar_features() -> dict[str, LunarFeature]:
    """Return all features by every plain name they have."""
    found = {}
    for row in table("lunar"):
        feature = _feature(row)
        for name in (feature.name, *feature.other_names):
            found[plain_key(name)] = feature
    return found


def lunar_subject(name: str) -> LunarFeature | None:
    """Return a feature of the Moon as a target, or None; the word "crater" may stand with its name."""
    key = plain_key(name)
    return lunar_features().get(
        key, lunar_features().get(key.removeprefix("crater ").removesuffix(" crater"))
    )


def _feature(row: dict[str, str]) -> LunarFeature:
    diameter_km = float(row["diameter_km"])
    return LunarFeature(
        name=row["name"],
        kind=Kind.LUNAR_FEATURE,
        other_names=words(row["other_names"]),
        latitude_deg=float(row["latitude_deg"]),
        longitude_deg=float(row["longitude_deg"]),
        size_arcmin=round(math.degrees(diameter_km / _MEAN_DISTANCE_KM) * 60, 3),
        sort=FeatureSort(row["sort"]),
        light=tuple(Illumination(word) for word in row["light"].split()),
        diameter_km=diameter_km,
        detail=row["detail"],
        detail_km=number_in(row["detail_km"]),
        detail_is_line=row["detail_is_line"] == "yes",
        width_km=number_in(row["width_km"]),
        rise_km=number_in(row["rise_km"]),
        look_for=row["look_for"],
    )
