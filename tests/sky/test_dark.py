import datetime as dt

import ephem
import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from nightmode.model.site import Site
from nightmode.sky.dark import SUNSET_DEG, sun_altitude, twilights
from nightmode.sky.window import minute_columns, night_window

NIGHTS = (
    ("night-siteA-2026-12-12", "site_a", dt.date(2026, 12, 12)),
    ("night-siteB-2026-12-12", "site_b", dt.date(2026, 12, 12)),
    ("night-siteB-2027-04-03", "site_b", dt.date(2027, 4, 3)),
    ("night-siteC-2027-06-20", "site_c", dt.date(2027, 6, 20)),
    ("night-siteC-2027-08-10", "site_c", dt.date(2027, 8, 10)),
)
EVENTS = {
    "sun_rise_set": ("sunset_s", "sunrise_s"),
    "civil": ("civil_dusk_s", "civil_dawn_s"),
    "nautical": ("nautical_dusk_s", "nautical_dawn_s"),
    "astronomical": ("astronomical_dusk_s", "astronomical_dawn_s"),
}


def night_at(sky, site, date):
    minutes = minute_columns(night_window(site, date))
    return minutes, twilights(minutes, sun_altitude(sky, site, minutes))


@pytest.mark.parametrize(("identity", "site", "date"), NIGHTS)
def test_dusk_and_dawn_agree_with_two_other_libraries(identity, site, date, sky, check, request, utc):
    case = check(identity)
    _, night = night_at(sky, request.getfixturevalue(site), date)
    for event, names in EVENTS.items():
        allowed = case["tolerance"]["seconds"]
        if event == "sun_rise_set" and site == "site_c":
            allowed = case["tolerance"]["seconds_sun_rise_set_at_65N"]
        expected = {
            names[0 if way == "setting" else 1]: utc(moment) for moment, way in case["expected"][event]
        }
        for name in names:
            found = getattr(night, name)
            if name in expected:
                assert found == pytest.approx(expected[name], abs=allowed), name
            else:
                assert found is None, name
    assert night.sun_lowest_deg == pytest.approx(case["expected"]["sun_lowest_alt_deg"], abs=0.002)
    assert night.darkest_s == pytest.approx(utc(case["expected"]["sun_lowest_utc"]), abs=60)


def test_sunset_and_twilight_agree_with_the_naval_observatory_to_the_minute(sky, check, washington):
    compared = 0
    for row in check("usno-washington-2024-sun-moon")["expected"]["rows"][::3]:
        day = dt.date.fromisoformat(row[0])
        _, evening = night_at(sky, washington, day)
        _, morning = night_at(sky, washington, day - dt.timedelta(days=1))
        events = (
            (row[4], morning.civil_dawn_s), (row[5], morning.sunrise_s), (row[7], evening.sunset_s),
            (row[8], evening.civil_dusk_s),
        )  # fmt: skip
        for text, found in events:
            clock = dt.datetime.combine(day, dt.time.fromisoformat(text), tzinfo=washington.zone)
            assert found == pytest.approx(clock.timestamp(), abs=31), (row[0], text)
            compared += 1
    assert compared > 90


@pytest.mark.parametrize(
    ("site", "date", "level"),
    [
        ("site_a", dt.date(2026, 12, 12), -18),
        ("site_c", dt.date(2027, 8, 10), -6),
        ("site_c", dt.date(2027, 6, 20), None),
    ],
)
def test_dark_hours_say_which_darkness_they_are(site, date, level, sky, request):
    _, night = night_at(sky, request.getfixturevalue(site), date)
    assert night.sun_below_deg == level
    if level is None:
        assert night.dark_s is None
    else:
        between = {-18: "astronomical", -12: "nautical", -6: "civil"}[level]
        expected = (getattr(night, f"{between}_dusk_s"), getattr(night, f"{between}_dawn_s"))
        assert night.dark_s == expected


def test_nautical_darkness_is_taken_where_there_is_no_astronomical(sky):
    site = Site(name="S", latitude_deg=52, longitude_deg=5, timezone="Europe/Amsterdam")
    _, night = night_at(sky, site, dt.date(2027, 6, 21))
    assert night.astronomical_dusk_s is None
    assert night.sun_below_deg == -12
    assert night.dark_s == (night.nautical_dusk_s, night.nautical_dawn_s)


def test_in_the_polar_night_all_of_it_may_be_twilight_or_dark(sky):
    site = Site(name="S", latitude_deg=88, longitude_deg=20, timezone="Europe/Oslo")
    minutes, night = night_at(sky, site, dt.date(2026, 12, 21))
    assert night.sunset_s is None
    assert night.astronomical_dusk_s is None
    assert night.dark_s == (minutes[0], minutes[-1])
    assert night.sun_below_deg == -18


def test_under_the_midnight_sun_nothing_is_dark(sky):
    site = Site(name="S", latitude_deg=78, longitude_deg=16, timezone="Arctic/Longyearbyen")
    _, night = night_at(sky, site, dt.date(2027, 6, 21))
    assert (night.sunset_s, night.sunrise_s, night.dark_s, night.sun_below_deg) == (None, None, None, None)
    assert night.sun_lowest_deg > 0


@given(
    st.floats(-89, 89), st.floats(-180, 180), st.dates(dt.date(1950, 1, 1), dt.date(2049, 1, 1)),
)  # fmt: skip
def test_the_twilights_come_in_their_order(sky, latitude, longitude, date):
    site = Site(name="S", latitude_deg=latitude, longitude_deg=longitude)
    minutes, night = night_at(sky, site, date)
    evening = [night.sunset_s, night.civil_dusk_s, night.nautical_dusk_s, night.astronomical_dusk_s]
    morning = [night.astronomical_dawn_s, night.nautical_dawn_s, night.civil_dawn_s, night.sunrise_s]
    happened = [moment for moment in (*evening, night.darkest_s, *morning) if moment is not None]
    assert happened == sorted(happened)
    assert minutes[0] <= night.darkest_s <= minutes[-1]
    if night.dark_s:
        assert minutes[0] <= night.dark_s[0] <= night.darkest_s <= night.dark_s[1] <= minutes[-1]
        assert night.sun_lowest_deg <= night.sun_below_deg + 1e-3
    else:
        assert night.sun_lowest_deg > -6 - 1e-3


@given(
    st.floats(-60, 60), st.floats(-180, 180), st.dates(dt.date(2024, 1, 1), dt.date(2028, 12, 31)),
)  # fmt: skip
@example(60.0, 52.0, dt.date(2026, 12, 21))  # UTC's noon here is half past three by the Sun, after sunset
def test_sunset_anywhere_is_within_5_s_of_another_library(sky, latitude, longitude, date):
    site = Site(name="S", latitude_deg=latitude, longitude_deg=longitude)
    minutes, night = night_at(sky, site, date)
    observer = ephem.Observer()
    observer.lat, observer.lon = np.radians(latitude), np.radians(longitude)
    observer.pressure, observer.horizon = 0, np.radians(SUNSET_DEG)
    observer.date = ephem.Date(dt.datetime.fromtimestamp(minutes[0], dt.UTC))
    other = observer.next_setting(ephem.Sun(), use_center=True).datetime().replace(tzinfo=dt.UTC)
    assert night.sunset_s == pytest.approx(other.timestamp(), abs=5)
