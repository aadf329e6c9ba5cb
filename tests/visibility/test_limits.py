"""What stands in the way, and what would change it."""

import numpy as np
import pytest

from nightmode.visibility.conditions import Conditions
from nightmode.visibility.glass import Glass
from nightmode.visibility.limits import aperture_needed_mm, limiting_cause, sky_needed_mag
from nightmode.visibility.margin import FAIR_DEX, HARD_DEX, margin
from nightmode.visibility.profile import Published, light_of

SPIRAL = light_of(Published("galaxy", 8.36, 13.7, 11.7, "SABb"))
SMALL = Glass(aperture_mm=70.0, magnification=28.0, true_field_deg=1.8)


@pytest.mark.parametrize(
    ("where", "cause"),
    [
        (Conditions(18.7, 60.0), "sky"),
        (
            Conditions(
                21.5, 60.0, moon_phase_angle_deg=5.0, moon_separation_deg=60.0, moon_altitude_deg=50.0
            ),
            "Moon",
        ),
        (Conditions(21.5, 60.0, sun_altitude_deg=-10.0), "twilight"),
        (Conditions(21.5, 10.0), "low altitude"),
    ],
)
def test_the_factor_that_gains_most_is_named(where, cause):
    assert limiting_cause(SPIRAL, where, SMALL) == cause


def test_under_a_dark_sky_it_is_the_aperture():
    faint = light_of(Published("galaxy", 11.5, 4.0, 3.0, "Sc"))
    assert limiting_cause(faint, Conditions(21.7, 75.0), SMALL) == "aperture"


def test_a_remnant_larger_than_the_field_is_limited_by_the_field():
    large = light_of(Published("supernova remnant", 5.0, 150.0))
    assert limiting_cause(large, Conditions(21.5, 70.0), SMALL) == "size against field"


def test_what_is_easy_needs_no_cause_and_what_is_unknown_names_the_gap():
    light = light_of(Published("globular cluster", [4.0, None, 6.0], [20.0, 20.0, None]))
    found = limiting_cause(light, Conditions(21.0, 60.0), SMALL)
    assert found.tolist() == ["", "no published brightness", "no published size"]


def test_causes_follow_the_minutes_of_a_night():
    moon = np.array([40.0, 10.0, -5.0, -5.0])
    where = Conditions(
        20.3, 60.0, moon_phase_angle_deg=10.0, moon_separation_deg=50.0, moon_altitude_deg=moon
    )
    found = limiting_cause(SPIRAL, where, SMALL)
    assert found[0] == "Moon"
    assert found[-1] == "sky"


def test_the_sky_needed_is_the_sky_at_which_the_verdict_turns():
    needed = float(sky_needed_mag(SPIRAL, 0.3, SMALL))
    turned = margin(SPIRAL, [needed - 0.01, needed + 0.01], 0.3, SMALL).margin_dex
    assert 18.0 < needed < 21.0
    assert turned[0] < HARD_DEX <= turned[1]


def test_the_aperture_needed_is_where_the_verdict_turns():
    needed = float(aperture_needed_mm(SPIRAL, 18.7, 0.3, SMALL))
    glass = Glass(aperture_mm=needed, magnification=needed / 2.5, true_field_deg=1.8)
    assert 50.0 < needed < 250.0
    assert margin(SPIRAL, 18.7, 0.3, glass).margin_dex == pytest.approx(HARD_DEX, abs=0.01)


def test_what_no_sky_and_no_aperture_can_give_is_no_number():
    hopeless = light_of(Published("galaxy", [19.0, None], [10.0, 10.0]))
    assert np.isnan(sky_needed_mag(hopeless, 0.3, SMALL)).all()
    assert np.isnan(aperture_needed_mm(hopeless, 18.0, 0.3, SMALL)).all()


def test_a_surer_sight_needs_a_darker_sky():
    assert sky_needed_mag(SPIRAL, 0.3, SMALL, FAIR_DEX) > sky_needed_mag(SPIRAL, 0.3, SMALL, HARD_DEX)
