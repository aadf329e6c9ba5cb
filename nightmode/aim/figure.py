"""Two stars that lead to a target: a line, a share of a line, a right angle, an equilateral triangle.

A figure stays the same in a view that is turned or mirrored, so it is worth learning by heart. The place to
which the words lead is computed, and a figure is given only if that is within a degree of the target. Shares,
costs and bounds are our own (common practice, no published source).
"""

from collections.abc import Iterator
from enum import StrEnum

import numpy as np

from nightmode.aim.frame import along
from nightmode.aim.shows import Stars
from nightmode.aim.start import ITSELF_DEG
from nightmode.arrays import Array, Indices
from nightmode.records import Record
from nightmode.sky.vectors import angle_between_deg

LARGEST_MISS_DEG = 1.0
#: Stars this near the target are tried first, then those farther off.
REACHES_DEG = (14.0, 25.0)
LONGEST_DEG, SHORTEST_DEG = 25.0, 1.0
#: A star must be brighter by so many magnitudes than the eye's limit: averted vision finds no landmark.
LANDMARK_MAG, LANDMARK_DEG = 0.5, 5.0
MOST_STARS = 30


class Form(StrEnum):
    """How two stars lead to a target. A share is of their distance; for TOWARDS it is in degrees."""

    BETWEEN = "a share of the way from the first to the second"
    BEYOND = "from the first through the second and a share of that again"
    TOWARDS = "some degrees from the first towards the second"
    CORNER = "the right angle at the second, the other leg a share of the first"
    TRIANGLE = "the third corner of an even triangle"


#: Each (form, share), and the cost of following its words.
_LINES = {
    (Form.BETWEEN, 1 / 2): 0.0,
    (Form.BETWEEN, 1 / 3): 0.1,
    (Form.BETWEEN, 1 / 4): 0.15,
    (Form.BETWEEN, 2 / 5): 0.2,
    (Form.BEYOND, 1.0): 0.1,
    (Form.BEYOND, 1 / 2): 0.15,
    (Form.BEYOND, 1 / 3): 0.2,
    (Form.BEYOND, 3 / 2): 0.4,
    (Form.BEYOND, 2.0): 0.5,
}
_CORNERS = {(Form.CORNER, 1.0): 0.5, (Form.CORNER, 1 / 2): 0.6, (Form.TRIANGLE, 1.0): 0.5}
_TOWARDS_COST, TOWARDS_DEG = 0.2, 2.5


class Figure(Record):
    """Two stars and how they lead to a target; first, second and side are places in the table of stars.

    side is a star on the same side of the line from first to second as the target, or with is_away on the
    other side; None if the form needs no side. miss_deg is the distance between the target and the place to
    which the words lead.
    """

    form: Form
    share: float
    first: int
    second: int
    miss_deg: float
    side: int | None = None
    is_away: bool = False


def find_figure(stars: Stars, target: Array, begin: int | None) -> Figure | None:
    """Return the figure that leads most easily to a target (3,), or None if none leads there."""
    distance = angle_between_deg(stars.direction, target)
    shows = (
        stars.is_clear
        & stars.has_word
        & stars.is_fixed
        & (stars.margin_mag >= LANDMARK_MAG)
        & (stars.altitude_deg > LANDMARK_DEG)
        & (distance > ITSELF_DEG)
    )
    for reach in REACHES_DEG:
        places = np.flatnonzero(shows & (distance <= reach))
        places = places[np.argsort(stars.dimmed_mag[places], kind="stable")][:MOST_STARS]
        if places.size >= 2 and (found := _best(stars, target, places, begin)) is not None:
            return found
    return None


def follow(stars: Stars, figure: Figure) -> Array:
    """Return the direction (3,) to which the words of a figure lead."""
    first, second = stars.direction[[figure.first]], stars.direction[[figure.second]]
    if figure.form in (Form.CORNER, Form.TRIANGLE):
        assert figure.side is not None
        side = np.sign(_offset(first, second, stars.direction[figure.side]))
        side = -side if figure.is_away else side
        return _turned(first, second, figure.form, figure.share, side)[0]
    return _on_line(first, second, figure.form, np.array([figure.share]))[0]


def _best(stars: Stars, target: Array, places: Indices, begin: int | None) -> Figure | None:
    first, second = (index.ravel() for index in np.meshgrid(places, places, indexing="ij"))
    length = angle_between_deg(stars.direction[first], stars.direction[second])
    kept = (first != second) & (length >= SHORTEST_DEG) & (length <= LONGEST_DEG)
    pairs = _Pairs(stars, target, first[kept], second[kept], length[kept], _side_star(stars, places, begin))
    best: tuple[float, Figure] | None = None
    for tried in (*_lines(pairs), *_towards(pairs), *_corners(pairs)):
        found = _cheapest(pairs, tried)
        if found and (best is None or found[0] < best[0]):
            best = found
    return best[1] if best else None


class _Pairs(Record, eq=False):
    """P ordered pairs of stars that may make a figure."""

    stars: Stars
    target: Array
    first: Indices
    second: Indices
    length_deg: Array
    side: int | None

    @property
    def ends(self) -> tuple[Array, Array]:
        return self.stars.direction[self.first], self.stars.direction[self.second]

    def faintness(self) -> Array:
        """Return the cost of finding the two stars, (P,): fainter ones cost more."""
        each = 0.25 * np.maximum(self.stars.dimmed_mag - 2.0, 0.0) + 0.15 * ~self.stars.has_name
        return each[self.first] + each[self.second]


class _Tried(Record, eq=False):
    """One form tried on P pairs: the points (P, 3) to which its words lead, and what they cost.

    share and length_deg, how far the eye has to go, are (P,). side (P,) is positive where the target is on
    the same side as the star that tells the sides apart, negative where it is on the other; None if the form
    has no side.
    """

    form: Form
    share: Array
    points: Array
    length_deg: Array
    cost: float
    side: Array | None = None


def _cheapest(pairs: _Pairs, tried: _Tried) -> tuple[float, Figure] | None:
    """Return the cheapest pair whose point is near enough, with its cost; None if no pair's is."""
    miss = angle_between_deg(tried.points, pairs.target)
    total = 0.9 * miss + pairs.faintness() + tried.length_deg / 30.0 + tried.cost
    total = np.where((miss <= LARGEST_MISS_DEG) & (tried.length_deg <= LONGEST_DEG), total, np.inf)
    if not total.size or not np.isfinite(total.min()):
        return None
    place = int(np.argmin(total))
    return float(total[place]), Figure(
        form=tried.form,
        share=float(tried.share[place]),
        first=int(pairs.first[place]),
        second=int(pairs.second[place]),
        miss_deg=float(miss[place]),
        side=None if tried.side is None else pairs.side,
        is_away=tried.side is not None and bool(tried.side[place] < 0.0),
    )


def _lines(pairs: _Pairs) -> Iterator[_Tried]:
    first, second = pairs.ends
    for (form, share), cost in _LINES.items():
        shares = np.full(len(pairs.first), share)
        length = pairs.length_deg * (1.0 + share if form is Form.BEYOND else 1.0)
        yield _Tried(form, shares, _on_line(first, second, form, shares), length, cost)


def _towards(pairs: _Pairs) -> Iterator[_Tried]:
    first, second = pairs.ends
    away = angle_between_deg(first, pairs.target)
    share = np.round(away, 1)
    points = _on_line(first, second, Form.TOWARDS, share)
    near = (away <= TOWARDS_DEG) & (pairs.length_deg >= 1.2 * away)
    points = np.where(near[:, None], points, -pairs.target)  # half a turn off: never taken
    yield _Tried(Form.TOWARDS, share, points, pairs.length_deg, _TOWARDS_COST)


def _corners(pairs: _Pairs) -> Iterator[_Tried]:
    if pairs.side is None:
        return
    first, second = pairs.ends
    offset = _offset(first, second, pairs.stars.direction[pairs.side])
    aside = np.abs(offset) > np.sin(np.radians(2.0))
    aside &= (pairs.first != pairs.side) & (pairs.second != pairs.side)
    towards = np.sign(_offset(first, second, pairs.target))
    for (form, share), cost in _CORNERS.items():
        shares = np.full(len(pairs.first), share)
        points = _turned(first, second, form, share, towards)
        points = np.where(aside[:, None], points, -pairs.target)  # half a turn off: never taken
        length = pairs.length_deg * (1.0 + share)
        yield _Tried(form, shares, points, length, cost, towards * np.sign(offset))


def _side_star(stars: Stars, places: Indices, begin: int | None) -> int | None:
    """Return the star by which a triangle is told from its mirror image: it is clearly on one side."""
    if begin is not None:
        return begin
    named = places[stars.has_name[places]]
    return int(named[0]) if named.size else None


def _on_line(first: Array, second: Array, form: Form, share: Array) -> Array:
    """Return the points (P, 3) on the great circles through pairs of stars to which the words lead."""
    if form is Form.TOWARDS:
        share = share / angle_between_deg(first, second)
    return along(first, second, 1.0 + share if form is Form.BEYOND else share)


def _offset(first: Array, second: Array, point: Array) -> Array:
    """Return the sines (P,) of the distance of a point from the lines, positive on their left."""
    pole = np.cross(first, second)
    return (pole @ point) / np.linalg.norm(pole, axis=-1)


def _turned(first: Array, second: Array, form: Form, share: float, side: Array) -> Array:
    """Return the points (P, 3) off the line: a right angle at the second star, or an even triangle."""
    pole = np.cross(first, second)
    pole = pole / np.linalg.norm(pole, axis=-1)[:, None] * np.asarray(side, float).reshape(-1, 1)
    length = np.radians(angle_between_deg(first, second))[:, None]
    if form is Form.CORNER:
        return np.cos(share * length) * second + np.sin(share * length) * pole
    middle = first + second
    middle = middle / np.linalg.norm(middle, axis=-1)[:, None]
    height = np.arccos(np.clip(np.cos(length) / np.cos(length / 2.0), -1.0, 1.0))
    return np.cos(height) * middle + np.sin(height) * pole
