"""A planet through one night: its disc, its face and its moons, on a grid of some minutes."""

from collections.abc import Sequence
from functools import cached_property

import numpy as np

from nightmode.arrays import Array
from nightmode.constants import DAY_S
from nightmode.model.site import Site
from nightmode.records import Record
from nightmode.sky.discs import disc
from nightmode.sky.galilean import Beside, beside_jupiter
from nightmode.sky.kernel import Sky, within_years
from nightmode.sky.vantage import Vantage, stand

_STEP_S = 600.0
#: Opposition is searched for so many days before and after a night.
_NEAR_DAYS = 100
_OUTER = ("mars", "jupiter", "saturn", "uranus", "neptune")


class PlanetTonight(Record, eq=False):
    """A planet on one night; arrays are (K,) over grid_s, Unix seconds. Fields as in `discs.Disc`.

    ring_arcsec   length and width of Saturn's rings, ring_tilt_deg how far they stand open; NaN for others
    meridians_deg by system of longitudes, counted on without a jump at 360
    moons         Jupiter's four as seen from the Earth, (4, K); None for others
    """

    sky: Sky
    planet: str
    grid_s: Array
    diameter_arcsec: Array
    illuminated: Array
    magnitude: Array
    elongation_deg: Array
    ring_tilt_deg: Array
    ring_arcsec: tuple[Array, Array]
    meridians_deg: dict[str, Array]
    moons: Beside | None

    @cached_property
    def opposition_s(self) -> float | None:
        """The instant of opposition within a hundred days, else None; looked for when it is asked for."""
        middle_s = float(self.grid_s[0] + self.grid_s[-1]) / 2
        return _opposition(self.sky, self.planet, middle_s) if self.planet in _OUTER else None

    def at(self, values: Array, now_s: float) -> float:
        """Return the value of one of the arrays at an instant."""
        return float(np.interp(now_s, self.grid_s, values))

    def meridian_deg(self, system: str, now_s: float) -> float:
        """Return the central meridian of a system of longitudes in degrees, 0 to 360."""
        return self.at(self.meridians_deg[system], now_s) % 360.0


def planets_tonight(
    sky: Sky, site: Site, planets: Sequence[str], start_s: float, end_s: float
) -> dict[str, PlanetTonight]:
    """Return planets by name on a grid of instants from start to end."""
    if not planets:
        return {}
    grid_s = np.arange(start_s, end_s + _STEP_S, _STEP_S)
    vantage = stand(sky, site, grid_s[within_years(grid_s)])
    return {planet: _planet_tonight(vantage, planet) for planet in set(planets)}


def _planet_tonight(vantage: Vantage, planet: str) -> PlanetTonight:
    grid_s = vantage.time_s
    seen = disc(vantage, planet)
    nothing = np.full(grid_s.size, np.nan)
    has_ring = planet == "saturn"
    return PlanetTonight(
        sky=vantage.sky,
        planet=planet,
        grid_s=grid_s,
        diameter_arcsec=seen.diameter_arcsec,
        illuminated=seen.illuminated,
        magnitude=seen.magnitude,
        elongation_deg=seen.elongation_deg,
        ring_tilt_deg=seen.earth_lat_deg if has_ring else nothing,
        ring_arcsec=seen.ring_arcsec if has_ring else (nothing, nothing),
        meridians_deg={
            system: np.degrees(np.unwrap(np.radians(values))) for system, values in seen.meridians_deg.items()
        },
        moons=beside_jupiter(vantage.time.tt)[0] if planet == "jupiter" else None,
    )


def _opposition(sky: Sky, planet: str, middle_s: float) -> float | None:
    """Return when the planet is opposite the Sun in ecliptic longitude, else None."""
    from skyfield.framelib import ecliptic_frame

    days_s = middle_s + np.arange(-_NEAR_DAYS, _NEAR_DAYS + 1, 2.0) * DAY_S
    days_s = days_s[within_years(days_s)]
    earth = sky.body("earth").at(sky.time(days_s))
    east, sun = (
        earth.observe(sky.body(name)).frame_latlon(ecliptic_frame)[1].degrees for name in (planet, "sun")
    )
    # Where it comes from west of the Sun to east of it on the far side, it falls through 180 degrees.
    past = (east - sun) % 360.0 - 180.0
    turn = np.flatnonzero((past[:-1] > 0) & (past[1:] <= 0) & (past[:-1] - past[1:] < 90.0))
    if not turn.size:
        return None
    before, after = past[turn[0]], past[turn[0] + 1]
    share = before / (before - after)
    return float(days_s[turn[0]] + share * (days_s[turn[0] + 1] - days_s[turn[0]]))
