"""The stars of the whole sky that the eye and a finder show, for charts and directions.

data/field_stars.csv holds 15,384 stars to V 7.0, the brightest first, at their places of 2030 on the axes of
J2000, so that up to 2050 no proper motion is needed (the fastest bright star, 61 Cygni, is wrong by 1.7').
Stars within a minute of arc of each other are one, with their light together.
"""

from bisect import bisect_left
from functools import cache
from importlib.resources import files
from math import inf

import numpy as np

from nightmode.arrays import Array, Flags
from nightmode.records import Record
from nightmode.sky.vectors import unit_vectors

#: Stars that change by a magnitude or more: nobody should be sent to look for them first.
UNSTEADY = frozenset({"β Per", "ο Cet", "χ Cyg", "β Lyr", "η Car", "R Hya"})


class FieldStars(Record, eq=False):
    """N stars, the brightest first. direction (N, 3) on ICRS axes; magnitude (N,) is V.

    designation is the Greek letter or the number with the constellation ("ν And"), name the proper name;
    either may be empty, which has_name and has_word (either of the two), (N,), tell as well. is_steady (N,)
    tells which of them keep their light.
    """

    direction: Array
    magnitude: Array
    designation: tuple[str, ...]
    name: tuple[str, ...]
    has_name: Flags
    has_word: Flags
    is_steady: Flags

    def __len__(self) -> int:
        return len(self.magnitude)


@cache
def field_stars(faintest_mag: float = inf) -> FieldStars:
    """Return the table down to faintest_mag; it is read on first use."""
    text = (files(__package__) / "data" / "field_stars.csv").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("#")][1:]
    count = bisect_left(lines, faintest_mag, key=lambda line: float(line.split(",", 3)[2]))
    rows = [line.split(",") for line in lines[:count]]
    ra_deg, dec_deg, magnitude, designation, name = zip(*rows, strict=True)
    ra, dec, v_mag = (np.array([*map(float, column)]) for column in (ra_deg, dec_deg, magnitude))
    direction = unit_vectors(ra, dec)
    has_name, lettered = (np.array([*map(bool, column)]) for column in (name, designation))
    is_steady = np.array([name not in UNSTEADY for name in designation])
    return FieldStars(direction, v_mag, designation, name, has_name, has_name | lettered, is_steady)
