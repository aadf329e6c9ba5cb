"""Directions as a standing observer has them: right, up, forward. Pure geometry.

A direction is a unit vector on the axes north, east, up. A frame is a matrix (3, 3) whose rows are its
right, up and forward. Looking at a point of the sky with the zenith up, growing azimuth is to the right,
everywhere on Earth. A bearing is counted clockwise from up, in degrees: 0 up, 90 right.
"""

import numpy as np
from numpy.typing import ArrayLike

from nightmode.arrays import Array
from nightmode.sky.vectors import angle_between_deg, angles, unit_vectors

#: The width of an hour on the clock's face, degrees.
HOUR_DEG = 30.0


def direction(altitude_deg: ArrayLike, azimuth_deg: ArrayLike) -> Array:
    """Return unit vectors (..., 3), north, east, up, from altitude and azimuth in degrees."""
    return unit_vectors(azimuth_deg, altitude_deg)


def altitude_azimuth(vector: Array) -> tuple[Array, Array]:
    """Return altitude and azimuth (0 to 360) in degrees of directions (..., 3) of any length."""
    north, east, up = np.moveaxis(np.asarray(vector, float), -1, 0)
    return angles(north, east, up)


def frame(forward: Array) -> Array:
    """Return the frame (3, 3) of an observer who looks along a direction (3,), with the zenith up.

    For the zenith itself, where no azimuth is defined, the frame of an observer who faces north.
    """
    north, east, up = np.asarray(forward, float)
    level = np.hypot(north, east)
    ahead = np.array([north, east, 0.0]) / level if level > 1e-12 else np.array([1.0, 0.0, 0.0])
    right = np.array([-ahead[1], ahead[0], 0.0])
    return np.stack([right, level * np.array([0.0, 0.0, 1.0]) - up * ahead, np.asarray(forward, float)])


def swung_to(home: Array, forward: Array) -> Array:
    """Return a frame (3, 3) swung along the great circle until it looks along another direction (3,).

    An eye that follows a line from a star keeps the "up" it had at that star, as near the zenith with the
    head leaned back. Not defined for the opposite direction.
    """
    start = home[2]
    half = start + forward
    half = half / np.linalg.norm(half)
    # Two reflections make the rotation that takes start to forward.
    turned = home - 2.0 * np.outer(home @ half, half)
    back = turned - 2.0 * np.outer(turned @ forward, forward)
    return np.stack([back[0], back[1], np.asarray(forward, float)])


def rolled(home: Array, clockwise_deg: float) -> Array:
    """Return a frame (3, 3) turned about its forward axis, so that what was at this bearing is up."""
    c, s = np.cos(np.radians(clockwise_deg)), np.sin(np.radians(clockwise_deg))
    right, up, forward = home
    return np.stack([c * right - s * up, s * right + c * up, forward])


def bearing_deg(home: Array, vector: Array) -> Array:
    """Return the bearings, 0 to 360, in which directions (..., 3) lie from the middle of a frame."""
    return np.degrees(np.arctan2(vector @ home[0], vector @ home[1])) % 360.0


def clock_hour(bearing_deg: ArrayLike) -> Array:
    """Return bearings as hours on the clock's face: 12 is up, 3 right; above 0 and up to 12."""
    hours = np.asarray(bearing_deg, float) / HOUR_DEG % 12.0
    return np.where(hours > 0.0, hours, 12.0)


def stereographic(home: Array, vector: Array) -> Array:
    """Return places (..., 2) in degrees, right and up, of directions (..., 3) in the picture of a frame.

    Stereographic projection: circles stay circles, and angles stay the same; lengths are true in the middle.
    NaN for what is behind.
    """
    right, up, forward = np.moveaxis(np.asarray(vector, float) @ home.T, -1, 0)
    with np.errstate(divide="ignore", invalid="ignore"):
        scale = np.where(forward > -0.5, np.degrees(2.0 / (1.0 + forward)), np.nan)
    return np.stack([right * scale, up * scale], axis=-1)


def point_at(home: Array, distance_deg: ArrayLike, bearing_deg: ArrayLike) -> Array:
    """Return the directions (..., 3) at distances and bearings from the middle of a frame."""
    distance, bearing = np.radians(distance_deg), np.radians(bearing_deg)
    flat = np.sin(distance)
    parts = np.broadcast_arrays(flat * np.sin(bearing), flat * np.cos(bearing), np.cos(distance))
    return np.stack(parts, axis=-1) @ home


def along(start: Array, end: Array, share: ArrayLike) -> Array:
    """Return the points (..., 3) on the great circle from one direction to another.

    share is how far along it each lies: 0 at the start, 1 at the end, above 1 beyond the end.
    """
    angle = np.radians(angle_between_deg(start, end))[..., None]
    share = np.asarray(share, float)[..., None]
    with np.errstate(divide="ignore", invalid="ignore"):
        mixed = (np.sin((1.0 - share) * angle) * start + np.sin(share * angle) * end) / np.sin(angle)
    return np.where(angle > 1e-9, mixed, start)
