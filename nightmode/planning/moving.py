"""Which comets and minor planets of a file are bright enough for a plan on a night."""

from collections.abc import Sequence

import numpy as np

from nightmode.arrays import Array
from nightmode.catalog.elements import ElementsFile
from nightmode.catalog.resolve import orbiting
from nightmode.constants import DAY_S, UNIX_JD
from nightmode.model.elements import SUN_GM_AU3_PER_DAY2, Elements
from nightmode.model.target import Comet, MinorPlanet, Orbiting
from nightmode.night.moving import placed
from nightmode.sky.vantage import Vantage

#: Nothing fainter that moves is proposed: it could be told from stars only with a chart of that evening.
FAINTEST_MAG = 12.0
#: In au: the greatest distance of the Earth from the Sun, and the least distance assumed from the Earth.
_EARTH_AU, _NEAREST_AU = 1.02, 0.05
#: From this eccentricity on the orbit is taken to be a parabola, with the distance reduced by a fifth.
_PARABOLA, _SHARE = 0.99, 0.8


def bright_tonight(vantage: Vantage, elements: ElementsFile) -> list[tuple[Orbiting, Comet | MinorPlanet]]:
    """Return the bright bodies of a file, each with what it is in the middle of the vantage's night.

    Bodies without a magnitude and lines that cannot be read are left out.
    """
    known = elements.all()
    if not known:
        return []
    middle_s = float(vantage.time_s[len(vantage.time_s) // 2])
    may_be = brightest_mag(known, middle_s / DAY_S + UNIX_JD) <= FAINTEST_MAG
    followed = [orbiting(body) for body, is_bright in zip(known, may_be, strict=True) if is_bright]
    return [(body, here) for body, here in as_placed(vantage, followed) if _is_bright(here)]


def as_placed(vantage: Vantage, bodies: Sequence[Orbiting]) -> list[tuple[Orbiting, Comet | MinorPlanet]]:
    """Return bodies, each with what it is in the middle of the vantage's night: place and magnitude."""
    both = zip(bodies, placed(vantage, bodies), strict=True)
    return [(body, here) for body, here in both if isinstance(here, Comet | MinorPlanet)]


def brightest_mag(elements: Sequence[Elements], jd: float) -> Array:
    """Return the brightest magnitudes possible, (N,), of bodies at jd, wherever the Earth is.

    Infinite where no magnitude is given. So the orbits of faint bodies need not be worked out.
    """
    at_1_au = [np.inf if body.magnitude_at_1_au is None else body.magnitude_at_1_au for body in elements]
    law = np.array([2.5 * body.slope if body.is_comet else 5.0 for body in elements])
    sun_au = sun_distance_au(elements, jd)
    distance_au = np.maximum(np.abs(sun_au - _EARTH_AU) - 2.0 * (_EARTH_AU - 1.0), _NEAREST_AU)
    return np.array(at_1_au) + 5.0 * np.log10(distance_au) + law * np.log10(sun_au)


def sun_distance_au(elements: Sequence[Elements], jd: float) -> Array:
    """Return the distance of bodies from the Sun in au, (N,); for very long ellipses a little too small.

    Source: Meeus 1998, Astronomical Algorithms, chapters 30 and 34.
    """
    columns = ("perihelion_au", "eccentricity", "perihelion_jd")
    q, e, perihelion_jd = (
        np.array([getattr(body, name) for body in elements], dtype=float) for name in columns
    )
    days = jd - perihelion_jd
    w = 3.0 * np.sqrt(SUN_GM_AU3_PER_DAY2 / 2.0) / np.sqrt(q**3) * np.abs(days) / 2.0
    y = np.cbrt(w + np.sqrt(w**2 + 1.0))
    parabola = q * np.maximum((1.0 + (y - 1.0 / y) ** 2) * _SHARE, 1.0)
    round_ = np.minimum(e, _PARABOLA)
    axis = q / (1.0 - round_)
    mean = np.mod(days * np.sqrt(SUN_GM_AU3_PER_DAY2 / axis**3) + np.pi, 2.0 * np.pi) - np.pi
    eccentric = mean + 0.85 * round_ * np.sign(mean)  # Danby's start, from which it always converges
    for _ in range(30):
        eccentric -= (eccentric - round_ * np.sin(eccentric) - mean) / (1.0 - round_ * np.cos(eccentric))
    return np.where(e < _PARABOLA, axis * (1.0 - round_ * np.cos(eccentric)), parabola)


def _is_bright(body: Comet | MinorPlanet) -> bool:
    return body.magnitude is not None and body.magnitude <= FAINTEST_MAG
