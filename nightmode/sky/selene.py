"""The Moon as a globe: which side it turns to the observer, and how high the Sun is over its ground.

Latitudes and longitudes on the Moon are those of its maps (mean Earth and polar axis), east positive: Mare
Crisium is east.
"""

from typing import TYPE_CHECKING, TypeVar

import numpy as np
from numpy.typing import ArrayLike

from nightmode.arrays import Array
from nightmode.constants import CENTURY_D, J2000_JD, LIGHT_KM_PER_DAY
from nightmode.records import Record

if TYPE_CHECKING:
    from nightmode.sky.vantage import Vantage


#: Thirteen angles E_i = c0 + c1 d in degrees, d in days from J2000.0 TDB, and with what weight each enters
#: the pole's right ascension (sine), its declination (cosine) and the prime meridian (sine). Source:
#: Archinal et al. 2011, Report of the IAU Working Group on Cartographic Coordinates and Rotational
#: Elements 2009, Celestial Mechanics and Dynamical Astronomy 109, 101.
_SERIES = np.array([
    (125.045, -0.0529921, -3.8787, 1.5419, 3.5610),
    (250.089, -0.1059842, -0.1204, 0.0239, 0.1208),
    (260.008, 13.0120009, 0.0700, -0.0278, -0.0642),
    (176.625, 13.3407154, -0.0172, 0.0068, 0.0158),
    (357.529, 0.9856003, 0.0, 0.0, 0.0252),
    (311.589, 26.4057084, 0.0072, -0.0029, -0.0066),
    (134.963, 13.0649930, 0.0, 0.0009, -0.0047),
    (276.617, 0.3287146, 0.0, 0.0, -0.0046),
    (34.226, 1.7484877, 0.0, 0.0, 0.0028),
    (15.134, -0.1589763, -0.0052, 0.0008, 0.0052),
    (119.743, 0.0036096, 0.0, 0.0, 0.0040),
    (239.961, 0.1643573, 0.0, 0.0, 0.0019),
    (25.053, 12.9590088, 0.0043, -0.0009, -0.0044),
])  # fmt: skip
AnyAngle = TypeVar("AnyAngle", float, Array)


class MoonFace(Record, eq=False):
    """The Moon's face at T instants, (T,) each, in degrees and km.

    libration_lon_deg, libration_lat_deg  the place on the Moon that stands in the middle of the disc, as seen
                      from the site: the libration
    sun_lon_deg, sun_lat_deg  the place on the Moon that has the Sun overhead
    distance_km       to the Moon's centre
    """

    libration_lon_deg: Array
    libration_lat_deg: Array
    sun_lon_deg: Array
    sun_lat_deg: Array
    distance_km: Array


def moon_face(vantage: "Vantage") -> MoonFace:
    """Return the Moon's face as seen from a site, within 0.01 degree of DE421's own libration."""
    moon, sun = vantage.line_to("moon"), vantage.line_to("sun")
    return face_from(moon, sun, vantage.time.tdb)


def face_from(moon_km: Array, sun_km: Array, tdb_jd: Array) -> MoonFace:
    """Return the Moon's face from where Moon and Sun stand for the observer: ICRS vectors (3, T) in km.

    tdb_jd (T,) are Julian days TDB.
    """
    distance_km = np.linalg.norm(moon_km, axis=0)
    axes = moon_axes(tdb_jd - distance_km / LIGHT_KM_PER_DAY)
    libration_lon_deg, libration_lat_deg = lon_lat(axes, -moon_km)
    sun_lon_deg, sun_lat_deg = lon_lat(axes, sun_km - moon_km)
    return MoonFace(
        libration_lon_deg=libration_lon_deg,
        libration_lat_deg=libration_lat_deg,
        sun_lon_deg=sun_lon_deg,
        sun_lat_deg=sun_lat_deg,
        distance_km=distance_km,
    )


def colongitude_deg(sun_lon_deg: AnyAngle) -> AnyAngle:
    """Return the colongitude in degrees, 0 to 360: near 0 at first quarter, 90 at full Moon.

    This is how far west of the Moon's central meridian the Sun rises.
    """
    return (90.0 - sun_lon_deg) % 360.0


def moon_axes(tdb_jd: ArrayLike) -> Array:
    """Return the rotation (3, 3, T) from ICRS axes to the Moon's, at Julian days (T,) TDB."""
    days = np.atleast_1d(np.asarray(tdb_jd, float)) - J2000_JD
    centuries = days / CENTURY_D
    start, rate, in_ra, in_dec, in_turn = _SERIES.T
    angle = np.radians(start[:, None] + rate[:, None] * days)
    sine, cosine = np.sin(angle), np.cos(angle)
    ra_deg = 269.9949 + 0.0031 * centuries + in_ra @ sine
    dec_deg = 66.5392 + 0.0130 * centuries + in_dec @ cosine
    turn_deg = 38.3213 + 13.17635815 * days - 1.4e-12 * days**2 + in_turn @ sine
    return globe_axes(ra_deg, dec_deg, turn_deg)


def globe_axes(pole_ra_deg: ArrayLike, pole_dec_deg: ArrayLike, turn_deg: ArrayLike) -> Array:
    """Return the rotation (3, 3, T) from ICRS axes to those of a globe: x prime meridian, z north pole.

    turn_deg is W, the angle along the equator from its node on the ICRS equator to the prime meridian
    (the convention of the IAU Working Group on Cartographic Coordinates and Rotational Elements).
    """
    ra, dec, turn = (np.radians(np.atleast_1d(angle)) for angle in (pole_ra_deg, pole_dec_deg, turn_deg))
    ra, dec, turn = np.broadcast_arrays(ra, dec, turn)
    zero = np.zeros_like(ra)
    node = np.array([-np.sin(ra), np.cos(ra), zero])
    across = np.array([-np.sin(dec) * np.cos(ra), -np.sin(dec) * np.sin(ra), np.cos(dec)])
    pole = np.array([np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)])
    prime = np.cos(turn) * node + np.sin(turn) * across
    return np.stack([prime, np.cross(pole, prime, axis=0), pole])


def lon_lat(axes: Array, vector: Array) -> tuple[Array, Array]:
    """Return longitude (-180 to 180) and latitude in degrees of ICRS vectors (3, T) on a globe's axes."""
    x, y, z = np.einsum("ijt,jt->it", axes, vector)
    return np.degrees(np.arctan2(y, x)), np.degrees(np.arctan2(z, np.hypot(x, y)))


def height_deg(
    latitude_deg: ArrayLike, longitude_deg: ArrayLike, over_lat_deg: ArrayLike, over_lon_deg: ArrayLike
) -> Array:
    """Return how high a distant body is over places of a globe, in degrees; arguments broadcast.

    The body, the Sun or the Earth, is overhead at (over_lat_deg, over_lon_deg). A height of the Earth of 90
    is at the centre of the disc, of 0 at its edge.
    """
    lat, lon, over_lat, over_lon = (
        np.radians(angle) for angle in (latitude_deg, longitude_deg, over_lat_deg, over_lon_deg)
    )
    sine = np.sin(lat) * np.sin(over_lat) + np.cos(lat) * np.cos(over_lat) * np.cos(lon - over_lon)
    return np.degrees(np.arcsin(np.clip(sine, -1.0, 1.0)))


def sun_height_deg(face: MoonFace, latitude_deg: ArrayLike, longitude_deg: ArrayLike) -> Array:
    """Return the height of the Sun's centre over N places of the Moon in degrees, (N, T)."""
    lat, lon = np.atleast_1d(latitude_deg)[:, None], np.atleast_1d(longitude_deg)[:, None]
    return height_deg(lat, lon, face.sun_lat_deg, face.sun_lon_deg)


def earth_height_deg(face: MoonFace, latitude_deg: ArrayLike, longitude_deg: ArrayLike) -> Array:
    """Return the height of the observer over N places of the Moon in degrees, (N, T): 90 is face on."""
    lat, lon = np.atleast_1d(latitude_deg)[:, None], np.atleast_1d(longitude_deg)[:, None]
    return height_deg(lat, lon, face.libration_lat_deg, face.libration_lon_deg)
