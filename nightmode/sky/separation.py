"""Angles between directions. Numbers in, numbers out."""

import numpy as np


def separation_deg(
    ra1_deg: np.ndarray | float,
    dec1_deg: np.ndarray | float,
    ra2_deg: np.ndarray | float,
    dec2_deg: np.ndarray | float,
) -> np.ndarray:
    """Return the angle in degrees between two places; arrays broadcast.

    Vincenty's form of the great-circle distance, exact from 0 to 180 degrees. It serves any pair of
    longitude and latitude, azimuth and altitude included.
    """
    ra = np.radians(np.subtract(ra2_deg, ra1_deg))
    dec1, dec2 = np.radians(dec1_deg), np.radians(dec2_deg)
    sin1, cos1, sin2, cos2 = np.sin(dec1), np.cos(dec1), np.sin(dec2), np.cos(dec2)
    across = np.hypot(cos2 * np.sin(ra), cos1 * sin2 - sin1 * cos2 * np.cos(ra))
    return np.degrees(np.arctan2(across, sin1 * sin2 + cos1 * cos2 * np.cos(ra)))
