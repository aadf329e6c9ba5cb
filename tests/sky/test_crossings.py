from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from nightmode.sky.crossings import crossings, intervals

TIMES = np.arange(20) * 60.0
TRACKS = arrays(float, (3, 20), elements=st.floats(-50, 50, width=32))


def test_a_crossing_lies_where_the_straight_line_passes_zero():
    found = crossings(np.array([0.0, 60.0, 120.0]), np.array([-1.0, 2.0, -2.0]))
    assert found.time_s.tolist() == pytest.approx([20.0, 90.0])
    assert found.rising.tolist() == [True, False]


def test_a_sine_is_crossed_within_a_twentieth_of_a_second():
    times = np.arange(1441) * 60.0
    height = 40 * np.sin(2 * np.pi * (times - 1234.5) / 86164.0905)
    found = crossings(times, height).time_s
    expected = [1234.5, 1234.5 + 86164.0905 / 2]
    assert found == pytest.approx(expected, abs=0.05)


def test_what_is_always_or_never_above_is_one_stretch_or_none():
    assert intervals(TIMES, np.array([np.full(20, 5.0), np.full(20, -5.0)])) == [[(0.0, 1140.0)], []]


def test_nan_counts_as_not_above():
    values = np.full(20, 5.0)
    values[10] = np.nan
    ((start, end), (start2, end2)) = intervals(TIMES, values)[0]
    assert (start, end2) == (0.0, 1140.0)
    assert 540 <= end <= 600 <= start2 <= 660


@given(TRACKS)
def test_stretches_cover_exactly_the_minutes_above(values):
    for row, stretches in zip(values, intervals(TIMES, values), strict=True):
        assert all(start <= end for start, end in stretches)
        assert all(a[1] <= b[0] for a, b in pairwise(stretches))
        for time, value in zip(TIMES, row, strict=True):
            inside = any(start <= time <= end for start, end in stretches)
            assert inside or value <= 0
            strictly = any(start < time < end for start, end in stretches)
            assert value > 0 or not strictly


@given(TRACKS)
def test_rows_do_not_touch_each_other(values):
    together = intervals(TIMES, values)
    assert together == [intervals(TIMES, row)[0] for row in values]


@given(TRACKS)
def test_risings_and_settings_take_turns(values):
    found = crossings(TIMES, values)
    for row in range(3):
        turns = found.rising[found.row == row]
        assert np.all(turns[1:] != turns[:-1])
