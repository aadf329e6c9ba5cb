"""The star to set a finder on."""

import numpy as np
import pytest

from nightmode.aim.align import align_on
from nightmode.aim.frame import direction


def chosen(*stars, target=None):
    """Each star: altitude, azimuth, magnitude. Returns the place of the one to align on."""
    altitude, azimuth, magnitude = (np.array(column, float) for column in zip(*stars, strict=True))
    return align_on(direction(altitude, azimuth), altitude, magnitude, np.ones(len(stars), bool), target)


def test_a_bright_star_halfway_up_is_taken():
    assert chosen((40, 100, 1.9), (45, 200, 0.1), (30, 300, 2.2)) == 1


@pytest.mark.parametrize("altitude", [10, 19, 66, 85])
def test_one_too_low_or_too_high_is_not(altitude):
    assert chosen((altitude, 100, -1.0), (40, 200, 2.0)) == 1
    assert chosen((altitude, 100, -1.0)) is None


def test_of_two_alike_the_one_nearer_the_first_target_is_taken():
    target = direction(40.0, 290.0)
    assert chosen((40, 100, 1.0), (40, 280, 1.1), target=target) == 1


def test_one_with_a_neighbour_that_could_be_taken_for_it_is_not():
    assert chosen((40, 100, 0.5), (42, 101, 1.9), (40, 200, 2.0)) == 2
    assert chosen((40, 100, 0.5), (42, 101, 2.1), (40, 200, 2.0)) == 0


def test_faint_ones_and_those_behind_the_horizon_line_are_not():
    assert chosen((40, 100, 2.7)) is None
    there = direction(np.array([40.0]), np.array([100.0]))
    assert align_on(there, np.array([40.0]), np.array([0.0]), np.zeros(1, bool), None) is None
