"""When the light on a feature of the Moon is right, and what aperture shows it."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.visibility import relief
from nightmode.visibility.relief import Shape


def shape(*light, spread_deg=0.0, rise_km=0.0):
    return Shape([light], np.array([spread_deg]), relief.early_deg(np.array([rise_km])))


def is_right(sun_deg, *light, **more):
    return bool(relief.light_margin_deg(shape(*light, **more), np.array([[sun_deg]]))[0, 0] > 0)


@pytest.mark.parametrize(
    ("light", "right", "wrong"),
    [
        (("low",), (1, 7, 14), (-3, 0.2, 16, 60)),
        (("lowest",), (1, 5), (-1, 7, 60)),
        (("high",), (36, 70, 89), (3, 30)),
        (("low", "high"), (3, 14, 40), (20, 30, -2)),
    ],
)
def test_each_light_has_its_range_of_the_sun_s_height(light, right, wrong):
    # The ranges are our own rule, written in docs/physics.md.
    assert all(is_right(sun, *light) for sun in right)
    assert not any(is_right(sun, *light) for sun in wrong)


@pytest.mark.parametrize(("rise_km", "early"), [(1.0, 1.9), (2.0, 2.7), (3.0, 3.4)])
def test_peaks_catch_the_sun_before_their_ground(rise_km, early):
    # A sphere of 1737.4 km: from a height h one sees sqrt(2 h / R) over the horizon, worked by hand.
    assert relief.early_deg(rise_km) == pytest.approx(early, abs=0.05)
    assert is_right(-early + 0.1, "low", rise_km=rise_km)
    assert not is_right(-early - 0.1, "low", rise_km=rise_km)


def test_what_is_wide_counts_by_its_nearest_edge():
    assert is_right(-8.0, "low", spread_deg=10.0)
    assert is_right(24.0, "low", spread_deg=10.0)
    assert not is_right(26.0, "low", spread_deg=10.0)


def test_apertures_for_details_and_lines():
    # Ours: 1.5 times the Dawes limit (116 mm over arcsec; 1 km is 0.537 arcsec), a third of that for lines.
    assert pytest.approx(324, abs=1) == 1.5 * 116 / 0.537
    assert relief.aperture_for_detail_mm(2.2, 1.0) == pytest.approx(147, abs=1)
    assert relief.aperture_for_line_mm(1.2, 1.0) == pytest.approx(90, abs=0.5)
    assert relief.aperture_for_detail_mm(2.2, 0.5) == pytest.approx(2 * 147, abs=2)


@given(st.floats(-90, 90))
def test_what_is_turned_away_is_squeezed_to_less_than_a_seventh(seen_deg):
    is_away = relief.facing_margin_deg(shape("low"), np.array([[seen_deg]]))[0, 0] <= 0
    assert is_away == (relief.squeeze(seen_deg) <= 0.15 + 1e-12)
