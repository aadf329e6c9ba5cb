"""Standing at a site through a row of instants: what every track of a night shares."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nightmode.model.site import Site
from nightmode.sky.kernel import Sky

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
