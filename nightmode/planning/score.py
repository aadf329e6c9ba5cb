"""How much a candidate is worth a place in a plan. The weights are our own: there is no source for taste."""

import numpy as np

from nightmode.arrays import Array
from nightmode.model.kind import GROUPS, Kind
from nightmode.model.target import Body, LunarFeature
from nightmode.night.table import Placed

#: Worth of the Solar System's bodies, to which their height is added.
BODY_WORTH = {
    "jupiter": 3.2,
    "saturn": 3.2,
    "moon": 3.0,
    "mars": 2.4,
    "venus": 2.2,
    "uranus": 2.0,
    "neptune": 1.6,
    "mercury": 1.2,
}
#: Worth of a feature of the Moon under its light; more where few nights with it are left in this lunation,
#: more where there is a detail to look for.
_FEATURE, _SCARCE, _DETAILED = 2.2, 0.8, 0.2
#: Planets whose size changes much: at which size their worth stands above, and what an arcsec more adds.
_BY_SIZE = {"mars": (12.0, 0.12), "venus": (25.0, 0.02)}
SHOWPIECE, MESSIER = 0.9, 0.6
#: Catalogued magnitudes of large nebulae are often of a part, or of the stars within.
_DOUBT = 0.8
#: A margin beyond this adds nothing more.
_PLENTY_DEX = 1.0


def body_worth(target: Placed) -> float:
    """Return how much a body, or a feature of the Moon, is worth a place, its height left out."""
    subject, feature = target.subject, target.feature
    if isinstance(subject, LunarFeature) and feature is not None:
        return _FEATURE + _SCARCE / max(feature.nights_left, 1) + _DETAILED * bool(subject.detail)
    if not isinstance(subject, Body):
        return 0.0
    value = BODY_WORTH.get(subject.body, 0.0)
    if target.planet is not None and subject.body in _BY_SIZE:
        usual_arcsec, gain = _BY_SIZE[subject.body]
        size = float(np.median(target.planet.diameter_arcsec))
        value += float(np.clip(gain * (size - usual_arcsec), -1.2, 1.2))
    return value


def worth(kind: list[Kind], dex: Array, highest_deg: Array, size_arcmin: Array, magnitude: Array) -> Array:
    """Return how rewarding objects are: shows well, stands high, is large, is bright. (N,), about 0 to 3."""
    shows = np.clip(dex, 0.0, _PLENTY_DEX) / _PLENTY_DEX
    high = np.sin(np.radians(highest_deg))
    large = 0.3 * np.clip(np.log10(np.nan_to_num(size_arcmin, nan=1.0)), -0.5, 1.0)
    bright = 0.06 * np.clip(13.0 - np.nan_to_num(magnitude, nan=13.0), 0.0, 8.0)
    pairs = np.isin(kind, [Kind.DOUBLE])
    doubtful = np.isin(kind, GROUPS["nebulae"])
    return shows + high + np.where(pairs, 0.0, large) + bright - _DOUBT * doubtful
