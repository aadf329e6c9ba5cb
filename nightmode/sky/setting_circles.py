"""What setting circles show: sidereal time, hour angle, right ascension and declination of date."""

import numpy as np

from nightmode.constants import CENTURY_D, DAY_S, J2000_S
from nightmode.records import Record
from nightmode.sky.refraction import true_deg


class CircleReadings(Record):
    """A direction on the circles, in degrees. hour_angle_deg runs from -180 to 180, west positive."""

    altitude_deg: float
    azimuth_deg: float
    ra_deg: float
    dec_deg: float
    hour_angle_deg: float
    sidereal_deg: float


def sidereal_deg(at_s: float, longitude_deg: float) -> float:
    """Return the local mean sidereal time in degrees; UTC serves for UT1, less than a second off.

    Source: IAU 1982 (Meeus, Astronomical Algorithms, 2nd ed., equation 12.4).
    """
    days = (at_s - J2000_S) / DAY_S
    centuries = days / CENTURY_D
    greenwich = 280.46061837 + 360.98564736629 * days + 0.000387933 * centuries**2 - centuries**3 / 38710000.0
    return (greenwich + longitude_deg) % 360.0


def circle_readings(
    at_s: float, altitude_deg: float, azimuth_deg: float, latitude_deg: float, longitude_deg: float
) -> CircleReadings:
    """Return the circles of what is seen at an apparent altitude and azimuth (north through east).

    Right ascension and declination are of date, as an aligned mount shows them. Source: Meeus,
    Astronomical Algorithms, 2nd ed., chapter 13, with azimuth counted from north.
    """
    unrefracted_deg = float(true_deg(np.array(altitude_deg)))
    altitude, azimuth, latitude = np.radians([unrefracted_deg, azimuth_deg, latitude_deg])
    north, east, up = np.cos(altitude) * np.cos(azimuth), np.cos(altitude) * np.sin(azimuth), np.sin(altitude)
    dec = np.arcsin(np.clip(np.sin(latitude) * up + np.cos(latitude) * north, -1.0, 1.0))
    hour_angle_deg = float(np.degrees(np.arctan2(-east, np.cos(latitude) * up - np.sin(latitude) * north)))
    local_deg = sidereal_deg(at_s, longitude_deg)
    return CircleReadings(
        altitude_deg=altitude_deg,
        azimuth_deg=azimuth_deg,
        ra_deg=(local_deg - hour_angle_deg) % 360.0,
        dec_deg=float(np.degrees(dec)),
        hour_angle_deg=hour_angle_deg,
        sidereal_deg=local_deg,
    )
