"""The way to one target at one moment, as stars and angles; the words are made elsewhere."""

from collections.abc import Sequence

import numpy as np

from nightmode.aim.figure import Figure, find_figure
from nightmode.aim.frame import bearing_deg, frame, swung_to
from nightmode.aim.rings import RingStar, stars_by_rings
from nightmode.aim.shows import Stars
from nightmode.aim.start import ITSELF_DEG, start
from nightmode.arrays import Array
from nightmode.records import Record
from nightmode.sky.vectors import angle_between_deg

#: "Up" at the star to begin with and at the target differ. From half an hour of the clock on, that of the
#: star is kept for both: an observer leans back rather than turns round.
UP_APART_DEG = 15.0


class Begin(Record):
    """The star to begin with, how far the target is from it, and in which bearing (0 up, 90 right)."""

    star: int
    separation_deg: float
    bearing_deg: float


class Guide(Record, eq=False):
    """What leads to a target.

    sky     frame (3, 3) of the picture of the way: its middle is halfway, and "up" is up at the star to begin
            with
    closer  frame (3, 3) of the picture round the target, in which the bearings of ring_stars are
    """

    target: Array
    begin: Begin | None
    figure: Figure | None
    ring_stars: tuple[RingStar, ...]
    sky: Array
    closer: Array


def guide(stars: Stars, target: Array, rings_deg: Sequence[float] = (), keep: int | None = None) -> Guide:
    """Return the way to a target (3,); rings_deg are the bullseye's circles, smallest first."""
    star = start(stars, target, keep)
    closer = frame(target)
    sky = closer
    begin = None
    if star is not None:
        home = frame(stars.direction[star])
        away = float(angle_between_deg(home[2], target))
        begin = Begin(star, away, float(bearing_deg(home, target)))
        middle = home[2] + target
        sky = swung_to(home, middle / np.linalg.norm(middle))
        swung = swung_to(home, target)
        turn = float(bearing_deg(swung, closer[1]))
        if min(turn, 360.0 - turn) > UP_APART_DEG:
            closer = swung
    return Guide(
        target=target,
        begin=begin,
        # A target that the bare eye sees needs no figure.
        figure=None if begin and begin.separation_deg < ITSELF_DEG else find_figure(stars, target, star),
        ring_stars=stars_by_rings(stars, closer, rings_deg),
        sky=sky,
        closer=closer,
    )
