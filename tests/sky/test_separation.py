import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.model.position import parse_position
from nightmode.sky.vectors import separation_deg

PLACE = st.tuples(st.floats(0, 360), st.floats(-90, 90))


def test_a_separation_agrees_with_meeus_example_17a(check):
    given_ = check("meeus-17a-separation")
    arcturus, spica = (parse_position(" ".join(given_["inputs"][name])) for name in ("arcturus", "spica"))
    assert separation_deg(*arcturus, *spica) == pytest.approx(
        given_["expected"]["separation_deg"], abs=given_["tolerance"]["deg"]
    )


def test_meeus_chapter_17_exercise_near_180_degrees():
    aldebaran, antares = parse_position("4h35m55.2s +16d30m33s"), parse_position("16h29m24.0s -26d25m55s")
    assert separation_deg(*aldebaran, *antares) == pytest.approx(169 + 58 / 60, abs=0.5 / 60)


@given(PLACE, PLACE, PLACE)
def test_it_is_a_distance(a, b, c):
    ab, bc, ac = separation_deg(*a, *b), separation_deg(*b, *c), separation_deg(*a, *c)
    assert 0 <= ab <= 180
    assert ab == pytest.approx(separation_deg(*b, *a), abs=1e-9)
    assert ac <= ab + bc + 1e-9
    assert separation_deg(*a, *a) == pytest.approx(0, abs=1e-12)


@given(PLACE, st.floats(1e-7, 1e-3))
def test_small_angles_keep_their_digits(place, step):
    ra, dec = place
    other = dec - step if dec > 0 else dec + step
    assert separation_deg(ra, dec, ra, other) == pytest.approx(abs(other - dec), rel=1e-4)


def test_arrays_broadcast():
    assert separation_deg(np.zeros((3, 1)), 0.0, np.arange(4.0), 0.0).shape == (3, 4)
