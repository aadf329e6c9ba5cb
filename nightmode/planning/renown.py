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
#: rule): to be in a famous list, and in the most famous one or in the list of the south, most of which
#: never rose for Messier; to have a name; to be in the bundled list for town, for darkness, of pairs.
_LISTED, _MESSIER, _NAMED, _TOWN, _DARK, _PAIR = 0.6, 0.4, 0.5, 0.35, 0.3, 0.9
#: What a showpiece of the whole sky has besides, where the plan holds what nobody leaves out.
_SHOWPIECE = 1.0
#: What wants darkness is what a large telescope is carried to a dark place for: it has so much more there. A
#: sky of the first brightness, in mag/arcsec2, has nothing of it, one of the second all; so has an aperture.
_DARK_IN_DARK, _DARK_FROM_TO_MAG, _LARGE_FROM_TO_MM = 0.5, (20.5, 21.0), (150.0, 300.0)

#: What only a survey has numbered is on nobody's list; but it may have a name.
_SURVEYED, _SURVEYS = -0.5, ("eso", "ldn", "mcg", "mrk", "pgc", "ugc")


def renown(names: Sequence[str], aperture_mm: float, darkest_mag: float) -> Array:
    """Return the renown of objects by their names in the catalogue's columns, (N,), about 0 to 2.

    darkest_mag is the darkest sky behind any of them, in mag/arcsec2.
    """
    known, in_dark = _by_key(), bundled_keys("dark-sky")
    large = np.interp(np.log2(aperture_mm), np.log2(_LARGE_FROM_TO_MM), (0.0, 1.0))
    share = float(large * np.interp(darkest_mag, _DARK_FROM_TO_MAG, (0.0, 1.0)))
    keys = [target_key(name) for name in names]
    found = [
        known.get(key, 0.0) + _DARK_IN_DARK * share * (key in in_dark) + _SURVEYED * key.startswith(_SURVEYS)
        for key in keys
    ]
    return np.array(found, dtype=float)


def showpiece_renown(names: Sequence[str]) -> Array:
    """Return what objects have in the first part of a plan besides, as showpieces of the whole sky, (N,)."""
    known = showpieces()
    return _SHOWPIECE * np.array([target_key(name) in known for name in names], dtype=float)


@cache
def _by_key() -> dict[str, float]:
    marks = (
        (in_messier() | in_caldwell(), _LISTED),
        (in_messier() | bundled_keys("southern"), _MESSIER),
        (named(), _NAMED),
        (bundled_keys("town"), _TOWN),
        (bundled_keys("dark-sky"), _DARK),
        (bundled_keys("pairs"), _PAIR),
    )
    found: defaultdict[str, float] = defaultdict(float)
    for keys, worth in marks:
        for key in keys:
            found[key] += worth
    return found
