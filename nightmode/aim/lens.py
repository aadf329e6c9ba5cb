"""Where things are in a picture, how large stars are drawn and which are named; for screen and paper.

Places are in units from the left and from the top; the picture decides what a unit is.
"""

from collections.abc import Iterable

import numpy as np

from nightmode.aim.frame import point_at, stereographic
from nightmode.aim.pointing import FieldOfView, Pointing
from nightmode.arrays import Array, Flags, Indices
from nightmode.records import Record, replace

#: How many degrees the wide picture spans at least and at most.
WIDE_DEG = (13.0, 55.0)
#: Two scales of size, of which the larger counts: by V as it looks, and by magnitudes above the limit.
BY_LIGHT_MAG, BY_MARGIN_MAG = (4.7, 3.7, 2.7, 1.5), (0.7, 1.5, 2.5, 3.9)
#: The wide picture shows stars brighter by so many magnitudes than the limit.
WIDE_MARGIN_MAG = 0.3
#: This many of the brightest stars are named, besides those in the words.
MOST_NAMES = 3
#: The circle kept free round the target where there is no bullseye.
USUAL_ROOM_DEG = 3.0


class Lens(Record, eq=False):
    """Projects directions into a picture: its frame, its units per degree, the place of its middle."""

    home: Array
    per_deg: float
    middle: Array
    fov: FieldOfView | None = None

    def places(self, directions: Array) -> Array:
        """Return units from the left and from the top (..., 2) of directions (..., 3); NaN behind."""
        degrees = stereographic(self.home, directions)
        if self.fov is not None:
            degrees = self.fov.as_shown(degrees)
        return self.middle + degrees * np.array([1.0, -1.0]) * self.per_deg

    def at(self, direction: Array) -> tuple[float, float]:
        """Return units from the left and from the top of one direction (3,)."""
        x, y = self.places(direction).tolist()
        return x, y

    def moved(self, right: float, down: float) -> "Lens":
        """Return the same lens with everything moved by so many units to the right and down."""
        return replace(self, middle=self.middle + np.array([right, down]))

    def circle(self, home: Array, radius_deg: float, step: float) -> Array:
        """Return places (K, 2), so many units apart, of a circle of the sky round a frame's middle."""
        count = max(8, int(2.0 * np.pi * radius_deg * self.per_deg / step))
        return self.places(point_at(home, radius_deg, np.arange(count) * 360.0 / count))


def sky_lens(pointing: Pointing, size: tuple[float, float], margin: tuple[float, float]) -> Lens:
    """Return the lens of the picture of the way: star to begin with, target, figure, and circles.

    size is the width and height of the picture; margin is what is kept free of each for names.
    """
    guide, stars = pointing.guide, pointing.stars.direction
    wanted = [guide.target]
    wanted += [stars[guide.begin.star]] if guide.begin else []
    wanted += [stars[guide.figure.first], stars[guide.figure.second]] if guide.figure else []
    places = stereographic(guide.sky, np.array(wanted))
    low, high = places.min(axis=0), places.max(axis=0)
    span = np.maximum(high - low + largest_deg(pointing), WIDE_DEG[0])
    whole = np.array(size, float)
    per_deg = float(((whole - np.array(margin)) / span).min())
    per_deg = max(per_deg, float(whole.min()) / WIDE_DEG[1])
    middle = (low + high) / 2.0
    return Lens(guide.sky, per_deg, whole / 2.0 - middle * np.array([1.0, -1.0]) * per_deg)


def largest_deg(pointing: Pointing) -> float:
    """Return the diameter of the bullseye's largest circle, or without one of the circle kept free."""
    return pointing.rings_deg[-1] if pointing.rings_deg else USUAL_ROOM_DEG


def in_picture(places: Array, size: tuple[float, float]) -> Flags:
    """Return which places (N, 2) lie in a picture of that width and height."""
    with np.errstate(invalid="ignore"):
        inside = (places >= 0.0) & (places < np.array(size))
    return np.asarray(inside[..., 0] & inside[..., 1])


def shows_wide(pointing: Pointing) -> Flags:
    """Return which stars (N,) the wide picture shows."""
    return pointing.is_bright_enough & (pointing.stars.margin_mag >= WIDE_MARGIN_MAG)


def sizes(pointing: Pointing) -> Indices:
    """Return how large stars (N,) are drawn under the sky, 0 to 4."""
    by_light = reached(-pointing.stars.dimmed_mag, (-limit for limit in BY_LIGHT_MAG))
    return np.maximum(by_light, reached(pointing.stars.margin_mag, BY_MARGIN_MAG))


def reached(value: Array, steps: Iterable[float]) -> Indices:
    """Return how many of the increasing steps each value reaches."""
    found = np.zeros(value.shape, dtype=np.intp)
    for step in steps:
        found += value >= step
    return found


def to_name(pointing: Pointing, inside: Indices) -> list[int]:
    """Return which stars of `inside` to name: first those that the words need, then the brightest."""
    guide, here = pointing.guide, set(inside.tolist())
    wanted = [guide.begin.star] if guide.begin else []
    wanted += [guide.figure.first, guide.figure.second] if guide.figure else []
    wanted += [star.star for star in guide.ring_stars]
    by_light = inside[np.argsort(pointing.stars.dimmed_mag[inside], kind="stable")].tolist()
    wanted += [star for star in by_light if not pointing.stars.is_fixed[star]]  # planets, the Moon
    wanted += [star for star in by_light if pointing.called[star]][:MOST_NAMES]
    return [star for star in dict.fromkeys(wanted) if star in here]
