"""The Sun over the Moon's ground, against another ephemeris."""

import datetime as dt
import math

import ephem
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.sky.moonlit import subsolar_deg, sun_over_feature_deg

MOMENTS = st.datetimes(dt.datetime(1950, 1, 1), dt.datetime(2049, 12, 31))


def unix(moment):
    return moment.replace(tzinfo=dt.UTC).timestamp()


@given(MOMENTS)
def test_the_subsolar_point_is_where_ephem_has_it(moment):
    moon = ephem.Moon(moment)
    longitude, latitude = subsolar_deg(unix(moment))
    apart = (float(longitude) + math.degrees(moon.colong) - 90.0 + 180.0) % 360.0 - 180.0
    assert abs(apart) < 0.4
    assert float(latitude) == pytest.approx(math.degrees(moon.subsolar_lat), abs=0.2)


def test_the_middle_of_the_disc_sees_the_sun_rise_at_first_quarter():
    # First quarter 2026-12-17 05:43 UTC (any almanac); libration moves the terminator by some degrees.
    quarter = unix(dt.datetime(2026, 12, 17, 5, 43))
    assert abs(float(sun_over_feature_deg(0.0, 0.0, quarter))) < 8.0
    assert sun_over_feature_deg(60.0, 0.0, quarter) > 45.0
    assert sun_over_feature_deg(-60.0, 0.0, quarter) < -45.0
