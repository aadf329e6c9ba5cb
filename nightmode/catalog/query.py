"""What is asked of objects of the catalogue: where they lie, how bright and how large they are."""

import numpy as np

from nightmode.catalog.columns import Columns
from nightmode.records import Record
from nightmode.sky.vectors import separation_deg
from nightmode.visibility.objections import FarFrom, LiesElsewhere, NotBrighter, NotLarger, Objection


class Near(Record):
    """A circle on the sky: radius_deg around a J2000 place, which is that of the object `name`."""

    name: str
    ra_deg: float
    dec_deg: float
    radius_deg: float


class Query(Record):
    """What is asked for; None or an empty set asks for nothing.

    constellations  IAU abbreviations
    brighter_mag    the limit of the catalogued magnitude
    larger_arcmin   the limit of the longer full diameter
    not_below_deg   the least altitude when a target has its turn; the observer's own limit holds as well
    """

    constellations: frozenset[str] = frozenset()
    brighter_mag: float | None = None
    larger_arcmin: float | None = None
    near: Near | None = None
    not_below_deg: float | None = None

    @property
    def asks_for_fixed(self) -> bool:
        """Whether something is asked for that only objects of the catalogue have."""
        return bool(self.constellations or self.near or self.brighter_mag is not None or self.larger_arcmin)

    def refuses(self, columns: Columns, row: int) -> Objection | None:
        """Return why the object in a row of the catalogue is not what is asked for, or None."""
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

    @staticmethod
    def _apart_deg(columns: Columns, row: int, near: Near) -> float:
        apart = separation_deg(columns.ra_deg[row], columns.dec_deg[row], near.ra_deg, near.dec_deg)
        return float(np.asarray(apart))
