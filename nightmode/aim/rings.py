"""Which stars are in the circles of a bullseye when the target is in the middle."""

from collections.abc import Sequence
from enum import StrEnum

import numpy as np

from nightmode.aim.figure import LANDMARK_DEG, LANDMARK_MAG
from nightmode.aim.frame import bearing_deg
from nightmode.aim.shows import Stars
from nightmode.aim.start import ITSELF_DEG
from nightmode.arrays import Array
from nightmode.records import Record
from nightmode.sky.vectors import angle_between_deg

MOST_STARS = 3
#: Stars count up to this distance, in radii of the largest circle; a star nearer to a circle than this share
#: of its radius is on it; stars nearer to each other than this, in degrees, are told as one.
REACH, ON_SHARE, APART_DEG = 1.3, 0.12, 0.7


class Place(StrEnum):
    """Where a star is in relation to a circle: on it, inside or just outside."""

    ON = "on"
    INSIDE = "inside"
    OUTSIDE = "just outside"


class RingStar(Record):
    """A star and the circle nearest to it; bearing_deg is seen from the centre of the circles.

    ring is the place of the circle among them, the smallest first.
    """

    star: int
    ring: int
    place: Place
    bearing_deg: float


def stars_by_rings(stars: Stars, home: Array, rings_deg: Sequence[float]) -> tuple[RingStar, ...]:
    """Return up to three stars in and near the circles, the brightest first.

    home is the frame that looks at the target; rings_deg holds the circles' diameters, smallest first.
    """
    if not rings_deg:
        return ()
    distance = angle_between_deg(stars.direction, home[2])
    shows = (
        stars.is_clear
        & (stars.margin_mag >= LANDMARK_MAG)
        & (stars.altitude_deg > LANDMARK_DEG)
        & (distance > ITSELF_DEG / 2.0)
        & (distance <= REACH * rings_deg[-1] / 2.0)
    )
    kept: list[int] = []
    for star in np.flatnonzero(shows)[np.argsort(stars.dimmed_mag[shows], kind="stable")].tolist():
        lonely = all(
            angle_between_deg(stars.direction[star], stars.direction[other]) >= APART_DEG for other in kept
        )
        if lonely:
            kept.append(star)
        if len(kept) == MOST_STARS:
            break
    bearings = bearing_deg(home, stars.direction)
    return tuple(
        RingStar(star, *_by_ring(float(distance[star]), rings_deg), float(bearings[star])) for star in kept
    )


def _by_ring(distance_deg: float, rings_deg: Sequence[float]) -> tuple[int, Place]:
    radii = [ring / 2.0 for ring in rings_deg]
    off = [abs(distance_deg - radius) / radius for radius in radii]
    nearest = int(np.argmin(off))
    if off[nearest] <= ON_SHARE:
        return nearest, Place.ON
    within = next((ring for ring, radius in enumerate(radii) if distance_deg < radius), None)
    return (len(radii) - 1, Place.OUTSIDE) if within is None else (within, Place.INSIDE)
