"""Double stars, planets, the Moon and single stars: aperture, seeing and altitude count in them."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode import optics
from nightmode.visibility import points, splitting


def test_an_equal_pair_at_the_dawes_limit_is_just_split_in_perfect_air():
    found = splitting.split_margin_dex(1.16, optics.dawes_limit_arcsec(100.0), seeing_arcsec=0.0)
    assert found == pytest.approx(0.0, abs=1e-12)


def test_seeing_limits_a_large_aperture_and_aperture_a_small_one():
    limit = optics.dawes_limit_arcsec([60.0, 300.0])
    assert splitting.split_cause(limit, seeing_arcsec=2.0).tolist() == ["aperture", "seeing"]
    assert splitting.split_cause(limit[1], seeing_arcsec=1.5, altitude_deg=15.0) == "low altitude"


def test_the_word_of_a_double_goes_by_how_much_wider_than_its_limit_it_is():
    margins = splitting.split_margin_dex([10.0, 1.6, 1.2, 0.8, None], 1.16, seeing_arcsec=2.0)
    assert splitting.split_word(margins).tolist() == ["easy", "fair", "hard", "out of reach", "unknown"]


@pytest.mark.parametrize(
    ("name", "separation", "difference"),
    [("Eta Orionis", 1.8, 1.4), ("Porrima", 3.7, 0.0), ("Izar", 2.9, 2.2)],
)
def test_a_pair_as_wide_as_the_blur_is_no_lost_pair(name, separation, difference):
    # Common practice, no published source: 200 mm in usual air (2 arcsec) splits all three at 50 degrees.
    limit = optics.unequal_limit_arcsec(200.0, difference)
    found = splitting.split_margin_dex(separation, limit, seeing_arcsec=2.0, altitude_deg=50.0)
    assert splitting.split_word(found) in ("easy", "fair"), name


def test_blur_grows_towards_the_horizon():
    """Airmass 2 at 30 degrees, to the power 0.6: 1.52 times the zenith's."""
    assert points.seeing_at_arcsec(2.0, [90.0, 30.0]) == pytest.approx([2.0, 3.03], rel=0.01)


def test_planets_go_by_altitude():
    assert points.altitude_word([45.0, 25.0, 12.0, 4.0, np.nan]).tolist() == [
        "easy", "fair", "hard", "out of reach", "unknown"
    ]  # fmt: skip


def test_a_star_at_the_limit_has_no_margin():
    found = points.star_margin_dex([11.0, 13.5, None], 0.5, 11.5)
    assert found[:2] == pytest.approx([0.0, -1.0])
    assert np.isnan(found[2])


@given(
    st.floats(0.2, 100),
    st.floats(40, 500),
    st.floats(1, 4),
    st.floats(0, 6),
    st.floats(5, 90),
    st.floats(0, 60),
)
def test_larger_apertures_and_higher_altitudes_never_hurt(
    separation, aperture, times, difference, low, higher
):
    def at(aperture_mm, altitude_deg):
        limit = optics.unequal_limit_arcsec(aperture_mm, difference)
        return splitting.split_margin_dex(separation, limit, altitude_deg=altitude_deg)

    assert at(aperture * times, low) >= at(aperture, low) - 1e-12
    # Kasten & Young's fit turns back by a hundred-millionth within the last tenth of a degree to the zenith.
    assert at(aperture, min(low + higher, 90.0)) >= at(aperture, low) - 1e-7
