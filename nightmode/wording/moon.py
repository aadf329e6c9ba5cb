"""The words for a feature of the Moon: what it is, where, how it is lit and until when."""

from zoneinfo import ZoneInfo

import numpy as np

from nightmode.constants import DAY_S
from nightmode.model.target import FeatureSort, LunarFeature
from nightmode.visibility.relief import FeatureTonight, squeeze
from nightmode.wording.figures import day, time_of_day

_POINTS = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")
#: Within so many degrees of the centre of the disc no direction is named.
_MIDDLE_DEG = 12.0
#: A Sun lower than this stands on the terminator.
_ON_TERMINATOR_DEG = 1.0
#: Foreshortening is told below this ratio.
_ROUND = 0.9


def what_it_is(feature: LunarFeature, seen_deg: float) -> str:
    """Return kind, size and foreshortening: "crater, 101 km, squeezed to 0.53"."""
    size = size_text(feature, seen_deg)
    return f"{sort_text(feature)}, {size}" if size else sort_text(feature)


def sort_text(feature: LunarFeature) -> str:
    """Return its kind: "crater"."""
    return "feature of the Moon" if feature.sort is FeatureSort.FEATURE else feature.sort.value


def size_text(feature: LunarFeature, seen_deg: float) -> str:
    """Return size and foreshortening: "101 km, squeezed to 0.53"; "" where neither is known to matter."""
    parts = []
    if feature.diameter_km is not None:
        figures = f"{feature.diameter_km:.0f}" if feature.diameter_km >= 10 else f"{feature.diameter_km:.1f}"
        parts.append(f"{figures} km")
    if (flat := float(squeeze(seen_deg))) < _ROUND:
        parts.append(f"squeezed to {flat:.2f}")
    return ", ".join(parts)


def where_on_it(feature: LunarFeature, sun_deg: float) -> str:
    """Return the place on the disc: "north, 4° inside the light"; east is towards Mare Crisium."""
    return f"{_direction(feature)}, {_from_terminator(sun_deg)}"


def _direction(feature: LunarFeature) -> str:
    lat, lon = np.radians([feature.latitude_deg or 0.0, feature.longitude_deg or 0.0])
    x, y = float(np.cos(lat) * np.sin(lon)), float(np.sin(lat))
    if np.hypot(x, y) < np.sin(np.radians(_MIDDLE_DEG)):
        return "near the middle"
    return _POINTS[round(float(np.degrees(np.arctan2(x, y))) / 45.0) % 8]


def _from_terminator(sun_deg: float) -> str:
    if abs(sun_deg) < _ON_TERMINATOR_DEG:
        return "on the terminator"
    return f"{abs(sun_deg):.0f}° {'inside the light' if sun_deg > 0 else 'beyond the light'}"


def sun_over_it(sun_deg: float, change_deg_per_h: float, are_shadows_told: bool = False) -> str:
    """Return the Sun's height and trend: "0.8° over it, rising 0.3° an hour: long shadows".

    are_shadows_told leaves out the shadows, where the verdict beside it has them.
    """
    way = "rising" if change_deg_per_h > 0 else "sinking"
    height = f"{sun_deg:.1f}° over it" if sun_deg > 0 else f"{-sun_deg:.1f}° below its horizon"
    trend = f"{height}, {way} {abs(change_deg_per_h):.1f}° an hour"
    return trend if are_shadows_told else f"{trend}: {shadows(sun_deg)}"


def shadows(sun_deg: float) -> str:
    """Return the kind of shadows at this height of the Sun."""
    if sun_deg <= 0:
        return "night on its ground"
    if sun_deg < 20:
        return "long shadows"
    return "short shadows" if sun_deg < 35 else "no shadows"


def light_until(tonight: FeatureTonight, now_s: float, night_end_s: float, zone: ZoneInfo) -> str:
    """Return until when the light is right, or from when on, and when the ground is next dark.

    A later night is named by its evening, as the verdict names it, and is one with the Moon up in good light.
    """
    stretch = tonight.light_at(now_s)
    if stretch is None:
        return "not right again within a month"
    start, end = stretch
    if start >= night_end_s:
        night_s = tonight.next_night_s
        return "no good light for a month" if night_s is None else f"good on {day(night_s, zone)}"
    told = (
        f"good until {_when(end, now_s, zone)}"
        if start <= now_s
        else f"good from {_when(start, now_s, zone)}"
    )
    sunlight = tonight.sun_at(now_s)
    if sunlight and sunlight[0] <= now_s and sunlight[1] > end + 3600.0:
        told += f"; dark again {_when(sunlight[1], now_s, zone)}"
    return told


def _when(at_s: float, now_s: float, zone: ZoneInfo) -> str:
    """Return the time of an instant of this night, the day of one farther off."""
    return time_of_day(at_s, zone) if abs(at_s - now_s) < 0.75 * DAY_S else day(at_s, zone)


def tilt(feature: LunarFeature, libration_lat_deg: float, libration_lon_deg: float) -> str | None:
    """Return which edge of the Moon is turned away and how far, for features near it; else None."""
    lat, lon = feature.latitude_deg or 0.0, feature.longitude_deg or 0.0
    if max(abs(lat), abs(lon)) < 40.0:
        return None
    north_south = abs(lat) >= abs(lon)
    edge = ("north" if lat > 0 else "south") if north_south else ("east" if lon > 0 else "west")
    towards = libration_lat_deg * np.sign(lat) if north_south else libration_lon_deg * np.sign(lon)
    if abs(towards) < 2.0:
        return None
    return f"{edge} edge turned {abs(towards):.0f}° {'towards us' if towards > 0 else 'away'}"
