"""The planets as globes: size of the disc, its lit part, and which side and pole it shows."""

from typing import TYPE_CHECKING

import numpy as np

from nightmode.arrays import Array
from nightmode.constants import AU_KM, CENTURY_D, J2000_JD, LIGHT_KM_PER_DAY
from nightmode.records import Record
from nightmode.sky.bodies import RADIUS_KM
from nightmode.sky.moon import illuminated, phase_angle
from nightmode.sky.planets import planet_magnitude
from nightmode.sky.selene import globe_axes, lon_lat
from nightmode.sky.vectors import angle_between_deg

if TYPE_CHECKING:
    from nightmode.sky.vantage import Vantage


#: Right ascension and declination of the north pole at J2000.0 and their change in a Julian century, in
#: degrees on ICRS axes. Source: Archinal et al. 2011, Report of the IAU Working Group on Cartographic
#: Coordinates and Rotational Elements 2009; Jupiter's small terms (below 0.002 degree) are left out,
#: Neptune's swing is added in `_pole`.
_POLES = {
    "mercury": (281.0097, -0.0328, 61.4143, -0.0049),
    "venus": (272.76, 0.0, 67.16, 0.0),
    "mars": (317.68143, -0.1061, 52.88650, -0.0609),
    "jupiter": (268.056595, -0.006499, 64.495303, 0.002413),
    "saturn": (40.589, -0.036, 83.537, -0.004),
    "uranus": (257.311, 0.0, -15.175, 0.0),
    "neptune": (299.36, 0.0, 43.46, 0.0),
}
#: Prime meridian at J2000.0 and its turn in a day, in degrees, by system of longitudes (source as above).
_TURNS = {
    "mars": {"": (176.630, 350.89198226)},
    "jupiter": {"I": (67.1, 877.900), "II": (43.3, 870.270)},
}
#: Length of Saturn's rings seen from 1 au, in arcsec (Meeus, Astronomical Algorithms, chapter 45).
_RING_AT_AU_ARCSEC = 375.35


class Disc(Record, eq=False):
    """A planet's disc at T instants, (T,) each, as seen from the site; angles in degrees.

    distance_km, diameter_arcsec (along the equator)
    magnitude         V (Mallama & Hilton 2018, Astronomy and Computing 25, 10); NaN where no formula holds
    elongation_deg    from the Sun
    earth_lat_deg, sun_lat_deg  latitude of the observer and of the Sun over the equator, planetocentric (De
                      and Ds of Jupiter and Mars, B and B' of Saturn's rings)
    meridians_deg     by system of longitudes ("" where there is but one): the longitude in the middle of
                      the disc, growing westward as on the planet's maps, whatever the phase
    """

    distance_km: Array
    diameter_arcsec: Array
    illuminated: Array
    phase_angle_deg: Array
    magnitude: Array
    elongation_deg: Array
    earth_lat_deg: Array
    sun_lat_deg: Array
    meridians_deg: dict[str, Array]

    @property
    def ring_arcsec(self) -> tuple[Array, Array]:
        """Length and width of Saturn's rings as they stand open; of no meaning for another planet."""
        length = _RING_AT_AU_ARCSEC * AU_KM / self.distance_km
        return length, length * np.abs(np.sin(np.radians(self.earth_lat_deg)))


def disc(vantage: "Vantage", planet: str) -> Disc:
    """Return a planet's disc over the instants of a vantage."""
    body, sun = vantage.line_to(planet), vantage.line_to("sun")
    distance_km = np.linalg.norm(body, axis=0)
    days = vantage.time.tdb - distance_km / LIGHT_KM_PER_DAY - J2000_JD
    ra_deg, dec_deg = _pole(planet, days)
    axes = globe_axes(ra_deg, dec_deg, 0.0)
    east_deg, earth_lat_deg = lon_lat(axes, -body)
    _, sun_lat_deg = lon_lat(axes, sun - body)
    phase_deg = phase_angle(body, sun)
    return Disc(
        distance_km=distance_km,
        diameter_arcsec=2 * np.degrees(np.arcsin(RADIUS_KM[planet] / distance_km)) * 3600,
        illuminated=illuminated(phase_deg),
        phase_angle_deg=phase_deg,
        magnitude=vantage.spread(planet_magnitude(vantage, planet)),
        elongation_deg=angle_between_deg(body, sun, axis=0),
        earth_lat_deg=earth_lat_deg,
        sun_lat_deg=sun_lat_deg,
        meridians_deg={
            system: (start + turn * days - east_deg) % 360.0
            for system, (start, turn) in _TURNS.get(planet, {}).items()
        },
    )


def _pole(planet: str, days: Array) -> tuple[Array, Array]:
    """Return a planet's north pole (right ascension, declination) in degrees, days (T,) after J2000.0."""
    ra_deg, ra_change, dec_deg, dec_change = _POLES[planet]
    centuries = days / CENTURY_D
    swing = np.radians(357.85 + 52.316 * centuries) if planet == "neptune" else np.zeros_like(days)
    return (
        ra_deg + ra_change * centuries + 0.70 * np.sin(swing),
        dec_deg + dec_change * centuries - 0.51 * (np.cos(swing) if planet == "neptune" else 0.0),
    )
