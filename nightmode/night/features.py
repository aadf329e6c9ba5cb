"""Features of the Moon on a night: how high Sun and Earth stand over them, and when the light is right."""

import datetime as dt
from collections.abc import Mapping, Sequence

import numpy as np

from nightmode.arrays import Array, Indices, Interval, distinct
from nightmode.constants import DAY_S, HOUR_S
from nightmode.kinds import Kind
from nightmode.model.observer import Person
from nightmode.model.site import Site
from nightmode.model.target import FeatureSort, LunarFeature, Subject
from nightmode.night.usable import clearance, dark_levels_deg, least_altitudes_deg
from nightmode.records import Record
from nightmode.sky.crossings import intervals
from nightmode.sky.kernel import Sky, within_years
from nightmode.sky.selene import MoonFace, earth_height_deg, moon_face, sun_height_deg
from nightmode.sky.vantage import Vantage, horizontal, stand
from nightmode.sky.window import are_in_hours, lowest_of_each, night_of
from nightmode.visibility.relief import (
    FeatureTonight,
    Shape,
    early_deg,
    facing_margin_deg,
    light_margin_deg,
    sun_margin_deg,
)

#: By how many degrees light and tilt may be outside their range: a matter of minutes.
NEARLY_DEG = 0.05
#: How far back and ahead the light on a feature is worked out: a lunation and some days.
_BACK_DAYS, _AHEAD_DAYS = 20, 33
_KM_PER_DEG = 1737.4 * np.pi / 180.0
#: Kinds so wide that their nearest lit edge counts, not their middle; plains only from 150 km on (our own
#: rule).
_WIDE, _WIDE_PLAIN_KM = (FeatureSort.SEA, FeatureSort.RANGE), 150.0


class _Ahead(Record, eq=False):
    """The observer's coming hours with a usable Moon: the night (0 is tonight) and the instant of each."""

    night_number: Indices
    column: Indices
    until_new: int


def features_tonight(
    sky: Sky, vantage: Vantage, site: Site, person: Person, subjects: Sequence[Subject]
) -> Mapping[int, FeatureTonight]:
    """Return by row what the night brings each feature of the Moon whose place is known."""
    rows = [
        row
        for row, subject in enumerate(subjects)
        if isinstance(subject, LunarFeature) and _has_place(subject)
    ]
    features = [subject for row in rows if isinstance(subject := subjects[row], LunarFeature)]
    if not features:
        return {}
    shape, times = _shape(features), vantage.time_s
    sun_deg, seen_deg = _heights(moon_face(vantage), features)
    far_s = _weeks_around(float(times[0]))
    far = stand(sky, site, far_s)
    far_face = moon_face(far)
    far_sun_deg, far_seen_deg = _heights(far_face, features)
    far_light = light_margin_deg(shape, far_sun_deg)
    light = np.minimum(far_light, facing_margin_deg(shape, far_seen_deg))
    good = intervals(far_s, far_light)
    sunlit = intervals(far_s, sun_margin_deg(shape, far_sun_deg))
    ahead = _ahead(far, far_face, site, person, float(times[0]))
    found = {}
    for place, row in enumerate(rows):
        nights = distinct(ahead.night_number[light[place, ahead.column] > 0])
        later = [number for number in nights if number > 0]
        found[row] = FeatureTonight(
            sun_deg=sun_deg[place],
            seen_deg=seen_deg[place],
            good=tuple(good[place]),
            sunlit=tuple(sunlit[place]),
            nights=tuple(number for number in nights if number <= ahead.until_new),
            next_night_s=float(times[0] + later[0] * DAY_S) if later else None,
        )
    return found


def feature_clearance_deg(feature: LunarFeature, tonight: FeatureTonight) -> Array:
    """Return degrees, (T,), positive while a feature has the right light and is turned to the observer."""
    shape = _shape([feature])
    light = light_margin_deg(shape, tonight.sun_deg[None, :])
    return np.minimum(light, facing_margin_deg(shape, tonight.seen_deg[None, :]))[0]


def good_light(
    time_s: Array, subjects: Sequence[Subject], features: Mapping[int, FeatureTonight]
) -> dict[int, list[Interval]]:
    """Return by row the stretches of the night in which each feature has the right light."""
    return {
        row: intervals(time_s, feature_clearance_deg(subject, tonight))[0]
        for row, tonight in features.items()
        if isinstance(subject := subjects[row], LunarFeature)
    }


def tie_of(subject: Subject, tonight: FeatureTonight, waxing: bool) -> tuple[float, ...]:
    """Return the key by which features of the Moon, which all set together, are ordered.

    First come those with the fewest nights left, then those that lose their light first (with the highest Sun
    while the Moon waxes, the lowest while it wanes), then from west to east.
    """
    sun_deg = round(float(tonight.sun_deg[len(tonight.sun_deg) // 2]))
    longitude_deg = (isinstance(subject, LunarFeature) and subject.longitude_deg) or 0.0
    return float(tonight.nights_left), float(-sun_deg if waxing else sun_deg), longitude_deg


def is_turned_away(feature: LunarFeature, seen_deg: float) -> bool:
    """Return whether a feature, with us at height seen_deg over it, is too near the edge of the disc."""
    return bool(facing_margin_deg(_shape([feature]), np.array([[seen_deg]]))[0, 0] <= -NEARLY_DEG)


def peaks_catch_sun_deg(feature: LunarFeature) -> float:
    """Return the Sun's height over a feature, in degrees, 0 or below, at which its peaks begin to be lit."""
    return -float(early_deg(feature.rise_km))


def spread_deg(feature: LunarFeature) -> float:
    """Return half the width in degrees on the Moon of a feature judged by its nearest edge; else 0."""
    width_km = feature.diameter_km or 0.0
    wide = feature.sort in _WIDE or (feature.sort is FeatureSort.PLAIN and width_km >= _WIDE_PLAIN_KM)
    return width_km / 2.0 / _KM_PER_DEG if wide else 0.0


def _has_place(feature: LunarFeature) -> bool:
    return feature.latitude_deg is not None and feature.longitude_deg is not None


def _shape(features: Sequence[LunarFeature]) -> Shape:
    return Shape(
        light=[tuple(light.value for light in feature.light) for feature in features],
        spread_deg=np.array([spread_deg(feature) for feature in features]),
        early_deg=early_deg(np.array([feature.rise_km or 0.0 for feature in features])),
    )


def _heights(face: MoonFace, features: Sequence[LunarFeature]) -> tuple[Array, Array]:
    """Return the heights of the Sun and of the observer over features, degrees, (N, T) each."""
    lat, lon = np.array(
        [(feature.latitude_deg, feature.longitude_deg) for feature in features], dtype=float
    ).T
    return sun_height_deg(face, lat, lon), earth_height_deg(face, lat, lon)


def _weeks_around(start_s: float) -> Array:
    """Return instants around a night: every third hour before its beginning, every hour after it."""
    before = start_s - np.arange(_BACK_DAYS * 8, 0, -1) * 3 * HOUR_S
    times = np.concatenate([before, start_s + np.arange(_AHEAD_DAYS * 24) * HOUR_S])
    return times[within_years(times)]


def _ahead(far: Vantage, face: MoonFace, site: Site, person: Person, start_s: float) -> _Ahead:
    columns = np.flatnonzero(far.time_s >= start_s)
    night_number = ((far.time_s[columns] - start_s) // DAY_S).astype(int)
    # Aberration and refraction are left out: they move the edges of a coming night by some minutes.
    altitude_deg, azimuth_deg = horizontal(far.rotation, far.line_to("moon"))
    sun_deg = horizontal(far.rotation, far.line_to("sun"))[0][columns]
    lowest_deg = lowest_of_each(sun_deg, night_number)
    level = dark_levels_deg([Kind.LUNAR_FEATURE], lowest_deg)[:, night_number]
    any_feature = LunarFeature(name="", kind=Kind.LUNAR_FEATURE)
    clear = clearance(
        altitude_deg[None, columns],
        azimuth_deg[None, columns],
        sun_deg,
        minimum_deg=least_altitudes_deg([any_feature], person),
        horizon=site.horizon,
        dark_level_deg=level,
    )
    tonight = night_of(site, start_s)
    dates = [tonight + dt.timedelta(days=number) for number in range(night_number[-1] + 1)]
    some = clear.usable[0] & are_in_hours(site, dates, person.hours, far.time_s[columns], night_number)
    return _Ahead(night_number[some], columns[some], _new_moon(face.sun_lon_deg[columns], night_number))


def _new_moon(sun_lon_deg: Array, night_number: Indices) -> int:
    """Return the night of new Moon, when the Sun passes the middle of the far side; else the last night."""
    passes = np.flatnonzero(np.abs(np.diff(sun_lon_deg)) > 180.0)
    return int(night_number[passes[0]]) if passes.size else int(night_number[-1])
