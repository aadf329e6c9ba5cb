"""Standing at a site through a row of instants: what every track of a night shares."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nightmode.model.site import Site
from nightmode.sky.kernel import Sky


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


if TYPE_CHECKING:
    from skyfield.positionlib import ICRF, Barycentric

_LIGHT_AU_PER_DAY = 173.1446326846693


@dataclass(frozen=True, eq=False)
class Vantage:
    """A site at T instants.

    time_unix_s  (T,)
    observer  the site's barycentric position, as Skyfield keeps it
    rotation  (3, 3, T) from ICRS axes to north, east, up
    beta      (3, T) the site's velocity in units of that of light, ICRS axes
    """

    sky: Sky
    time_unix_s: np.ndarray
    observer: "Barycentric"
    rotation: np.ndarray
    beta: np.ndarray

    def see(self, body: str) -> "ICRF":
        """Return the apparent topocentric position of a body, the Sun included."""
        return self.observer.observe(self.sky.body(body)).apparent()


def stand(sky: Sky, site: Site, time_unix_s: np.ndarray) -> Vantage:
    """Return the vantage of a site at instants (T,) in unix seconds. Longitudes 0 to 360 are read too."""
    from skyfield.toposlib import wgs84

    place = wgs84.latlon(site.latitude_deg, site.longitude_deg, elevation_m=site.elevation_m)
    instants = np.atleast_1d(np.asarray(time_unix_s, dtype=float))
    time = sky.time(instants)
    observer = (sky.body("earth") + place).at(time)
    return Vantage(
        sky=sky,
        time_unix_s=instants,
        observer=observer,
        rotation=place.rotation_at(time),
        beta=observer.velocity.au_per_d / _LIGHT_AU_PER_DAY,
    )


def horizontal(rotation: np.ndarray, vector: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return geometric altitude and azimuth in degrees, (T,), of ICRS vectors (3, T)."""
    north, east, up = np.einsum("ijt,jt->it", rotation, vector)
    return angles(north, east, up)


def angles(north: np.ndarray, east: np.ndarray, up: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return altitude and azimuth (north through east, 0 to 360) in degrees from components of any length."""
    altitude_deg = np.degrees(np.arctan2(up, np.hypot(north, east)))
    azimuth_deg = np.degrees(np.arctan2(east, north)) % 360.0
    return altitude_deg, azimuth_deg
