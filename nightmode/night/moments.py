"""Moments of planets on a night: events at Jupiter, a half-lit disc, a thin ring, the Moon close by."""

from collections.abc import Sequence

import numpy as np

from nightmode.arrays import Array, Interval
from nightmode.model.sight import Moment, Sight
from nightmode.sky.crossings import intervals
from nightmode.sky.galilean import ECLIPSE, OCCULTATION, Passage, passages
from nightmode.sky.globes import PlanetTonight
from nightmode.sky.vantage import Vantage
from nightmode.sky.vectors import angle_between_deg
from nightmode.walk.usable import Usable

#: How long before its begin a moment counts, and how long after it a disappearance or return is watched
#: (ours).
AHEAD_S, AFTER_S = 600.0, 300.0
#: How precisely the time of the Red Spot is known, and how long it is near the meridian.
SPOT_S = 600.0
#: Closer than this to the edge of the disc, an eclipse and an occultation count as one.
_BOTH_S = 120.0
_HALF = (0.46, 0.54)
_THIN_DEG, _NEAR_DEG = 1.5, 3.0


def moments_of(
    vantage: Vantage, tonight: PlanetTonight, usable: Sequence[Usable], red_spot_deg: float | None = None
) -> tuple[Moment, ...]:
    """Return all moments of a planet while it can be observed, in order of their beginning."""
    found = jupiter_moments(vantage, usable) if tonight.planet == "jupiter" else []
    if tonight.planet == "jupiter" and red_spot_deg is not None:
        found += red_spot_moments(tonight, usable, red_spot_deg)
    found += lasting_moments(tonight, usable, vantage.time_s, from_moon(vantage, tonight.planet))
    return tuple(sorted(found, key=lambda moment: moment.begins_s))


def jupiter_moments(vantage: Vantage, usable: Sequence[Usable]) -> list[Moment]:
    """Return the events of Jupiter's large moons while Jupiter can be observed, in order of time."""
    found = passages(vantage.time_s, vantage.time.tt)
    hidden = [passage for passage in found if passage.event == OCCULTATION]
    return [
        Moment(passage.begins_s, passage.ends_s, Sight(passage.event), passage.moon, watch=watch)
        for passage in found
        if (watch := _watch(passage, hidden)) and _is_during(passage.begins_s, passage.ends_s, usable)
    ]


def _is_during(begins_s: float, ends_s: float, usable: Sequence[Usable]) -> bool:
    """Return whether any part of a stretch of time is usable."""
    return any(begins_s < stretch.end_s and ends_s > stretch.start_s for stretch in usable)


def red_spot_moments(tonight: PlanetTonight, usable: Sequence[Usable], longitude_deg: float) -> list[Moment]:
    """Return when the Red Spot is on the central meridian; longitude_deg is its longitude in System II."""
    meridian = tonight.meridians_deg["II"]
    turns = np.arange(np.ceil((meridian[0] - longitude_deg) / 360.0), (meridian[-1] - longitude_deg) / 360.0)
    found = []
    for at_s in np.interp(longitude_deg + 360.0 * turns, meridian, tonight.grid_s).tolist():
        if any(stretch.start_s <= at_s <= stretch.end_s for stretch in usable):
            begins, ends = at_s - SPOT_S, at_s + SPOT_S
            found.append(Moment(begins, ends, Sight.RED_SPOT, watch=((begins - AHEAD_S, ends),)))
    return found


def _watch(passage: Passage, hidden: Sequence[Passage]) -> tuple[Interval, ...]:
    """Return when a passage is worth looking at: all of a transit, only the ends of a disappearance.

    A moon is seen to enter or leave the shadow only where it is not behind the disc; near opposition the ends
    of eclipse and occultation coincide, and count as one.
    """
    if passage.event not in (ECLIPSE, OCCULTATION):
        return ((passage.begins_s - AHEAD_S, passage.ends_s),)
    ends = [passage.begins_s, passage.ends_s]
    if passage.event == ECLIPSE:
        behind = [other for other in hidden if other.moon == passage.moon]
        ends = [
            at_s
            for at_s in ends
            if not any(other.begins_s - _BOTH_S <= at_s <= other.ends_s + _BOTH_S for other in behind)
        ]
    return tuple((at_s - AHEAD_S, at_s + AFTER_S) for at_s in ends)


def lasting_moments(
    tonight: PlanetTonight, usable: Sequence[Usable], time_s: Array, from_moon_deg: Array
) -> list[Moment]:
    """Return what can be seen of a planet all night, and for how long the Moon is close by.

    from_moon_deg (T,) is the Moon's distance at the minutes time_s.
    """
    moments = []
    if usable:
        begins, ends = usable[0].start_s, usable[-1].end_s
        middle_s = (begins + ends) / 2
        lit = tonight.at(tonight.illuminated, middle_s)
        if tonight.planet in ("mercury", "venus") and _HALF[0] <= lit <= _HALF[1]:
            moments.append(Moment(begins, ends, Sight.HALF_LIT))
        if abs(tonight.at(tonight.ring_tilt_deg, middle_s)) < _THIN_DEG:
            moments.append(Moment(begins, ends, Sight.RING_THIN))
    for begins, ends in intervals(time_s, _NEAR_DEG - from_moon_deg)[0]:
        if _is_during(begins, ends, usable):
            nearest = float(from_moon_deg[(time_s >= begins - 60) & (time_s <= ends + 60)].min())
            moments.append(Moment(begins, ends, Sight.MOON_NEAR, separation_deg=nearest))
    return moments


def from_moon(vantage: Vantage, planet: str) -> Array:
    """Return the angle between a planet and the Moon, degrees, at the instants of a vantage, (T,)."""
    return angle_between_deg(vantage.see(planet).xyz.au, vantage.see("moon").xyz.au, axis=0)
