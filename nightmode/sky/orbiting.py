"""Where comets and minor planets stand: elements to directions, distances and magnitudes."""

from typing import TYPE_CHECKING

import numpy as np

from nightmode.constants import LIGHT_AU_PER_DAY
from nightmode.model.elements import SUN_GM_AU3_PER_DAY2, Elements
from nightmode.records import Record

if TYPE_CHECKING:
    from nightmode.sky.vantage import Vantage

#: Obliquity of the ecliptic of J2000 (IAU 1976), on which the elements are given: 84381.448 arcsec.
_OBLIQUITY = np.radians(84381.448 / 3600.0)


class OrbitPath(Record, eq=False):
    """A body over T instants.

    direction     (3, T) unit vectors from the site on ICRS axes, light time in them, aberration not
    distance_au   (T,) from the site
    sun_distance_au  (T,) from the Sun
    """

    direction: np.ndarray
    distance_au: np.ndarray
    sun_distance_au: np.ndarray


def orbit_path(vantage: "Vantage", elements: Elements) -> OrbitPath:
    """Return the path of a body on its orbit as seen from a site, by two-body motion from its elements.

    The pull of the planets is left out, so the elements must be close to their epoch.
    """
    time = vantage.at_nodes.t
    time_jd = np.asarray(time.tt, dtype=float)
    site = vantage.at_nodes.xyz.au - vantage.sky.body("sun").at(time).xyz.au
    light_days = np.zeros_like(time_jd)
    for _ in range(3):
        heliocentric = heliocentric_au(elements, time_jd - light_days)
        seen = heliocentric - site
        light_days = np.linalg.norm(seen, axis=0) / LIGHT_AU_PER_DAY
    seen, heliocentric = vantage.spread(seen), vantage.spread(heliocentric)
    distance_au = np.linalg.norm(seen, axis=0)
    return OrbitPath(seen / distance_au, distance_au, np.linalg.norm(heliocentric, axis=0))


def heliocentric_au(elements: Elements, time_jd: np.ndarray) -> np.ndarray:
    """Return places (3, T) in au on ICRS axes at Julian dates (TT), by two-body motion round the Sun."""
    from skyfield.keplerlib import ele_to_vec, propagate

    at_perihelion = ele_to_vec(
        elements.perihelion_au * (1.0 + elements.eccentricity),
        elements.eccentricity,
        np.radians(elements.inclination_deg),
        np.radians(elements.node_deg),
        np.radians(elements.argument_deg),
        0.0,
        SUN_GM_AU3_PER_DAY2,
    )
    place, _ = propagate(
        *at_perihelion, 0.0, np.asarray(time_jd) - elements.perihelion_jd, SUN_GM_AU3_PER_DAY2
    )
    x, y, z = place
    cosine, sine = np.cos(_OBLIQUITY), np.sin(_OBLIQUITY)
    return np.stack([x, cosine * y - sine * z, sine * y + cosine * z])


def magnitude(
    elements: Elements, distance_au: np.ndarray, sun_distance_au: np.ndarray, sun_site_au: np.ndarray
) -> np.ndarray | None:
    """Return the V magnitude of a minor planet or the total one of a comet, (T,); None where H is unknown.

    sun_site_au is the distance from the Sun to the site. Minor planets: the H, G system (Bowell et al. 1989,
    in Asteroids II, 524). Comets: H + 5 log delta + 2.5 K log r, which real comets miss by
    a magnitude or two.
    """
    if elements.magnitude_at_1_au is None:
        return None
    near = elements.magnitude_at_1_au + 5.0 * np.log10(distance_au)
    if elements.is_comet:
        return near + 2.5 * elements.slope * np.log10(sun_distance_au)
    cosine = (distance_au**2 + sun_distance_au**2 - sun_site_au**2) / (2.0 * distance_au * sun_distance_au)
    half = np.tan(np.arccos(np.clip(cosine, -1.0, 1.0)) / 2.0)
    bright = (1.0 - elements.slope) * np.exp(-3.33 * half**0.63) + elements.slope * np.exp(-1.87 * half**1.22)
    return near + 5.0 * np.log10(sun_distance_au) - 2.5 * np.log10(bright)


def motion_arcsec_per_h(path: OrbitPath, time_s: np.ndarray) -> float:
    """Return how fast a body moves among the stars, from the first to the last instant."""
    first, last = path.direction[:, 0], path.direction[:, -1]
    angle = np.arctan2(np.linalg.norm(np.cross(first, last)), float(first @ last))
    hours = (time_s[-1] - time_s[0]) / 3600.0
    return float(np.degrees(angle) * 3600.0 / hours)
