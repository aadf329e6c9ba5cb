"""Numbers of planetary nebulae that are made of their galactic coordinates: PK 64+5.1, PN G064.7+05.0."""

import math
import re
from functools import cache

from nightmode.catalog.database import planetary_rows
from nightmode.catalog.deepsky import own_deepsky
from nightmode.kinds import Kind

#: Whole degrees of galactic longitude and latitude, as the number has them, and the running number there.
_PK = re.compile(r"^pk ?0*(\d{1,3})([+-])0*(\d{1,2})[ .]+0*(\d{1,2})$")
_PN_G = re.compile(r"^png? ?g? ?0*(\d{1,3}\.\d) ?([+-]) ?0*(\d{1,2}\.\d)$")
#: Rows of the rotation from J2000 equatorial to galactic axes: ESA 1997 (The Hipparcos and Tycho Catalogues,
#: volume 1, equation 1.5.11), from memory.
_ROTATION = (
    (-0.0548755604, -0.8734370902, -0.4838350155),
    (+0.4941094279, -0.4448296300, +0.7469822445),
    (-0.8676661490, -0.1980763734, +0.4559837762),
)
#: Those of ours that are not the first in their square degree: Perek & Kohoutek 1967, from memory. Where
#: OpenNGC itself has a number, that stands.
_NOT_THE_FIRST = {
    "NGC2438": 2, "NGC5315": 2, "NGC6565": 5, "NGC6567": 2, "NGC6644": 2, "NGC6886": 2, "NGC7008": 2,
}  # fmt: skip
#: How far a place of PN G, in degrees, may be off: it is rounded or cut off after the first digit.
_NEAR_DEG = 0.15

_Square = tuple[int, str, int, int]


def planetary_numbered(name: str) -> str | None:
    """Return the name, OpenNGC's or ours, of the planetary nebula with such a number; None if none has it."""
    written = _plain(name)
    if square := _square(written):
        return _squares().get(square)
    if match := _PN_G.match(written):
        return _nearest(float(match[1]), float(match[2] + match[3]))
    return None


def _plain(name: str) -> str:
    return " ".join(name.replace("\N{MINUS SIGN}", "-").casefold().split())


def _square(written: str) -> _Square | None:
    match = _PK.match(written)
    return (int(match[1]), match[2], int(match[3]), int(match[4])) if match else None


def galactic_deg(ra_deg: float, dec_deg: float) -> tuple[float, float]:
    """Return galactic longitude (0 to 360) and latitude of a J2000 place, all in degrees."""
    ra, dec = math.radians(ra_deg), math.radians(dec_deg)
    place = math.cos(dec) * math.cos(ra), math.cos(dec) * math.sin(ra), math.sin(dec)
    x, y, z = (sum(a * b for a, b in zip(row, place, strict=True)) for row in _ROTATION)
    return math.degrees(math.atan2(y, x)) % 360.0, math.degrees(math.asin(z))


@cache
def _places() -> dict[str, tuple[float, float]]:
    """Return the galactic place of every planetary nebula by OpenNGC's name, or ours."""
    rows = {name: galactic_deg(math.degrees(ra), math.degrees(dec)) for name, ra, dec, _ in planetary_rows()}
    own = {one.name: one for one in own_deepsky().values() if one.kind is Kind.PLANETARY_NEBULA}
    return rows | {name: galactic_deg(one.ra_deg, one.dec_deg) for name, one in own.items()}


@cache
def _squares() -> dict[_Square, str]:
    """Return number of Perek and Kohoutek -> name."""
    listed = {name: _listed(identifiers) for name, _, _, identifiers in planetary_rows()}
    found: dict[_Square, str] = {}
    for name, (longitude, latitude) in _places().items():
        sign = "-" if latitude < 0 else "+"
        square = int(longitude), sign, int(abs(latitude)), _NOT_THE_FIRST.get(name, 1)
        found.setdefault(listed.get(name) or square, name)
    return found


def _listed(identifiers: str) -> _Square | None:
    """Return the number of Perek and Kohoutek among OpenNGC's identifiers."""
    return next(filter(None, (_square(_plain(word)) for word in identifiers.split(","))), None)


def _nearest(longitude_deg: float, latitude_deg: float) -> str | None:
    near = {
        name: math.hypot((place[0] - longitude_deg + 180.0) % 360.0 - 180.0, place[1] - latitude_deg)
        for name, place in _places().items()
    }
    nearest = min(near, key=near.__getitem__)
    return nearest if near[nearest] < _NEAR_DEG else None
