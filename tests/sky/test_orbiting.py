"""Comets and minor planets against ephem's own propagation of the same elements (ephem 4, by E. C. Downey's
libastro), and the H, G system against the Minor Planet Center's definition."""

import math

import ephem
import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from turns import costly

from nightmode.model.elements import Elements
from nightmode.model.site import Site
from nightmode.sky.kernel import open_sky
from nightmode.sky.orbiting import heliocentric_au, magnitude, motion_arcsec_per_h, orbit_path
from nightmode.sky.vantage import stand

SKY = open_sky()
PLACES = (("north", 46.0, 8.0, 300.0), ("south", -33.0, 18.5, 50.0))
START_S = 1_800_000_000.0  # 2027-01-15 08:00 UTC


def orbit(eccentricity, q=1.1, days=30.0, angles=(45.0, 100.0, 200.0), is_comet=True):
    inclination, node, argument = angles
    perihelion_jd = START_S / 86400 + 2440587.5 + days
    return Elements(
        name="x",
        is_comet=is_comet,
        perihelion_au=q,
        eccentricity=eccentricity,
        inclination_deg=inclination,
        node_deg=node,
        argument_deg=argument,
        perihelion_jd=perihelion_jd,
        epoch_jd=perihelion_jd,
        magnitude_at_1_au=6.0,
        slope=4.0 if is_comet else 0.15,
    )


def theirs(elements, site, unix_s):
    perihelion = ephem.Date(elements.perihelion_jd - 2415020.0)
    e = elements.eccentricity
    if e < 1.0:
        body = ephem.EllipticalBody()
        body._a, body._M, body._epoch_M = elements.perihelion_au / (1.0 - e), 0.0, perihelion
        body._H, body._G = elements.magnitude_at_1_au, elements.slope
        body._size = 0
    else:
        body = ephem.HyperbolicBody()
        body._q, body._epoch_p = elements.perihelion_au, perihelion
        body._g, body._k = elements.magnitude_at_1_au, elements.slope
    body._e, body._epoch = e, ephem.J2000
    body._inc, body._Om, body._om = elements.inclination_deg, elements.node_deg, elements.argument_deg
    observer = ephem.Observer()
    observer.lat, observer.lon = str(site.latitude_deg), str(site.longitude_deg)
    observer.elevation, observer.pressure = site.elevation_m, 0
    observer.date = ephem.Date(unix_s / 86400 + 2440587.5 - 2415020.0)
    body.compute(observer)
    return body


def separation_arcmin(direction, body):
    ra, dec = math.atan2(direction[1], direction[0]), math.asin(direction[2])
    return math.degrees(ephem.separation((ra, dec), (float(body.a_ra), float(body.a_dec)))) * 60


@costly(2)
@given(
    st.sampled_from(PLACES),
    st.one_of(st.floats(0.0, 0.97), st.floats(1.001, 1.2)),
    st.floats(0.4, 3.0),
    st.floats(-150.0, 150.0),
    st.tuples(st.floats(1.0, 170.0), st.floats(0.0, 359.0), st.floats(0.0, 359.0)),
)
def test_places_and_distances_agree_with_another_library(place, eccentricity, q, days, angles):
    name, latitude, longitude, elevation = place
    site = Site(name=name, latitude_deg=latitude, longitude_deg=longitude, elevation_m=elevation)
    elements = orbit(eccentricity, q, days, angles)
    time_s = START_S + np.arange(0.0, 12 * 3600.0, 1800.0)
    path = orbit_path(stand(SKY, site, time_s), elements)
    for column in (0, 11, 23):
        body = theirs(elements, site, float(time_s[column]))
        assume(body.earth_distance > 0.1)  # nearer, what the libraries know of the Earth itself shows
        # What the libraries know of the Earth's place tells the more the nearer. Light's own way makes 0.3'.
        off = separation_arcmin(path.direction[:, column], body)
        assert off < 0.05 + 0.2 / float(body.earth_distance)
        assert path.distance_au[column] == pytest.approx(body.earth_distance, abs=2e-4)
        assert path.sun_distance_au[column] == pytest.approx(body.sun_distance, abs=2e-4)


def test_at_perihelion_a_body_stands_at_its_perihelion_distance():
    elements = orbit(1.0)
    place = heliocentric_au(elements, np.array([elements.perihelion_jd]))
    assert np.linalg.norm(place) == pytest.approx(1.1, rel=1e-12)


def test_a_circle_of_one_au_takes_a_year():
    """Kepler's third law with Gauss' constant: 365.2568983 days (Gaussian year)."""
    elements = orbit(0.0, q=1.0)
    there, back = (
        heliocentric_au(elements, np.array([elements.perihelion_jd + days])) for days in (0, 365.2568983)
    )
    assert back == pytest.approx(there, abs=1e-7)


def test_a_comets_magnitude_follows_the_usual_law():
    # H + 5 log10(2) + 10 log10(3) with H 6 and K 4, by hand.
    found = magnitude(orbit(0.9), np.array([2.0]), np.array([3.0]), np.array([1.0]))
    assert found == pytest.approx(6.0 + 1.50515 + 4.77121, abs=1e-4)


def test_a_minor_planet_at_opposition_has_no_phase_to_lose():
    # H + 5 log10(r delta) at phase angle 0 (Bowell et al. 1989), by hand.
    found = magnitude(orbit(0.1, is_comet=False), np.array([1.5]), np.array([2.5]), np.array([1.0]))
    assert found == pytest.approx(6.0 + 5 * math.log10(1.5 * 2.5), abs=1e-6)


def test_a_minor_planets_phase_agrees_with_another_library():
    site = Site(name="x", latitude_deg=46.0, longitude_deg=8.0)
    elements = orbit(0.1, q=2.5, days=-300.0, angles=(10.0, 80.0, 70.0), is_comet=False)
    vantage = stand(SKY, site, np.array([START_S, START_S + 60]))
    path = orbit_path(vantage, elements)
    sun_site_au = np.linalg.norm(vantage.see("sun").xyz.au, axis=0)
    found = magnitude(elements, path.distance_au, path.sun_distance_au, sun_site_au)
    assert found[0] == pytest.approx(theirs(elements, site, START_S).mag, abs=0.02)


def test_motion_is_that_of_the_directions():
    site = Site(name="x", latitude_deg=46.0, longitude_deg=8.0)
    time_s = START_S + np.array([0.0, 3600.0])
    path = orbit_path(stand(SKY, site, time_s), orbit(0.9))
    before, after = (theirs(orbit(0.9), site, float(moment)) for moment in time_s)
    moved = math.degrees(ephem.separation((before.a_ra, before.a_dec), (after.a_ra, after.a_dec))) * 3600
    assert motion_arcsec_per_h(path, time_s) == pytest.approx(moved, abs=1.0)
