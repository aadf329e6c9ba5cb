import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.sky.refraction import bennett_deg, refracted_deg, refraction_deg, true_deg


def test_bennett_gives_the_values_of_the_printed_equation(check):
    table = check("refraction-table-evaluated")
    got = bennett_deg(np.array(table["inputs"]["altitude_deg"], dtype=float)) * 60
    expected = np.maximum(table["expected"]["bennett_from_apparent_arcmin"], 0)
    assert got == pytest.approx(expected, abs=table["tolerance"]["arcmin"])


def test_bennett_gives_meeus_example_16a(check):
    example = check("meeus-16a-refraction-sun")["expected"]
    assert bennett_deg(np.float64(0.5)) * 60 == pytest.approx(example["refraction_lower_arcmin"], abs=0.002)


def test_what_the_almanacs_call_setting_is_seen_at_altitude_zero(check):
    almanac_deg = check("usno-rise-set-twilight-definitions")["expected"]["star_planet_altitude_deg"]
    assert refracted_deg(np.array([almanac_deg]))[0] == pytest.approx(0, abs=0.0002)


def test_two_degrees_up_the_almanac_horizon_is_forgotten():
    altitudes = np.linspace(2, 90, 500)
    assert refraction_deg(altitudes) == pytest.approx(bennett_deg(altitudes), abs=0.0003)


def test_apparent_altitude_rises_with_true_altitude_without_a_jump():
    true = np.arange(-90, 90.0005, 0.001)
    step = np.diff(refracted_deg(true))
    assert step.min() > 0
    assert step.max() < 0.0015


def test_far_below_the_horizon_nothing_is_refracted():
    true = np.array([-90.0, -45.0, -5.0])
    assert refracted_deg(true) == pytest.approx(true, abs=1e-12)


@given(st.floats(-90, 89.99))
def test_there_and_back_is_the_same_altitude(altitude):
    assert true_deg(refracted_deg(np.float64(altitude))) == pytest.approx(altitude, abs=1e-9)


@given(st.floats(-0.99, 89.9))
def test_the_table_inverts_the_formula(apparent):
    true = np.float64(apparent) - refraction_deg(np.float64(apparent))
    assert refracted_deg(true) == pytest.approx(apparent, abs=1e-5)
