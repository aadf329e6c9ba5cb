"""Setting circles beside worked examples of Meeus, Astronomical Algorithms, 2nd ed., and beside astropy."""

import datetime as dt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.sky.refraction import refracted_deg
from nightmode.sky.setting_circles import circle_readings, sidereal_deg


def unix(*moment):
    return dt.datetime(*moment, tzinfo=dt.UTC).timestamp()


@pytest.mark.parametrize(
    ("moment", "hours"),
    [
        ((1987, 4, 10), 13 + 10 / 60 + 46.3668 / 3600),  # example 12.a
        ((1987, 4, 10, 19, 21), 8 + 34 / 60 + 57.0896 / 3600),  # example 12.b
    ],
)
def test_sidereal_time_at_greenwich(moment, hours):
    assert sidereal_deg(unix(*moment), 0.0) / 15 == pytest.approx(hours, abs=0.02 / 3600)


def test_circles_read_what_meeus_has_of_venus_over_washington():
    """Example 13.b backwards: azimuth 68.0337 from south, altitude 15.1249, without refraction."""
    longitude = -(77 + 3 / 60 + 56 / 3600)
    found = circle_readings(
        unix(1987, 4, 10, 19, 21),
        float(refracted_deg(np.array(15.1249))),
        68.0337 + 180.0,
        38 + 55 / 60 + 17 / 3600,
        longitude,
    )
    assert found.hour_angle_deg == pytest.approx(64.352133, abs=0.002)
    assert found.ra_deg / 15 == pytest.approx(23 + 9 / 60 + 16.641 / 3600, abs=0.0002)
    assert found.dec_deg == pytest.approx(-(6 + 43 / 60 + 11.61 / 3600), abs=0.001)


@pytest.mark.parametrize(
    ("latitude", "longitude", "altitude", "azimuth", "ra", "dec"),
    [
        (52.0, 5.0, 26.62091, 196.86854, 89.12615, -9.99819),
        (-33.0, 151.0, -43.44429, 205.81642, 89.12602, -9.99819),
    ],
)
def test_a_stars_place_of_date_agrees_with_astropy(latitude, longitude, altitude, azimuth, ra, dec):
    """A star at 88.8 and -10 degrees, J2000, on 2027-03-01 at 20:00 UTC: from its alt-az to circles, against
    its true equator and equinox of date.

    Source: computed with astropy 8.0.2, AltAz without air and TETE, IERS B.
    """
    at_s = dt.datetime(2027, 3, 1, 20, tzinfo=dt.UTC).timestamp()
    seen_deg = float(refracted_deg(np.array(altitude)))
    found = circle_readings(at_s, seen_deg, azimuth, latitude, longitude)
    assert found.dec_deg == pytest.approx(dec, abs=0.003)
    assert found.ra_deg == pytest.approx(ra, abs=0.008)  # mean for apparent sidereal time: 16″


@given(st.floats(2.0, 88.0), st.floats(0.0, 359.9), st.floats(-89.0, 89.0), st.floats(-180.0, 180.0))
def test_hour_angle_and_right_ascension_make_the_sidereal_time(altitude, azimuth, latitude, longitude):
    found = circle_readings(1.8e9, altitude, azimuth, latitude, longitude)
    apart = (found.ra_deg + found.hour_angle_deg - found.sidereal_deg + 180.0) % 360.0 - 180.0
    assert apart == pytest.approx(0.0, abs=1e-6)
    assert -90.0 <= found.dec_deg <= 90.0
    west = 180.0 < azimuth < 360.0
    assert (found.hour_angle_deg > 0) == west or abs(found.hour_angle_deg) < 1e-6 or azimuth in (0.0, 180.0)
