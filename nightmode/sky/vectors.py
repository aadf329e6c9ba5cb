"""Directions as vectors and as pairs of angles, and the angle between two. Numbers in, numbers out."""

import numpy as np
from numpy.typing import ArrayLike

from nightmode.arrays import Array


def unit_vectors(ra_deg: ArrayLike, dec_deg: ArrayLike) -> Array:
    """Return unit vectors (..., 3) from right ascension and declination in degrees, which broadcast.

    From azimuth and altitude they are on the axes north, east, up.
    """
    ra, dec = np.radians(ra_deg), np.radians(dec_deg)
    x, y, z = np.broadcast_arrays(np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec))
    return np.stack([x, y, z], axis=-1)


def angle_between_deg(first: Array, second: Array, axis: int = -1) -> Array:
    """Return the angle in degrees between vectors of any length, which broadcast; x, y, z lie along `axis`.

    By cross and dot product: exact from 0 to 180 degrees, where an arc cosine is blind at either end.
    """
    across = np.linalg.norm(np.cross(first, second, axis=axis), axis=axis)
    return np.degrees(np.arctan2(across, np.sum(np.asarray(first) * second, axis=axis)))


def separation_deg(
    ra1_deg: ArrayLike,
    dec1_deg: ArrayLike,
    ra2_deg: ArrayLike,
    dec2_deg: ArrayLike,
) -> Array:
    """Return the angle in degrees between two places; arrays broadcast.

    Vincenty's form of the great-circle distance, exact from 0 to 180 degrees. It serves any pair of
    longitude and latitude, azimuth and altitude included.
    """
    ra = np.radians(np.subtract(ra2_deg, ra1_deg))
    dec1, dec2 = np.radians(dec1_deg), np.radians(dec2_deg)
    sin1, cos1, sin2, cos2 = np.sin(dec1), np.cos(dec1), np.sin(dec2), np.cos(dec2)
    across = np.hypot(cos2 * np.sin(ra), cos1 * sin2 - sin1 * cos2 * np.cos(ra))
    return np.degrees(np.arctan2(across, sin1 * sin2 + cos1 * cos2 * np.cos(ra)))


def angles(north: Array, east: Array, up: Array) -> tuple[Array, Array]:
    """Return altitude and azimuth (north through east, 0 to 360) in degrees from components of any length."""
    return altitude_of(north, east, up), azimuth_of(north, east, up)


def altitude_of(north: Array, east: Array, up: Array) -> Array:
    """Return the altitude in degrees from components of any length."""
    return np.degrees(np.arctan2(up, np.hypot(north, east)))


def azimuth_of(north: Array, east: Array, up: Array) -> Array:
    """Return the azimuth in degrees, north through east, 0 to 360, from components of any length."""
    return np.degrees(np.arctan2(east, north)) % 360.0
