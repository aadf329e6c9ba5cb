"""The Moon's face: libration and the Sun over its ground, against DE421's own libration and Meeus."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.model.site import Site
from nightmode.sky.selene import (
    colongitude_deg,
    earth_height_deg,
    face_from,
    globe_axes,
    height_deg,
    moon_face,
    sun_height_deg,
)
from nightmode.sky.vantage import stand

ANGLES = st.floats(-180, 180)


@pytest.fixture(scope="session")
def geocentric(sky):
    def face(moment):
        time = sky.time(np.array([moment]))
        earth = sky.body("earth").at(time)
        moon, sun = (earth.observe(sky.body(name)).xyz.km for name in ("moon", "sun"))
        return face_from(moon, sun, time.tdb)

    return face


def test_the_sun_stands_over_the_ground_as_de421_has_it(sky, site_a, check, utc):
    case = check("moon-sun-height-de421")
    for moment, name, lat, lon, height in case["rows"]:
        face = moon_face(stand(sky, site_a, np.array([utc(moment)])))
        found = sun_height_deg(face, lat, lon)[0, 0]
        assert found == pytest.approx(height, abs=case["tolerance_deg"]), (moment, name)


def test_the_sun_rises_and_sets_there_when_de421_says(sky, site_a, check, utc):
    case = check("moon-sunrise-sunset-de421")
    for name, lat, lon, sunrise, sunset in case["rows"]:
        for moment, way in ((utc(sunrise), 1.0), (utc(sunset), -1.0)):
            times = moment + np.arange(-7200.0, 7201.0, 300.0)
            height = way * sun_height_deg(moon_face(stand(sky, site_a, times)), lat, lon)[0]
            found = np.interp(0.0, height, times)
            assert found == pytest.approx(moment, abs=60 * case["tolerance_min"]), name


def test_the_libration_is_that_of_the_site(sky, check, utc):
    case = check("moon-topocentric-libration-de421")
    for moment, lat, lon, in_lon, in_lat in case["rows"]:
        site = Site(name="S", latitude_deg=lat, longitude_deg=lon)
        face = moon_face(stand(sky, site, np.array([utc(moment)])))
        assert face.libration_lon_deg[0] == pytest.approx(in_lon, abs=case["tolerance_deg"])
        assert face.libration_lat_deg[0] == pytest.approx(in_lat, abs=case["tolerance_deg"])


def test_libration_agrees_with_meeus_example_53a(geocentric, check, utc):
    case = check("meeus-53a-moon-libration")
    expected, allowed = case["expected"], case["tolerance"]["deg"]
    face = geocentric(utc(case["inputs"]["td"] + "Z") - 59.2)  # TD was 59.2 s ahead of UTC
    assert face.libration_lon_deg[0] == pytest.approx(expected["total_lon_deg"], abs=allowed)
    assert face.libration_lat_deg[0] == pytest.approx(expected["total_lat_deg"], abs=allowed)
    assert face.sun_lon_deg[0] == pytest.approx(expected["subsolar_lon_deg"], abs=0.02)
    assert face.sun_lat_deg[0] == pytest.approx(expected["subsolar_lat_deg"], abs=0.02)
    assert colongitude_deg(face.sun_lon_deg)[0] == pytest.approx(expected["colongitude_deg"], abs=0.05)
    height = sun_height_deg(face, 9.7, -20.0)[0, 0]
    assert height == pytest.approx(expected["sun_altitude_at_eta_minus20_theta_9p7_deg"], abs=0.02)


def test_colongitudes_and_librations_agree_with_another_library_s_matrices(geocentric, check, utc):
    case = check("moon-libration-colongitude-computed")
    for moment, lon, lat, sun_lon, sun_lat, colongitude, *_, km in case["expected"]["rows"]:
        is_tt = moment.endswith("TT")
        face = geocentric(utc(moment.replace(" TT", "Z")) - (59.2 if is_tt else 0.0))
        allowed = case["tolerance"]
        assert face.libration_lon_deg[0] == pytest.approx(lon, abs=allowed["libration_deg"])
        assert face.libration_lat_deg[0] == pytest.approx(lat, abs=allowed["libration_deg"])
        assert face.sun_lon_deg[0] == pytest.approx(sun_lon, abs=allowed["sun_deg"])
        assert face.sun_lat_deg[0] == pytest.approx(sun_lat, abs=allowed["sun_deg"])
        assert colongitude_deg(face.sun_lon_deg)[0] == pytest.approx(
            colongitude, abs=allowed["colongitude_deg"]
        )
        assert face.distance_km[0] == pytest.approx(km, abs=allowed["distance_km"])


def test_the_middle_of_the_disc_is_seen_face_on_and_the_far_side_not_at_all(sky, site_b, utc):
    face = moon_face(stand(sky, site_b, np.array([utc("2027-01-01T12:00:00Z")])))
    lat, lon = face.libration_lat_deg[0], face.libration_lon_deg[0]
    assert earth_height_deg(face, lat, lon)[0, 0] == pytest.approx(90, abs=0.001)
    assert earth_height_deg(face, -lat, lon + 180)[0, 0] == pytest.approx(-90, abs=0.001)


@given(ANGLES, st.floats(-90, 90), ANGLES)
def test_axes_of_a_globe_are_at_right_angles_and_right_handed(ra, dec, turn):
    axes = globe_axes(ra, dec, turn)[:, :, 0]
    assert axes @ axes.T == pytest.approx(np.eye(3), abs=1e-12)
    assert np.linalg.det(axes) == pytest.approx(1)


@given(st.floats(-90, 90), ANGLES, st.floats(-90, 90), ANGLES)
def test_a_height_over_a_globe_is_mutual(lat, lon, over_lat, over_lon):
    one = height_deg(lat, lon, over_lat, over_lon)
    other = height_deg(over_lat, over_lon, lat, lon)
    assert one == pytest.approx(other, abs=1e-5)
