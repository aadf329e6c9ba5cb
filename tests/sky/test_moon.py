import datetime as dt

import ephem
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.model.site import Site
from nightmode.sky.moon import illuminated, moon_night, phase_angle
from nightmode.sky.window import minute_columns, night_window


def moon_at(sky, site, date):
    return moon_night(sky, site, minute_columns(night_window(site, date)))


@pytest.mark.parametrize(
    ("identity", "site", "date"),
    [
        ("night-siteA-2026-12-12", "site_a", dt.date(2026, 12, 12)),
        ("night-siteB-2026-12-12", "site_b", dt.date(2026, 12, 12)),
        ("night-siteB-2027-04-03", "site_b", dt.date(2027, 4, 3)),
        ("night-siteC-2027-06-20", "site_c", dt.date(2027, 6, 20)),
        ("night-siteC-2027-08-10", "site_c", dt.date(2027, 8, 10)),
    ],
)
def test_moonrise_and_moonset_agree_with_two_other_libraries(identity, site, date, sky, check, request, utc):
    case = check(identity)
    moon = moon_at(sky, request.getfixturevalue(site), date)
    expected = case["expected"]["moon_rise_set"]
    rises = [utc(moment) for moment, way in expected if way == "rising"]
    sets = [utc(moment) for moment, way in expected if way == "setting"]
    assert moon.rises_s == pytest.approx(rises, abs=case["tolerance"]["seconds"])
    assert moon.sets_s == pytest.approx(sets, abs=case["tolerance"]["seconds"])


def test_moonrise_and_moonset_agree_with_the_naval_observatory_to_the_minute(sky, check, washington):
    compared = 0
    for row in check("usno-washington-2024-sun-moon")["expected"]["rows"][::2]:
        day = dt.date.fromisoformat(row[0])
        midnight = dt.datetime.combine(day, dt.time(), tzinfo=washington.zone).timestamp()
        moon = moon_night(sky, washington, midnight + np.arange(0, 86401, 60.0))
        for text, that_day in ((row[1], moon.rises_s), (row[3], moon.sets_s)):
            if text == "":
                assert that_day == (), row[0]
                continue
            clock = dt.datetime.combine(day, dt.time.fromisoformat(text), tzinfo=washington.zone)
            assert that_day == pytest.approx([clock.timestamp()], abs=31), row[0]
            compared += 1
    assert compared > 60


def test_the_lit_fraction_agrees_with_the_naval_observatory(sky, check, washington):
    for row in check("usno-washington-2024-sun-moon")["expected"]["rows"]:
        noon = dt.datetime.combine(dt.date.fromisoformat(row[0]), dt.time(12), tzinfo=washington.zone)
        lit = moon_night(sky, washington, np.array([noon.timestamp()])).illuminated
        # The service does not say for which moment of the day it gives its whole percent: 14 % in a day.
        assert lit * 100 == pytest.approx(row[9], abs=7.5)


def test_the_lit_part_of_the_moon_agrees_with_meeus_example_48a(check):
    case = check("meeus-48a-moon-illuminated-fraction")
    given_, expected = case["inputs"], case["expected"]

    def vector(body):
        ra, dec = np.radians(given_[f"{body}_ra_deg"]), np.radians(given_[f"{body}_dec_deg"])
        direction = np.array([np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)])
        return (direction * given_[f"{body}_km"])[:, None]

    angle = phase_angle(vector("moon"), vector("sun"))[0]
    assert angle == pytest.approx(expected["phase_angle_deg"], abs=case["tolerance"]["phase_angle_deg"])
    assert illuminated(angle) == pytest.approx(
        expected["illuminated_fraction"], abs=case["tolerance"]["fraction"]
    )


@given(st.floats(1.6e9, 2.2e9))
def test_a_waxing_moon_is_on_its_way_to_full(sky, moment):
    site = Site(name="S", latitude_deg=50, longitude_deg=10)
    moon = moon_night(sky, site, np.array([moment]))
    date = ephem.Date(dt.datetime.fromtimestamp(moment, dt.UTC).replace(tzinfo=None))
    assert moon.waxing == (ephem.next_full_moon(date) < ephem.next_new_moon(date))
    assert 0 <= moon.illuminated <= 1
    assert 0 <= moon.phase_angle_deg[0] <= 180
    assert 356000 - 6400 < moon.distance_km[0] < 407000 + 6400


@given(st.floats(-60, 60), st.floats(-180, 180), st.dates(dt.date(2024, 1, 1), dt.date(2028, 12, 31)))
def test_moonset_anywhere_is_within_5_s_of_another_library(sky, latitude, longitude, date):
    site = Site(name="S", latitude_deg=latitude, longitude_deg=longitude)
    moon = moon_at(sky, site, date)
    observer = ephem.Observer()
    observer.lat, observer.lon = np.radians(latitude), np.radians(longitude)
    observer.pressure, observer.horizon = 0, "-0:34"
    for moment in moon.sets_s:
        observer.date = ephem.Date(dt.datetime.fromtimestamp(moment - 3600, dt.UTC))
        other = observer.next_setting(ephem.Moon()).datetime().replace(tzinfo=dt.UTC)
        assert moment == pytest.approx(other.timestamp(), abs=5)


def test_the_moon_s_altitude_is_apparent_and_its_place_topocentric(sky, site_a, check, utc):
    case = check("altaz-siteA-2027-03-28-01")
    row = next(row for row in case["expected"]["rows"] if row[0] == "Moon")
    moon = moon_night(sky, site_a, np.array([utc("2027-03-28T01:30:00Z")]))
    assert moon.altitude_deg[0] == pytest.approx(row[3], abs=case["tolerance"]["refracted_alt_4_to_15deg"])
    observer = ephem.Observer()
    observer.lat, observer.lon, observer.elevation = "47", "11", 900
    observer.pressure, observer.date, observer.epoch = 0, "2027/3/28 01:30:00", ephem.J2000
    other = ephem.Moon(observer)
    # ephem's ra and dec are topocentric and of date; a_ra is geocentric: compare through the parallax.
    geocentric = np.degrees([other.a_ra, other.a_dec])
    shift = np.hypot(
        (moon.ra_deg[0] - geocentric[0]) * np.cos(np.radians(geocentric[1])), moon.dec_deg[0] - geocentric[1]
    )
    horizontal_parallax_deg = np.degrees(np.arcsin(6378.137 / moon.distance_km[0]))
    expected = horizontal_parallax_deg * np.cos(np.radians(row[1]))
    assert shift == pytest.approx(expected, abs=0.03)
