"""Features of the Moon by their IAU names."""

import math
from dataclasses import dataclass
from functools import cache

from nightmode.catalog.names import plain_key
from nightmode.catalog.tables import table
from nightmode.model.kind import Kind
from nightmode.model.target import Subject

#: Mean distance of the Moon in km (IAU), for the apparent size of a feature seen face on.
_MEAN_DISTANCE_KM = 384400.0


@dataclass(frozen=True)
class LunarFeature:
    """A feature: planetographic latitude, longitude (east positive), diameter or length."""

    name: str
    latitude_deg: float
    longitude_deg: float
    diameter_km: float

    @property
    def size_arcmin(self) -> float:
        """Apparent size at the Moon's mean distance, without foreshortening."""
        return math.degrees(self.diameter_km / _MEAN_DISTANCE_KM) * 60


@cache
def lunar_features() -> dict[str, LunarFeature]:
    """Return all features by plain name."""
    return {
        plain_key(row["name"]): LunarFeature(
            row["name"], float(row["latitude_deg"]), float(row["longitude_deg"]), float(row["diameter_km"])
        )
        for row in table("lunar")
    }


def lunar_subject(name: str) -> Subject | None:
    """Return a feature of the Moon as a target, or None."""
    feature = lunar_features().get(plain_key(name))
    if feature is None:
        return None
    return Subject(
        name=feature.name, kind=Kind.LUNAR_FEATURE, body="moon", size_arcmin=round(feature.size_arcmin, 3)
    )
