"""How well known an object is: in how many lists it stands, and whether it has a name in words."""

from collections import defaultdict
from collections.abc import Sequence
from functools import cache

import numpy as np

from nightmode.arrays import Array
from nightmode.catalog.fame import in_caldwell, in_messier, named
from nightmode.planning.sources import bundled_keys, showpieces
from nightmode.walk.state import target_key

#: What each mark adds to the score of a target, in the half of a plan where renown counts in full (our own
#: rule): to be in a famous list, and in the most famous one; to have a name; to be in a bundled list for town
#: or for darkness, in the one of pairs, and among the showpieces of the whole sky.
_LISTED, _MESSIER, _NAMED, _FOR_A_SKY, _PAIR, _SHOWPIECE = 0.6, 0.4, 0.4, 0.3, 1.2, 0.5


def renown(names: Sequence[str]) -> Array:
    """Return the renown of objects by their names in the catalogue's columns, (N,), 0 to about 2."""
    known = _by_key()
    return np.array([known.get(target_key(name), 0.0) for name in names], dtype=float)


@cache
def _by_key() -> dict[str, float]:
    marks = (
        (in_messier() | in_caldwell(), _LISTED),
        (in_messier(), _MESSIER),
        (named(), _NAMED),
        (bundled_keys("town"), _FOR_A_SKY),
        (bundled_keys("dark-sky"), _FOR_A_SKY),
        (bundled_keys("pairs"), _PAIR),
        (showpieces(), _SHOWPIECE),
    )
    found: defaultdict[str, float] = defaultdict(float)
    for keys, worth in marks:
        for key in keys:
            found[key] += worth
    return found
