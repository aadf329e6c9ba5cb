"""Chooses the star to begin with: bright, with a name, near, and not easily mistaken for another.

The figures are our own (common practice, no published source), set on the Messier list and tried on a list
of southern showpieces.
"""

import numpy as np

from nightmode.aim.shows import Stars
from nightmode.arrays import Array, Flags, Indices
from nightmode.sky.vectors import angle_between_deg

FARTHEST_DEG = 35.0
LOWEST_DEG = 10.0
#: To be found without a chart a star must be this many magnitudes brighter than the limit, and look this
#: bright.
LEAST_MARGIN_MAG, FAINTEST_MAG = 0.8, 4.0
#: Another star within this distance and this difference in magnitude can be mistaken for it.
RIVAL_DEG, RIVAL_MAG = 5.0, 0.7
HIGHEST_DEG = 80.0
#: Nearer to the target than this, in degrees, the star is the target itself: a planet, the Moon, a bright
#: double.
ITSELF_DEG = 0.3


def start(stars: Stars, target: Array, keep: int | None = None) -> int | None:
    """Return the star to begin with on the way to a target (3,), or None if this sky has none.

    keep is the star chosen before: it stays as long as it can serve, because a star that changes while it is
    being used is worse than one that is second best.
    """
    distance = angle_between_deg(stars.direction, target)
    can = _can_serve(stars, distance)
    if keep is not None and can[keep]:
        return keep
    places = np.flatnonzero(can)
    if not places.size:
        return None
    return int(places[np.argmin(_cost(stars, places, distance[places]))])


def _can_serve(stars: Stars, distance_deg: Array) -> Flags:
    is_itself = distance_deg < ITSELF_DEG
    return (
        (distance_deg <= FARTHEST_DEG)
        & stars.is_clear
        & stars.has_word
        & (stars.is_steady | is_itself)
        & ((stars.altitude_deg > LOWEST_DEG) | is_itself)
        & (stars.margin_mag >= LEAST_MARGIN_MAG)
        & (stars.dimmed_mag < FAINTEST_MAG)
    )


def _cost(stars: Stars, places: Indices, distance_deg: Array) -> Array:
    """Return what each candidate costs: degrees of way, faintness, and likeness to others."""
    magnitude = stars.dimmed_mag[places]
    others = np.flatnonzero(stars.margin_mag > 0.0)
    apart = angle_between_deg(stars.direction[places][:, None], stars.direction[others])
    near = (apart < RIVAL_DEG) & (places[:, None] != others)
    fainter = stars.dimmed_mag[others] - magnitude[:, None]
    rivals = (near & (np.abs(fainter) <= RIVAL_MAG)).sum(axis=1)
    brighter = (near & (fainter < -RIVAL_MAG)).sum(axis=1)
    return (
        distance_deg / 5.0
        + 0.45 * np.maximum(magnitude - 0.5, 0.0)
        + 0.9 * np.maximum(magnitude - 2.9, 0.0)
        + 0.2 * rivals
        + 0.35 * brighter
        + 0.8 * ~stars.has_name[places]
        + 0.8 * (stars.altitude_deg[places] > HIGHEST_DEG)
    )
