"""Figures as people read them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.wording.figures import duration, round_angle


@pytest.mark.parametrize(
    ("angle_deg", "digits", "told"),
    [(359.6, 0, "0°"), (359.4, 0, "359°"), (359.96, 1, "0.0°"), (-0.2, 0, "0°"), (267.13, 1, "267.1°")],
)
def test_an_angle_round_the_circle_is_told_from_0_on_and_never_360(angle_deg, digits, told):
    assert round_angle(angle_deg, digits) == told


@given(st.floats(-720.0, 720.0), st.integers(0, 3))
def test_no_angle_is_told_outside_the_circle(angle_deg, digits):
    assert 0.0 <= float(round_angle(angle_deg, digits)[:-1]) < 360.0


@pytest.mark.parametrize(
    ("seconds", "told"),
    [(0.0, "less than a minute"), (59.9, "less than a minute"), (60.0, "1 min"), (3661.0, "1 h 01 min")],
)
def test_a_length_of_time_is_never_overstated_and_never_nothing(seconds, told):
    assert duration(seconds) == told
