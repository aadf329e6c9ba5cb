"""Where targets are among the stars, as plain data."""

from typing import Any

from nightmode.aim.frame import bearing_deg, clock_hour, frame
from nightmode.aim.guide import Begin
from nightmode.aim.pointing import Pointing
from nightmode.night.aiming import pointing_at
from nightmode.night.aligning import align_star, first_up
from nightmode.night.table import Night
from nightmode.sky.vectors import angle_between_deg
from nightmode.walk.order import walk_order
from nightmode.wording.aim import called, figure_words


def aim_json(night: Night, row: int, at_s: float) -> dict[str, Any] | None:
    """Return the way to a target at an instant; None while it is down or the Sun is above -6 degrees.

    clock gives a direction in hours: 12 towards the zenith, 3 to the right. In `begin` it leads from that
    star to the target, in `sight` from the target to a star in the circle of ring_deg. hops are the next
    stars to centre in the optical finder, each with its distance from the one before.
    """
    pointing = pointing_at(night, row, at_s)
    if pointing is None:
        return None
    guide = pointing.guide
    home = frame(guide.target)
    return {
        "begin": _begin(pointing, guide.begin) if guide.begin else None,
        "figure": {
            "words": figure_words(pointing, guide.figure),
            "stars": [called(pointing, guide.figure.first), called(pointing, guide.figure.second)],
            "miss_deg": round(guide.figure.miss_deg, 2),
        }
        if guide.figure
        else None,
        "sight": [
            {
                "name": called(pointing, star.star),
                "ring_deg": pointing.rings_deg[star.ring],
                "clock": _clock(float(bearing_deg(home, pointing.stars.direction[star.star]))),
            }
            for star in guide.ring_stars
        ],
        "hops": _hops(pointing),
    }


def align_json(night: Night, at_s: float) -> dict[str, Any] | None:
    """Return the star to set a finder on at an instant; None while the Sun is above -6 degrees."""
    star = align_star(night, at_s, first_up(night, at_s, walk_order(night.chances, at_s)))
    if star is None:
        return None
    return {
        "name": star.name,
        "magnitude": star.magnitude,
        "altitude_deg": round(star.altitude_deg, 2),
        "azimuth_deg": round(star.azimuth_deg, 2),
    }


def _begin(pointing: Pointing, begin: Begin) -> dict[str, Any]:
    stars, star = pointing.stars, begin.star
    return {
        "name": called(pointing, star),
        "magnitude": round(float(stars.magnitude[star]), 2),
        "altitude_deg": round(float(stars.altitude_deg[star]), 2),
        "azimuth_deg": round(float(stars.azimuth_deg[star]), 2),
        "separation_deg": round(begin.separation_deg, 2),
        "clock": _clock(begin.bearing_deg),
    }


def _clock(bearing_deg: float) -> float:
    return round(float(clock_hour(bearing_deg)), 2)


def _hops(pointing: Pointing) -> list[dict[str, Any]]:
    if pointing.chain is None:
        return []
    begin = pointing.guide.begin.star if pointing.guide.begin else None
    before, hops = begin, []
    for star in pointing.chain.stars:
        if star == begin:
            continue
        away = None
        if before is not None:
            away = round(
                float(angle_between_deg(pointing.stars.direction[before], pointing.stars.direction[star])), 2
            )
        magnitude = round(float(pointing.stars.magnitude[star]), 2)
        hops.append({"name": called(pointing, star), "magnitude": magnitude, "separation_deg": away})
        before = star
    return hops
