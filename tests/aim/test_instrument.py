"""What a finder and a telescope show, by brute force: the tube is moved, the sky is let turn."""

import numpy as np
import pytest
from aim.skies import place, rotation
from rows import rows

from nightmode.aim.frame import bearing_deg, direction, frame, point_at, stereographic
from nightmode.aim.pointing import FieldOfView
from nightmode.model.kit import View
from nightmode.wording.aim import push_words

VIEWS = {view: FieldOfView("any", 6.0, 6.0, view) for view in View}


def seen(instrument, altitude, azimuth, star):
    """Return where a star stands in the field of a tube: right and up."""
    return instrument.as_shown(stereographic(frame(direction(altitude, azimuth)), star))


@rows("view", View)
@rows("side", ["top", "right"])
def test_the_push_told_brings_what_stands_at_an_edge_to_the_middle(view, side):
    told = {"top": push_words(VIEWS[view]).split(" ")[0]}
    told["right"] = push_words(VIEWS[view]).rsplit(", ", 1)[1].split(" ")[0]
    altitude, azimuth, away = 35.0, 120.0, 0.5
    home = frame(direction(altitude, azimuth))
    # Look for the star that is seen at that edge, whatever the parity: try all round.
    ring = point_at(home, away, np.arange(360.0))
    places = np.array([seen(VIEWS[view], altitude, azimuth, star) for star in ring])
    star = ring[np.argmax(places[:, 1 if side == "top" else 0])]
    step = {"up": (away, 0.0), "down": (-away, 0.0)}
    step |= {"right": (0.0, away / np.cos(np.radians(altitude)))}
    step["left"] = (0.0, -step["right"][1])
    up, along = step[told[side]]
    assert np.hypot(*seen(VIEWS[view], altitude + up, azimuth + along, star)) < 0.02


@rows("view", View)
@rows("where", [(46, -60, 20), (46, 170, 80), (-34, 40, -70)])
def test_with_the_tube_at_rest_stars_leave_where_west_is_told(view, where):
    latitude, hour_angle, declination = where
    instrument = VIEWS[view]
    # The sky turns by 0.4 degree, some hundred seconds; the tube keeps altitude and azimuth.
    before, after = (rotation(latitude, hour_angle + step) @ place(0.0, declination) for step in (0.0, 0.4))
    home, pole = frame(before), rotation(latitude, hour_angle) @ np.array([0.0, 0.0, 1.0])
    drift = instrument.as_shown(stereographic(home, after))
    drawn = np.degrees(np.arctan2(drift[0], drift[1])) % 360.0
    west = instrument.seen_deg((float(bearing_deg(home, pole)) + 90.0) % 360.0)
    assert np.cos(np.radians(drawn - west)) == pytest.approx(1.0, abs=0.002)


def test_north_is_a_quarter_turn_from_west_one_way_or_the_other():
    for view, turn in ((View.UPRIGHT, -90.0), (View.TURNED, -90.0), (View.MIRRORED, 90.0)):
        north, west = (VIEWS[view].seen_deg(bearing) for bearing in (25.0, 115.0))
        assert (north - west) % 360.0 == pytest.approx(turn % 360.0)
