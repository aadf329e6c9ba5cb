"""Directions as vectors, and the angle between two of them. Numbers in, numbers out."""

import numpy as np

from nightmode.arrays import Array


def unit_vectors(ra_deg: Array, dec_deg: Array) -> Array:
    """Return unit vectors (N, 3) on ICRS axes from J2000 places (N,) in degrees."""
    ra, dec = np.radians(ra_deg), np.radians(dec_deg)
    return np.stack([np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)], axis=-1)


def angle_deg(first: Array, second: Array) -> Array:
    """Return the angle in degrees, (T,), between vectors (3, T) of any length.

    By cross and dot product: exact from 0 to 180 degrees, where an arc cosine is blind at either end.
    """
    across = np.linalg.norm(np.cross(first, second, axis=0), axis=0)
    return np.degrees(np.arctan2(across, np.sum(first * second, axis=0)))
