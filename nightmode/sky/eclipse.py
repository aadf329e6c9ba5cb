"""Eclipses of the Moon: when, how deep, and how much of the disc is in the shadow."""

import numpy as np

from nightmode.arrays import Array, Interval
from nightmode.constants import HOUR_S
from nightmode.records import Record
from nightmode.sky.bodies import RADIUS_KM
from nightmode.sky.crossings import intervals
from nightmode.sky.kernel import Sky, bends_light, within_years
from nightmode.sky.vectors import angle_between_deg

_EARTH_RADIUS_KM = 6378.137
#: The Earth's air makes its shadow larger by this share of the Moon's parallax (Danjon 1951).
_DANJON = 1.01
#: An eclipse lasts 6 hours at most from its first to its last touch of the penumbra.
_HALF_S = 4 * HOUR_S
#: There is no eclipse at a phase angle above this, in degrees.
NEAR_FULL_DEG = 4.0


class LunarEclipse(Record):
    """An eclipse of the Moon; instants in Unix seconds, geocentric.

    magnitude is the share of the Moon's diameter in the umbra at greatest eclipse: above 1 if total, below 0
    if only penumbral. umbra and total are (begin, end), None if there is no such phase.
    """

    greatest_s: float
    magnitude: float
    penumbra: Interval
    umbra: Interval | None
    total: Interval | None

    @property
    def kind(self) -> str:
        """Total, partial or penumbral."""
        if self.total:
            return "total"
        return "partial" if self.umbra else "penumbral"


class _Shadow(Record, eq=False):
    """The Moon against the Earth's shadow, (T,) each: the distance of their centres, and their radii."""

    apart_deg: Array
    moon_deg: Array
    umbra_deg: Array
    penumbra_deg: Array


def lunar_eclipse(sky: Sky, start_s: float, end_s: float) -> LunarEclipse | None:
    """Return the eclipse of the Moon of which some part falls in a night, or None."""
    coarse_s = np.arange(start_s - _HALF_S, end_s + _HALF_S, HOUR_S / 2)
    coarse_s = coarse_s[within_years(coarse_s)]
    middle_s = float(coarse_s[_shadow(sky, coarse_s).apart_deg.argmin()])
    time_s = middle_s + np.arange(-_HALF_S, _HALF_S + 1, 60.0)
    time_s = time_s[within_years(time_s)]
    seen = _shadow(sky, time_s)
    penumbra = _span(time_s, seen.penumbra_deg + seen.moon_deg - seen.apart_deg)
    if penumbra is None or penumbra[1] < start_s or penumbra[0] > end_s:
        return None
    deepest = int(seen.apart_deg.argmin())
    depth = (seen.umbra_deg + seen.moon_deg - seen.apart_deg) / (2 * seen.moon_deg)
    return LunarEclipse(
        greatest_s=float(time_s[deepest]),
        magnitude=float(depth[deepest]),
        penumbra=penumbra,
        umbra=_span(time_s, seen.umbra_deg + seen.moon_deg - seen.apart_deg),
        total=_span(time_s, seen.umbra_deg - seen.moon_deg - seen.apart_deg),
    )


def eclipse_seen(sky: Sky, time_s: Array, altitude_deg: Array, phase_deg: Array) -> LunarEclipse | None:
    """Return the eclipse of a night if the Moon is above the horizon during some of it, else None.

    altitude_deg and phase_deg are the Moon's height and phase angle at instants (T,).
    """
    if phase_deg.min() > NEAR_FULL_DEG:
        return None
    found = lunar_eclipse(sky, float(time_s[0]), float(time_s[-1]))
    if found is None:
        return None
    during = (time_s >= found.penumbra[0]) & (time_s <= found.penumbra[1])
    return found if (altitude_deg[during] > 0.0).any() else None


def umbra_share(sky: Sky, time_s: Array) -> Array:
    """Return the share of the Moon's disc that is in the umbra, (T,), 0 to 1."""
    seen = _shadow(sky, time_s)
    return shared_area(seen.moon_deg, seen.umbra_deg, seen.apart_deg)


def shared_area(radius: Array, other: Array, apart: Array) -> Array:
    """Return the share of a disc that a larger disc covers; radii and distance of centres in the same unit.

    Source: geometry, the area common to two circles.
    """
    apart = np.maximum(apart, 1e-12)
    first = np.clip((apart**2 + radius**2 - other**2) / (2 * apart * radius), -1.0, 1.0)
    second = np.clip((apart**2 + other**2 - radius**2) / (2 * apart * other), -1.0, 1.0)
    edges = (radius + other - apart) * (apart + radius - other) * (apart - radius + other)
    lens = (
        radius**2 * np.arccos(first)
        + other**2 * np.arccos(second)
        - 0.5 * np.sqrt(np.maximum(edges * (apart + radius + other), 0.0))
    )
    found = lens / (np.pi * radius**2)
    return np.where(apart <= other - radius, 1.0, np.where(apart >= other + radius, 0.0, found))


def _shadow(sky: Sky, time_s: Array) -> _Shadow:
    earth = sky.body("earth").at(sky.time(time_s, turning=False))
    moon, sun = (
        earth.observe(sky.body(name)).apparent(deflectors=bends_light(name)).xyz.km
        for name in ("moon", "sun")
    )
    moon_km, sun_km = np.linalg.norm(moon, axis=0), np.linalg.norm(sun, axis=0)
    parallax = _DANJON * np.arcsin(_EARTH_RADIUS_KM / moon_km)
    sun_parallax = np.arcsin(_EARTH_RADIUS_KM / sun_km)
    sun_radius = np.arcsin(RADIUS_KM["sun"] / sun_km)
    return _Shadow(
        apart_deg=angle_between_deg(moon, -sun, axis=0),
        moon_deg=np.degrees(np.arcsin(RADIUS_KM["moon"] / moon_km)),
        umbra_deg=np.degrees(parallax + sun_parallax - sun_radius),
        penumbra_deg=np.degrees(parallax + sun_parallax + sun_radius),
    )


def _span(time_s: Array, above: Array) -> Interval | None:
    found = intervals(time_s, above)[0]
    return found[0] if found else None
