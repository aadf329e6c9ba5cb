"""Orbits of double stars against Meeus, the catalogue of orbits and each other; the clock of the drift."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.kinds import Kind
from nightmode.model.target import Double, Orbit
from nightmode.records import field_names, replace
from nightmode.sky.binary import companion_place, drift_clock, of_year, precession_of_angle_deg


def orbit_of(elements):
    return Orbit(**dict(zip(field_names(Orbit), elements, strict=True)))


def test_an_orbit_gives_angle_and_separation_of_meeus_example_57a(check):
    case = check("meeus-57a-eta-coronae")
    separation, angle = companion_place(orbit_of(case["elements"]), case["year"])
    assert angle == pytest.approx(case["position_angle_deg"], abs=case["tolerance"]["deg"])
    assert separation == pytest.approx(case["separation_arcsec"], abs=case["tolerance"]["arcsec"])


def test_fast_pairs_stand_where_the_papers_orbits_put_them(check):
    case = check("binaries-2027")
    allowed = case["tolerance"]
    for name, *elements, angle_2027, separation_2027, separation_2035 in case["rows"]:
        separation, angle = companion_place(orbit_of(elements), 2027.0)
        assert angle == pytest.approx(angle_2027, abs=allowed["pa"]), name
        assert separation == pytest.approx(separation_2027, abs=allowed["sep"]), name
        later, _ = companion_place(orbit_of(elements), 2035.0)
        assert later == pytest.approx(separation_2035, abs=allowed["sep"]), name


ELEMENTS = st.tuples(
    st.floats(1, 5000), st.floats(1800, 2100), st.floats(0, 0.97), st.floats(0.1, 20), st.floats(0, 180),
    st.floats(0, 360), st.floats(0, 360),
)  # fmt: skip


@given(ELEMENTS, st.floats(1900, 2100))
def test_a_companion_comes_back_after_a_period_and_never_leaves_its_ellipse(elements, year):
    orbit = orbit_of(elements)
    one, other = companion_place(orbit, year), companion_place(orbit, year + orbit.period_years)
    assert one[0] == pytest.approx(other[0], abs=1e-3 * orbit.axis_arcsec)
    assert 0 <= one[1] < 360
    assert one[0] <= orbit.axis_arcsec * (1 + orbit.eccentricity) * (1 + 1e-9)


def test_a_pair_without_an_orbit_stays_as_it_was_measured(check):
    measured = {"separation_arcsec": 34.6, "position_angle_deg": 54.0, "epoch_year": 2016.0}
    double = Double(name="D", kind=Kind.DOUBLE, ra_deg=0, dec_deg=0, **measured)
    assert of_year(double, 2040.0) == double
    moving = replace(double, orbit=orbit_of(check("meeus-57a-eta-coronae")["elements"]))
    assert of_year(moving, 1980.0).separation_arcsec == pytest.approx(0.411, abs=0.001)
    assert of_year(moving, 1980.0).epoch_year == 1980.0


def test_the_companion_s_hour_from_the_drift():
    # Common practice, no published source: stars leave the field at its west; put that at 3 o'clock.
    assert drift_clock(270, "turned") == pytest.approx(3)
    assert drift_clock(270, "mirrored") == pytest.approx(3)
    assert drift_clock(90, "upright") == drift_clock(90, "mirrored") == pytest.approx(9)
    # North is up in an upright field with west to the right, and down in a mirrored one.
    assert drift_clock(0, "upright") % 12 == 0
    assert drift_clock(0, "mirrored") == pytest.approx(6)
    assert drift_clock(49, "turned") == pytest.approx(10 + 22 / 60)
    assert drift_clock(49, "mirrored") == pytest.approx(7 + 38 / 60)


@given(st.floats(0, 359.99), st.floats(0, 359), st.booleans())
def test_the_hour_is_that_of_a_field_drawn_point_by_point(angle, tilt, is_mirrored):
    """Draw north, west and the companion as an eyepiece shows them, at any tilt, and read the clock off."""

    def seen(position_angle):
        # Angles on the paper, counter-clockwise from up; mirrored fields run the other way round.
        return (-position_angle if is_mirrored else position_angle) + tilt

    clockwise_from_west = seen(270) - seen(angle)
    expected = (3 + clockwise_from_west / 30) % 12
    found = drift_clock(angle, "mirrored" if is_mirrored else "upright")
    assert (found - expected + 6) % 12 - 6 == pytest.approx(0, abs=1e-9)


def test_a_pair_by_the_pole_turns_with_the_pole():
    # Polaris: right ascension 38, declination 89.26 degrees; from 2000 to 2027, by the rate given.
    assert precession_of_angle_deg(37.95, 89.264, 27) == pytest.approx(7.2, abs=0.2)
    assert abs(precession_of_angle_deg(101.3, -16.7, 27)) < 0.2
    assert np.isfinite(precession_of_angle_deg(0, 90, 27))
