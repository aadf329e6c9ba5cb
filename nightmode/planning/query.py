"""What the observer asks of the objects themselves: where they lie, how bright and how large they are."""

import numpy as np

from nightmode.catalog.columns import Columns
from nightmode.catalog.names import plain_key
from nightmode.catalog.resolve import lookup
from nightmode.catalog.stars import constellations
from nightmode.errors import NightmodeError
from nightmode.model.target import Fixed
from nightmode.records import Record
from nightmode.setup.answers import number
from nightmode.sky.vantage import separation_deg
from nightmode.visibility.objections import FarFrom, LiesElsewhere, NotBrighter, NotLarger, Objection


class Near(Record):
    """Within radius_deg of a J2000 place, which a name stands for."""

    name: str
    ra_deg: float
    dec_deg: float
    radius_deg: float


class Query(Record):
    """What is asked for; None or empty asks nothing. Magnitudes are as catalogued, sizes full diameters.

    constellations  IAU abbreviations
    not_below_deg   the least altitude at the target's turn, which is kept with the observer's own floor
    """

    constellations: frozenset[str] = frozenset()
    brighter_mag: float | None = None
    larger_arcmin: float | None = None
    near: Near | None = None
    not_below_deg: float | None = None

    @property
    def asks_for_fixed(self) -> bool:
        """Whether only objects of the catalogue can answer."""
        return bool(self.constellations or self.near or self.brighter_mag is not None or self.larger_arcmin)

    def refuses(self, columns: Columns, row: int) -> Objection | None:
        """Return why an object is not what is asked for, or None."""
        if self.constellations and columns.constellation[row] not in self.constellations:
            return LiesElsewhere(columns.constellation[row])
        if self.near is not None:
            apart_deg = self._apart_deg(columns, row, self.near)
            if apart_deg > self.near.radius_deg:
                return FarFrom(apart_deg, self.near.name)
        if self.brighter_mag is not None and not columns.magnitude[row] <= self.brighter_mag:
            return NotBrighter(self.brighter_mag)
        if self.larger_arcmin is not None and not columns.size_arcmin[row] >= self.larger_arcmin:
            return NotLarger(self.larger_arcmin)
        return None

    @property
    def words(self) -> str:
        """What is asked for, in words: "in Com, Vir; brighter than 11"."""
        parts = []
        if self.constellations:
            parts.append(f"in {', '.join(sorted(self.constellations))}")
        if self.near is not None:
            parts.append(f"within {self.near.radius_deg:g}° of {self.near.name}")
        if self.brighter_mag is not None:
            parts.append(f"brighter than {self.brighter_mag:g}")
        if self.larger_arcmin is not None:
            parts.append(f"larger than {self.larger_arcmin:g}′")
        if self.not_below_deg is not None:
            parts.append(f"not below {self.not_below_deg:g}°")
        return "; ".join(parts)

    @staticmethod
    def _apart_deg(columns: Columns, row: int, near: Near) -> float:
        apart = separation_deg(columns.ra_deg[row], columns.dec_deg[row], near.ra_deg, near.dec_deg)
        return float(np.asarray(apart))


def read_query(
    within: str | None,
    brighter: str | None,
    larger: str | None,
    near: tuple[str, str] | None,
    not_below: str | None,
) -> Query:
    """Return what the texts of the flags ask for. NightmodeError names a flag that does not fit."""
    return Query(
        constellations=_constellations(within) if within is not None else frozenset(),
        brighter_mag=_within(brighter, "--brighter", -2.0, 20.0),
        larger_arcmin=_within(larger, "--larger", 0.0, 1200.0),
        near=_near(*near) if near is not None else None,
        not_below_deg=_within(not_below, "--not-below", 0.0, 85.0),
    )


def _constellations(text: str) -> frozenset[str]:
    """Return the abbreviations of constellations that are given by abbreviation, name or genitive."""
    known = {plain_key(short): short for short in constellations()}
    for short, names in constellations().items():
        known |= {plain_key(name): short for name in names}
    words = [word.strip() for word in text.split(",") if word.strip()]
    if not words:
        raise NightmodeError("--in", "names no constellation", "write some with commas, like Vir,Com")
    for word in words:
        if plain_key(word) not in known:
            instead = "write IAU abbreviations or names with commas, like Vir,Com"
            raise NightmodeError("--in", f"{word!r} is not a constellation", instead)
    return frozenset(known[plain_key(word)] for word in words)


def _near(name: str, radius: str) -> Near:
    place = lookup(name)
    if not isinstance(place, Fixed):
        what = "is not in the catalogue" if place is None else "moves, so that nothing lies near it for long"
        raise NightmodeError("--near", f"{name!r} {what}", 'write an object and degrees, like "M 87" 5')
    radius_deg = _within(radius, "--near", 0.01, 180.0)
    assert radius_deg is not None
    return Near(name, place.ra_deg, place.dec_deg, radius_deg)


def _within(text: str | None, flag: str, low: float, high: float) -> float | None:
    if text is None:
        return None
    value = number(text, flag)
    if not low <= value <= high:
        raise NightmodeError(flag, f"{text} is not {low:g} to {high:g}", f"write a number like {high / 4:g}")
    return value
