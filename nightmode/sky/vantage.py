"""Standing at a site through a row of instants: what every track of a night shares."""

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from nightmode.constants import LIGHT_AU_PER_DAY
from nightmode.model.site import Site
from nightmode.sky.kernel import Sky, bends_light, tt_days
from nightmode.sky.smooth import Nodes
from nightmode.sky.vectors import angles

if TYPE_CHECKING:
    from skyfield.positionlib import ICRF, Barycentric
    from skyfield.timelib import Time
    from skyfield.vectorlib import VectorSum


#: The pieces of time, a night and the hour of a change of clocks, and the nodes from which bodies follow.
_PIECE_DAYS, _PIECE_NODES = 1.05, 18


@dataclass(frozen=True, eq=False)
class Vantage:
    """A site at T instants.

    latitude_deg  geodetic
    time_s  (T,)
    rotation  (3, 3, T) from ICRS axes to north, east, up
    beta      (3, T) the site's velocity in units of that of light, ICRS axes
    at_nodes  the site's barycentric position at the nodes; at every instant where those are few

    Where there are many instants, bodies and the site's velocity are worked out at some twenty a day and
    spread from there: within 0.001 arcsec of working them out at every one.
    """

    sky: Sky
    site: "VectorSum"
    latitude_deg: float
    time: "Time"
    time_s: np.ndarray
    rotation: np.ndarray
    at_nodes: "Barycentric"
    _nodes: Nodes | None
    _seen: dict[str, "ICRF"] = field(default_factory=dict)
    _lines: dict[str, np.ndarray] = field(default_factory=dict)

    @cached_property
    def beta(self) -> np.ndarray:
        """The site's velocity."""
        return self.spread(self.at_nodes.velocity.au_per_d / LIGHT_AU_PER_DAY)

    @cached_property
    def drift(self) -> np.ndarray:
        """The site's velocity (3, T), north, east and up: by so much aberration moves a direction."""
        return np.einsum("ijt,jt->it", self.rotation, self.beta)

    @cached_property
    def observer(self) -> "Barycentric":
        """The site's barycentric position at every instant, as Skyfield keeps it."""
        return self.at_nodes if self._nodes is None else self.site.at(self.time)

    def see(self, body: str) -> "ICRF":
        """Return the apparent topocentric position of a body, the Sun included."""
        from skyfield.positionlib import ICRF

        if body not in self._seen:
            apparent = self.at_nodes.observe(self.sky.body(body)).apparent(deflectors=bends_light(body))
            self._seen[body] = ICRF(self.spread(apparent.xyz.au))
        return self._seen[body]

    def line_to(self, body: str) -> np.ndarray:
        """Return the line (3, T) in km along which a body's light came, ICRS axes: without aberration."""
        if body not in self._lines:
            line_km = self.at_nodes.observe(self.sky.body(body)).xyz.km
            self._lines[body] = self.spread(line_km)
        return self._lines[body]

    def spread(self, values: np.ndarray) -> np.ndarray:
        """Return values (..., T) from those at the nodes: of what changes as smoothly as a body's place."""
        return values if self._nodes is None else self._nodes.spread(values)


def stand(sky: Sky, site: Site, time_s: np.ndarray) -> Vantage:
    """Return the vantage of a site at instants (T,) in Unix seconds. Longitudes 0 to 360 are read too."""
    from skyfield.toposlib import wgs84

    place = wgs84.latlon(site.latitude_deg, site.longitude_deg, elevation_m=site.elevation_m)
    instants = np.atleast_1d(np.asarray(time_s, dtype=float))
    time = sky.time(instants)
    whole_jd, days = tt_days(time)
    nodes = Nodes(days, _PIECE_DAYS, _PIECE_NODES)
    observer = sky.body("earth") + place
    return Vantage(
        sky=sky,
        site=observer,
        latitude_deg=site.latitude_deg,
        time=time,
        time_s=instants,
        rotation=place.rotation_at(time),
        at_nodes=observer.at(sky.time_of_tt(whole_jd, nodes.few) if nodes.spares else time),
        _nodes=nodes if nodes.spares else None,
    )


def horizontal(rotation: np.ndarray, vector: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return geometric altitude and azimuth in degrees, (T,), of ICRS vectors (3, T)."""
    north, east, up = np.einsum("ijt,jt->it", rotation, vector)
    return angles(north, east, up)
