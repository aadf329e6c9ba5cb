"""Hops from star to star in an optical finder. Bounds are our own (common practice, no published source)."""

import numpy as np

from nightmode.aim.shows import Stars
from nightmode.aim.start import LEAST_MARGIN_MAG as BEGIN_MARGIN_MAG
from nightmode.arrays import Array, Flags, Indices
from nightmode.records import Record
from nightmode.sky.vectors import angle_between_deg

#: A star of a chain is brighter by so many magnitudes than the faintest that the finder shows.
LEAST_MARGIN_MAG = 1.0
#: A hop is at most this share of the field; after the last one its star is still in view, with the target
#: centred.
HOP_FIELDS, LAST_FIELDS = 0.8, 0.45
MOST_HOPS = 8
#: A chain may begin at another star than the one told if that star looks at least this bright.
FAINTEST_UNTOLD_MAG = 3.6
#: Only this many stars, the brightest within so many degrees of the target, or a little farther than the star
#: to begin with, are considered.
MOST_STARS, REACH_DEG = 200, 12.0
#: The cost of a hop for each magnitude fainter than 3, and the cost of beginning at another star than the one
#: told.
_FAINT, _ELSEWHERE, _FAINT_TO_EYE = 0.2, 1.2, 0.3


class Chain(Record):
    """The stars to centre one after another; the first is seen by the bare eye."""

    stars: tuple[int, ...]


def finder_chain(
    stars: Stars, finder_margin_mag: Array, target: Array, field_deg: float, begin: int | None
) -> Chain | None:
    """Return the chain with the fewest hops to a target (3,), or None if eight hops do not reach it.

    finder_margin_mag (N,) says how much brighter stars are than the faintest that the finder shows. The chain
    begins if possible at begin, the star to begin with.
    """
    direction, magnitude = stars.direction, stars.magnitude
    usable, by_eye = stars.is_clear & (finder_margin_mag >= LEAST_MARGIN_MAG), _found_by_eye(stars)
    away = angle_between_deg(direction, target)
    reach_deg = REACH_DEG if begin is None else max(REACH_DEG, float(away[begin]) + field_deg / 2.0)
    nodes = np.flatnonzero((usable | by_eye) & (away <= reach_deg))
    if not nodes.size:
        return None
    nodes = nodes[np.argsort(magnitude[nodes], kind="stable")][:MOST_STARS]
    apart_deg = np.degrees(np.arccos(np.clip(direction[nodes] @ direction[nodes].T, -1.0, 1.0)))
    price = 1.0 + _FAINT * np.maximum(magnitude[nodes] - 3.0, 0.0)
    elsewhere = _ELSEWHERE + _FAINT_TO_EYE * np.maximum(magnitude[nodes] - 2.5, 0.0)
    cost = np.where(by_eye[nodes], elsewhere, np.inf)
    if begin is not None:
        cost[nodes == begin] = 0.0
    before = np.full(nodes.size, -1)
    reach = (apart_deg <= HOP_FIELDS * field_deg) & usable[nodes]
    for _ in range(MOST_HOPS):  # Bellman-Ford: after each round, the cheapest chains of one hop more
        through = np.where(reach, cost[:, None], np.inf)
        best = np.argmin(through, axis=0)
        total = through[best, np.arange(nodes.size)] + price
        better = total < cost - 1e-9
        if not better.any():
            break
        cost, before = np.where(better, total, cost), np.where(better, best, before)
    near = np.where(away[nodes] <= LAST_FIELDS * field_deg, cost, np.inf)
    if not np.isfinite(near.min()):
        return None
    last = int(np.argmin(near))
    return Chain(tuple(int(nodes[place]) for place in _way(before, last)))


def _found_by_eye(stars: Stars) -> Flags:
    """Return which stars (N,) are found without the finder, so that a chain may begin there."""
    return (
        stars.is_clear
        & stars.is_steady
        & stars.has_word
        & (stars.margin_mag >= BEGIN_MARGIN_MAG)
        & (stars.dimmed_mag < FAINTEST_UNTOLD_MAG)
    )


def _way(before: Indices, last: int) -> list[int]:
    """Return the places from the first star to the last; before has the place ahead of each, -1 for none."""
    way = [last]
    while before[way[-1]] >= 0:
        way.append(int(before[way[-1]]))
    return way[::-1]
