"""How bright planets and Moon are, and where the planets that the bare eye sees stand through a night."""

import numpy as np

from nightmode.arrays import Array
from nightmode.records import Record
from nightmode.sky.vantage import Vantage
from nightmode.visibility.moonlight import phase_loss_mag

#: The planets that the bare eye sees.
BRIGHT = ("mercury", "venus", "mars", "jupiter", "saturn")


class PlanetNight(Record, eq=False):
    """P planets through a night: unit vectors (T, P, 3) on ICRS axes, V magnitudes (P,) of its middle."""

    names: tuple[str, ...]
    direction: Array
    magnitude: Array


def planet_night(vantage: Vantage) -> PlanetNight:
    """Return the planets that the bare eye sees, at the instants of a vantage."""
    middle = vantage.at_nodes.xyz.au.shape[1] // 2
    mags = {name: float(planet_magnitude(vantage, name)[middle]) for name in BRIGHT}
    names = tuple(name for name in BRIGHT if np.isfinite(mags[name]))
    direction = np.empty((vantage.time_s.size, len(names), 3))
    for number, name in enumerate(names):
        position = vantage.see(name).xyz.au
        direction[:, number] = (position / np.linalg.norm(position, axis=0)).T
    return PlanetNight(names, direction, np.array([mags[name] for name in names]))


def planet_magnitude(vantage: Vantage, planet: str) -> np.ndarray:
    """Return a planet's V magnitude at the nodes of a vantage: NaN where no formula holds.

    Mallama & Hilton (2018), Astronomy and Computing 25, 10.
    """
    from skyfield.magnitudelib import planetary_magnitude

    return np.asarray(planetary_magnitude(vantage.at_nodes.observe(vantage.sky.body(planet))), dtype=float)


def moon_magnitude(phase_angle_deg: float) -> float:
    """Return the Moon's V magnitude by phase angle (Krisciunas & Schaefer 1991, PASP 103, 1033, eq. 9)."""
    return -12.73 + float(phase_loss_mag(np.asarray(phase_angle_deg)))
