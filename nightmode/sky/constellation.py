"""In which constellation a place lies."""

from functools import cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable


def constellation(ra_deg: float, dec_deg: float) -> str:
    """Return the IAU abbreviation of the constellation that holds a J2000 place in degrees ("Cas").

    Boundaries of 1930 in the form of Roman (1987), PASP 99, 695, precessed to B1875 by Skyfield.
    """
    from skyfield.positionlib import position_of_radec

    return str(_map()(position_of_radec(ra_deg / 15.0, dec_deg)))


@cache
def _map() -> "Callable[[Any], Any]":
    from skyfield.constellationlib import load_constellation_map

    return load_constellation_map()
