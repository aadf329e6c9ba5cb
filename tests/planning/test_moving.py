"""Comets and minor planets proposed for a plan: orbits are invented."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from nightmode.model.elements import Elements
from nightmode.planning.moving import brightest_mag, sun_distance_au
from nightmode.sky.orbiting import heliocentric_au

JD = 2461380.5

orbits = st.builds(
    Elements,
    name=st.just("one"),
    is_comet=st.booleans(),
    perihelion_au=st.floats(0.1, 6),
    eccentricity=st.floats(0, 1.05),
    inclination_deg=st.floats(0, 180),
    node_deg=st.floats(0, 360),
    argument_deg=st.floats(0, 360),
    perihelion_jd=st.floats(JD - 3000, JD + 3000),
    epoch_jd=st.just(JD),
    magnitude_at_1_au=st.floats(3, 12),
)


@given(orbits)
def test_the_distance_from_the_sun_is_that_of_the_orbit_or_a_little_less(one):
    told = float(sun_distance_au([one], JD)[0])
    real = float(np.linalg.norm(heliocentric_au(one, np.array([JD]))))  # Skyfield's two-body motion
    assert told <= real * 1.001
    assert told >= real * 0.6 or one.eccentricity >= 0.99


@given(orbits, st.floats(0, 2 * np.pi))
def test_no_body_is_brighter_than_the_brightest_it_may_be(one, where):
    place = heliocentric_au(one, np.array([JD]))[:, 0]
    earth = np.array([np.cos(where), np.sin(where) * np.cos(0.409), np.sin(where) * np.sin(0.409)])
    sun_au, distance_au = np.linalg.norm(place), max(np.linalg.norm(place - earth), 0.05)
    law = 2.5 * one.slope if one.is_comet else 5.0
    magnitude = one.magnitude_at_1_au + 5 * np.log10(distance_au) + law * np.log10(sun_au)
    assert magnitude >= float(brightest_mag([one], JD)[0]) - 1e-6
