"""What a planet or the Moon looks like at a moment: size, brightness, phase, distance from the Sun."""

from dataclasses import dataclass

import numpy as np

from nightmode.arrays import Array
from nightmode.model.site import Site
from nightmode.sky.bodies import RADIUS_KM, refuse_sun
from nightmode.sky.kernel import Sky
from nightmode.sky.moon import illuminated, phase_angle, phase_loss_mag
from nightmode.sky.track import body_path
from nightmode.sky.vantage import Vantage, separation_deg, stand

#: The planets that the bare eye sees.
BRIGHT = ("mercury", "venus", "mars", "jupiter", "saturn")


@dataclass(frozen=True, eq=False)
class PlanetNight:
    """P planets through a night: unit vectors (T, P, 3) on ICRS axes, V magnitudes (P,) of its middle."""

    names: tuple[str, ...]
    direction: Array
    magnitude: Array


def planet_night(vantage: Vantage) -> PlanetNight:
    """Return the planets that the bare eye sees, at the instants of a vantage."""
    from skyfield.magnitudelib import planetary_magnitude

    instants = vantage.time_unix_s
    light = {}
    for name in BRIGHT:
        at_nodes = np.asarray(planetary_magnitude(vantage.at_nodes.observe(vantage.sky.body(name))), float)
        light[name] = float(at_nodes[at_nodes.size // 2])
    names = tuple(name for name in BRIGHT if np.isfinite(light[name]))
    direction = np.empty((instants.size, len(names), 3))
    for place, name in enumerate(names):
        position = vantage.see(name).xyz.au
        direction[:, place] = (position / np.linalg.norm(position, axis=0)).T
    return PlanetNight(names, direction, np.array([light[name] for name in names]))


@dataclass(frozen=True)
class Appearance:
    """A body as seen from a site at one instant. Topocentric; J2000 axes; magnitude is V.

    elongation_deg is the angle from the Sun. magnitude is None where no formula holds.
    """

    ra_deg: float
    dec_deg: float
    distance_km: float
    diameter_arcsec: float
    magnitude: float | None
    elongation_deg: float
    phase_angle_deg: float
    illuminated: float


def appearance(sky: Sky, site: Site, body: str, time_unix_s: float) -> Appearance:
    """Return what a body ("moon", "saturn", ...) looks like. NightmodeError for the Sun.

    Planets' magnitudes: Mallama & Hilton (2018), Astronomy and Computing 25, 10. Diameters are equatorial.
    """
    refuse_sun(body, body)
    vantage = stand(sky, site, np.array([time_unix_s]))
    position, sun = vantage.see(body), vantage.see("sun")
    path, sun_path = body_path(position), body_path(sun)
    angle_deg = phase_angle(position.xyz.km, sun.xyz.km)
    distance_km = float(path.distance_km[0])
    elongation = separation_deg(path.ra_deg, path.dec_deg, sun_path.ra_deg, sun_path.dec_deg)
    return Appearance(
        ra_deg=float(path.ra_deg[0]),
        dec_deg=float(path.dec_deg[0]),
        distance_km=distance_km,
        diameter_arcsec=float(2 * np.degrees(np.arcsin(RADIUS_KM[body] / distance_km)) * 3600),
        magnitude=_magnitude(vantage, body, float(angle_deg[0])),
        elongation_deg=float(elongation[0]),
        phase_angle_deg=float(angle_deg[0]),
        illuminated=float(illuminated(angle_deg)[0]),
    )


def _magnitude(vantage: Vantage, body: str, phase_angle_deg: float) -> float | None:
    if body == "moon":
        return moon_magnitude(phase_angle_deg)
    value = float(planet_magnitude(vantage, body)[0])
    return value if np.isfinite(value) else None


def planet_magnitude(vantage: Vantage, planet: str) -> np.ndarray:
    """Return a planet's V magnitude at the nodes of a vantage: NaN where no formula holds.

    Mallama & Hilton (2018), Astronomy and Computing 25, 10.
    """
    from skyfield.magnitudelib import planetary_magnitude

    return np.asarray(planetary_magnitude(vantage.at_nodes.observe(vantage.sky.body(planet))), dtype=float)


def moon_magnitude(phase_angle_deg: float) -> float:
    """Return the Moon's V magnitude by phase angle (Krisciunas & Schaefer 1991, PASP 103, 1033, eq. 9)."""
    return -12.73 + float(phase_loss_mag(np.asarray(phase_angle_deg)))
