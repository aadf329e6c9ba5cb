"""Directions, bearings and pictures, against published values and against brute force."""

import erfa
import numpy as np
import pytest
from aim.skies import place, rotation
from hypothesis import given
from hypothesis import strategies as st

from nightmode.aim.frame import (
    along,
    altitude_azimuth,
    bearing_deg,
    clock_hour,
    direction,
    frame,
    point_at,
    rolled,
    stereographic,
    swung_to,
)
from nightmode.sky.vectors import angle_between_deg

altitudes = st.floats(-89.9, 89.9)
azimuths = st.floats(0.0, 359.99)
directions = st.builds(direction, altitudes, azimuths)


def test_arcturus_and_spica_are_as_far_apart_as_printed():
    # Meeus, Astronomical Algorithms, 2nd ed. 1998, example 17.a: 32.7930 degrees.
    found = angle_between_deg(place(213.9154, 19.1825), place(201.2983, -11.1614))
    assert found == pytest.approx(32.7930, abs=5e-5)


def test_separation_bearing_and_north_are_those_of_the_sofa_test_programme():
    # IAU SOFA, t_sofa_c.c, tests of iauSeps, iauPas and iauHd2pa (values from memory, confirmed with pyerfa).
    assert np.radians(
        angle_between_deg(place(*np.degrees((1.0, 0.1))), place(*np.degrees((0.2, -3.0))))
    ) == pytest.approx(2.346722016996998842, abs=1e-12)
    # Longitude grows to the left on the sky and azimuth to the right, so a position angle, counted through
    # the growing one, is a bearing where longitude is taken for azimuth.
    one, other = direction(*np.degrees((0.1, 1.0))), direction(*np.degrees((-1.0, 0.2)))
    assert np.radians(bearing_deg(frame(one), other)) % (2 * np.pi) == pytest.approx(
        -2.724544922932270424 % (2 * np.pi), abs=1e-12
    )
    hour_angle, declination, latitude = np.degrees((1.1, 1.2, 0.3))
    turned = rotation(latitude, hour_angle)  # the star at right ascension 0
    star, pole = turned @ place(0.0, declination), turned @ np.array([0.0, 0.0, 1.0])
    assert np.radians(bearing_deg(frame(star), pole)) == pytest.approx(1.906227428001995580, abs=1e-12)


@given(directions, directions)
def test_bearings_and_separations_are_those_of_erfa(one, other):
    (alt1, az1), (alt2, az2) = altitude_azimuth(one), altitude_azimuth(other)
    expected = erfa.seps(*np.radians((az1, alt1, az2, alt2)))
    assert np.radians(angle_between_deg(one, other)) == pytest.approx(expected, abs=1e-9)
    if 1e-3 < expected < np.pi - 1e-3:
        angle = erfa.pas(*np.radians((az1, alt1, az2, alt2)))
        apart = np.radians(bearing_deg(frame(one), other)) - angle
        assert np.cos(apart) == pytest.approx(1.0, abs=1e-9)


@pytest.mark.parametrize("azimuth", [0.0, 90.0, 180.0, 270.0])
def test_to_the_right_azimuth_grows_and_up_is_up(azimuth):
    home = frame(direction(40.0, azimuth))
    assert clock_hour(bearing_deg(home, direction(40.0, azimuth + 1.0))) == pytest.approx(3.0, abs=0.02)
    assert clock_hour(bearing_deg(home, direction(41.0, azimuth))) == pytest.approx(12.0, abs=1e-6)
    assert clock_hour(bearing_deg(home, direction(39.0, azimuth))) == pytest.approx(6.0, abs=1e-6)


@given(directions)
def test_a_frame_is_right_angled_and_never_a_mirror_image(forward):
    home = frame(forward)
    assert home @ home.T == pytest.approx(np.eye(3), abs=1e-9)
    assert home[2] == pytest.approx(forward)
    assert np.linalg.det(home) == pytest.approx(1.0, abs=1e-9)


@given(directions, directions)
def test_a_frame_carried_along_keeps_the_line_that_it_follows(one, other):
    apart = float(angle_between_deg(one, other))
    if not 0.1 < apart < 170.0:
        return
    home = frame(one)
    there = swung_to(home, other)
    assert there @ there.T == pytest.approx(np.eye(3), abs=1e-9)
    assert np.linalg.det(there) == pytest.approx(1.0, abs=1e-9)
    onward = along(one, other, 1.0 + 1.0 / apart)
    turn = bearing_deg(there, onward) - bearing_deg(home, other)
    assert np.cos(np.radians(turn)) == pytest.approx(1.0, abs=1e-9)


@given(directions, st.floats(0.01, 60.0), st.floats(0.0, 359.9))
def test_a_point_drawn_lies_where_it_was_put(forward, distance, bearing):
    home = frame(forward)
    point = point_at(home, distance, bearing)
    assert angle_between_deg(forward, point) == pytest.approx(distance, abs=1e-6)
    x, y = stereographic(home, point)
    assert np.cos(np.arctan2(x, y) - np.radians(bearing)) == pytest.approx(1.0, abs=1e-9)
    x, y = stereographic(rolled(home, bearing), point)
    assert y > 0.0
    assert x == pytest.approx(0.0, abs=1e-6)


def test_the_clock_runs_from_twelve_round_to_twelve():
    assert clock_hour([0.0, 30.0, 90.0, 180.0, 359.0]).tolist() == pytest.approx(
        [12.0, 1.0, 3.0, 6.0, 359.0 / 30]
    )
