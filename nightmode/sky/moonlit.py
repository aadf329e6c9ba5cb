"""Where the Sun stands over the Moon's ground: which features are lit, and how low the light falls."""

import numpy as np
from numpy.typing import ArrayLike

_J2000_UNIX_S = 946728000.0
_CENTURY_S = 36525 * 86400.0
#: Inclination of the Moon's equator to the ecliptic, in degrees (Meeus, chapter 53).
_TILT_DEG = 1.54242


def subsolar_deg(time_unix_s: ArrayLike) -> tuple[np.ndarray, np.ndarray]:
    """Return longitude (east positive, -180 to 180) and latitude in degrees where the Sun stands overhead.

    Good to about 0.2 degrees. Source: Meeus, Astronomical Algorithms, chapters 25 (the Sun), 47 (the Moon's
    mean longitude and node) and 53 (the Moon seen from the Sun); physical libration and the Moon's nearness
    to the Earth are left out.
    """
    t = (np.asarray(time_unix_s, float) - _J2000_UNIX_S) / _CENTURY_S
    anomaly = np.radians(357.52911 + 35999.05029 * t)
    centre = 1.914602 * np.sin(anomaly) + 0.019993 * np.sin(2 * anomaly) + 0.000289 * np.sin(3 * anomaly)
    from_sun = 280.46646 + 36000.76983 * t + centre + 180.0
    moon = 218.3164477 + 481267.88123421 * t
    node = 125.0445479 - 1934.1362891 * t
    longitude = (from_sun - moon + 180.0) % 360.0 - 180.0
    latitude = -np.degrees(np.arcsin(np.sin(np.radians(from_sun - node)) * np.sin(np.radians(_TILT_DEG))))
    return longitude, latitude


def sun_over_feature_deg(longitude_deg: float, latitude_deg: float, time_unix_s: ArrayLike) -> np.ndarray:
    """Return the altitude of the Sun's centre in degrees at a place on the Moon; below 0 it is night."""
    sun_longitude, sun_latitude = (np.radians(angle) for angle in subsolar_deg(time_unix_s))
    latitude, apart = np.radians(latitude_deg), np.radians(longitude_deg) - sun_longitude
    sine = np.sin(latitude) * np.sin(sun_latitude) + np.cos(latitude) * np.cos(sun_latitude) * np.cos(apart)
    return np.degrees(np.arcsin(np.clip(sine, -1.0, 1.0)))
