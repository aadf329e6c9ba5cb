"""Jupiter's four large moons: where each stands beside the disc, and when it passes before or behind it.

Numbers in, numbers out. Source of everything here: Meeus, Astronomical Algorithms, 2nd ed. 1998, chapter
44, the method of lower accuracy. Events come out within 2 minutes for Io, 3 for Europa, about 7 for
Ganymede and 12 for Callisto.
"""

import numpy as np
from numpy.typing import ArrayLike

from nightmode.arrays import Array
from nightmode.constants import J2000_JD
from nightmode.records import Record
from nightmode.sky.crossings import intervals

MOONS = ("Io", "Europa", "Ganymede", "Callisto")
#: Passages of a moon: before the disc, its shadow on the disc, in Jupiter's shadow, behind the disc.
TRANSIT, SHADOW, ECLIPSE, OCCULTATION = "transit", "shadow", "eclipse", "occultation"
#: Equatorial over polar radius of the disc (Meeus, chapter 44: Y is stretched by it to make the disc round).
_OBLATE = 1.071374
_LIGHT_AU_PER_DAY = 173.0
#: Mean anomalies of the moons, as angles from the line to the Earth, and their daily motions, in degrees.
_START_DEG = np.array([163.8069, 358.4140, 5.7176, 224.8092])
_DAILY_DEG = np.array([203.4058646, 101.2916335, 50.2345180, 21.4879800])


class Beside(Record, eq=False):
    """Four moons at T instants, (4, T) each, in equatorial radii of Jupiter.

    x is positive to the west, y to the north of Jupiter's equator, z towards the observer.
    """

    x: Array
    y: Array
    z: Array

    @property
    def from_middle(self) -> Array:
        """Distance from the centre of the disc, which is stretched to a circle of radius 1."""
        return np.hypot(self.x, self.y * _OBLATE)


class Passage(Record):
    """One passage of a moon; it begins and ends when the centre of the moon is on the edge of the disc.

    A passage under way at the first or last instant begins or ends there.
    """

    moon: str
    event: str
    begins_s: float
    ends_s: float


def beside_jupiter(tt_jd: ArrayLike) -> tuple[Beside, Beside]:
    """Return the four moons as seen from the Earth and as seen from the Sun, at Julian days (T,) TT.

    The Sun's view is of the light that reaches the Earth then: where the moon is within the disc in it, its
    shadow falls on Jupiter (z > 0) or Jupiter's shadow on the moon (z < 0).
    """
    days = np.atleast_1d(np.asarray(tt_jd, float)) - J2000_JD
    around = _Jupiter(days)
    back_days = days - around.distance_au / _LIGHT_AU_PER_DAY
    # Angles of the moons along their orbits from the point nearest to the Earth.
    u = _START_DEG[:, None] + _DAILY_DEG[:, None] * back_days + around.psi_deg - around.centre_deg
    first_pair, second_pair = np.radians(u[0] - u[1]), np.radians(u[1] - u[2])
    g, h = np.radians(331.18 + 50.310482 * back_days), np.radians(87.45 + 21.569231 * back_days)
    radius = np.array([
        5.9057 - 0.0244 * np.cos(2 * first_pair),
        9.3966 - 0.0882 * np.cos(2 * second_pair),
        14.9883 - 0.0216 * np.cos(g),
        26.3627 - 0.1939 * np.cos(h),
    ])  # fmt: skip
    u = u + np.array([
        0.473 * np.sin(2 * first_pair),
        1.065 * np.sin(2 * second_pair),
        0.165 * np.sin(g),
        0.843 * np.sin(h),
    ])  # fmt: skip
    return _seen(u, radius, around.earth_lat_deg), _seen(u - around.psi_deg, radius, around.sun_lat_deg)


def _seen(u_deg: Array, radius: Array, latitude_deg: Array) -> Beside:
    u, latitude = np.radians(u_deg), np.radians(latitude_deg)
    near = radius * np.cos(u)
    return Beside(radius * np.sin(u), -near * np.sin(latitude), near * np.cos(latitude))


class _Jupiter:
    """Jupiter's place by mean elements, as far as the places of the moons need it. Angles in degrees.

    psi_deg       angle Earth-Jupiter-Sun, with sign
    centre_deg    Jupiter's equation of the centre
    earth_lat_deg, sun_lat_deg  latitude of the Earth and the Sun over Jupiter's equator
    """

    def __init__(self, days: Array) -> None:
        long_term = np.sin(np.radians(172.74 + 0.00111588 * days))
        earth = np.radians(357.529 + 0.9856003 * days)
        jupiter = np.radians(20.020 + 0.0830853 * days + 0.329 * long_term)
        apart_deg = 66.115 + 0.9025179 * days - 0.329 * long_term
        earth_centre_deg = 1.915 * np.sin(earth) + 0.020 * np.sin(2 * earth)
        self.centre_deg = 5.555 * np.sin(jupiter) + 0.168 * np.sin(2 * jupiter)
        angle = np.radians(apart_deg + earth_centre_deg - self.centre_deg)
        earth_au = 1.00014 - 0.01671 * np.cos(earth) - 0.00014 * np.cos(2 * earth)
        sun_au = 5.20872 - 0.25208 * np.cos(jupiter) - 0.00611 * np.cos(2 * jupiter)
        self.distance_au = np.sqrt(sun_au**2 + earth_au**2 - 2 * sun_au * earth_au * np.cos(angle))
        psi = np.arcsin(earth_au / self.distance_au * np.sin(angle))
        self.psi_deg = np.degrees(psi)
        longitude_deg = 34.35 + 0.083091 * days + 0.329 * long_term + self.centre_deg
        self.sun_lat_deg = 3.12 * np.sin(np.radians(longitude_deg + 42.8))
        nearness = (sun_au - self.distance_au) / self.distance_au
        self.earth_lat_deg = (
            self.sun_lat_deg
            - 2.22 * np.sin(psi) * np.cos(np.radians(longitude_deg + 22.0))
            - 1.30 * nearness * np.sin(np.radians(longitude_deg - 100.5))
        )


def passages(time_s: Array, tt_jd: Array) -> list[Passage]:
    """Return the passages of the four moons during instants (T,), in order of their beginning.

    time_s and tt_jd are the same instants; a minute apart or less. An eclipse is given as long as the
    moon is in the shadow, also while it is behind the disc.
    """
    earth, sun = beside_jupiter(tt_jd)
    found = []
    for event, seen, side in (
        (TRANSIT, earth, 1.0),
        (OCCULTATION, earth, -1.0),
        (SHADOW, sun, 1.0),
        (ECLIPSE, sun, -1.0),
    ):
        # z changes its sign far from the disc, so the product does not turn a crossing into two.
        inside = np.where(seen.z * side > 0, 1.0 - seen.from_middle, -1.0)
        for moon, stretches in zip(MOONS, intervals(time_s, inside), strict=True):
            found += [Passage(moon, event, *stretch) for stretch in stretches]
    return sorted(found, key=lambda passage: (passage.begins_s, passage.moon))
