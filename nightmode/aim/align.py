"""The bright star to set a finder on. Bounds are our own (common practice, no published source)."""

import numpy as np

from nightmode.arrays import Array, Flags
from nightmode.records import Record
from nightmode.sky.vectors import angle_between_deg

FAINTEST_MAG = 2.6
LOWEST_DEG, HIGHEST_DEG = 20.0, 65.0
#: Another star this near, in degrees, that is not fainter by this many magnitudes can be mistaken for it.
RIVAL_DEG, RIVAL_MAG = 3.0, 1.5


class AlignStar(Record):
    """A star to set the finder on: V magnitude, apparent altitude, azimuth."""

    name: str
    magnitude: float
    altitude_deg: float
    azimuth_deg: float


def align_on(
    direction: Array,
    altitude_deg: Array,
    magnitude: Array,
    can_serve: Flags,
    first_target: Array | None,
) -> int | None:
    """Return the star to align on, or None: bright, alone, at a good height, near the first target (3,).

    direction is (N, 3), the others (N,); can_serve says which stars are above the horizon line and steady.
    """
    fits = (
        can_serve & (magnitude < FAINTEST_MAG) & (altitude_deg >= LOWEST_DEG) & (altitude_deg <= HIGHEST_DEG)
    )
    places = np.flatnonzero(fits)
    if not places.size:
        return None
    apart = angle_between_deg(direction[places][:, None], direction)
    near = (apart < RIVAL_DEG) & (places[:, None] != np.arange(len(magnitude)))
    alone = ~(near & (magnitude < magnitude[places][:, None] + RIVAL_MAG)).any(axis=1)
    places = places[alone]
    if not places.size:
        return None
    way = 0.0 if first_target is None else angle_between_deg(direction[places], first_target) / 40.0
    return int(places[np.argmin(0.6 * magnitude[places] + way)])
