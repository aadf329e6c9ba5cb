import datetime as dt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nightmode.errors import NightmodeError
from nightmode.model.site import Site
from nightmode.sky.dark import sun_altitude, twilights
from nightmode.sky.window import coming_night, has_summer_of_its_half, minute_columns, night_of, night_window

ZONES = (
    "UTC", "Europe/Vienna", "Australia/Sydney", "Atlantic/Reykjavik", "Asia/Shanghai", "America/Anchorage",
    "Pacific/Kiritimati", "Asia/Kathmandu", "Pacific/Chatham", "Europe/Dublin", "Australia/Lord_Howe",
)  # fmt: skip
DATES = st.dates(dt.date(1901, 1, 2), dt.date(2049, 12, 30))


def local(site, unix):
    return dt.datetime.fromtimestamp(unix, site.zone)


def test_a_night_runs_from_local_noon_to_local_noon(site_a, utc):
    assert night_window(site_a, dt.date(2026, 12, 12)) == (
        utc("2026-12-12T11:00:00Z"),
        utc("2026-12-13T11:00:00Z"),
    )


@pytest.mark.parametrize(
    ("zone", "site", "change"), [("vienna", "site_a", slice(2, 4)), ("sydney", "site_b", slice(2, 4))]
)
def test_the_night_of_a_clock_change_has_23_or_25_hours(zone, site, change, request, check, utc):
    place = request.getfixturevalue(site)
    transitions = check("timezone-transitions-2026-2027")["expected"][zone]
    for index in range(change.start, change.stop):
        moment = utc(transitions[index][0])
        gained = transitions[index][1] - transitions[index - 1][1]
        start, end = night_window(place, night_of(place, moment))
        assert start < moment < end
        assert (end - start) / 3600 == 24 - gained


def test_columns_hold_every_whole_minute_with_both_ends(site_a):
    window = night_window(site_a, dt.date(2027, 3, 27))
    columns = minute_columns(window)
    assert (columns[0], columns[-1], len(columns)) == (*window, 23 * 60 + 1)
    assert set(np.diff(columns)) == {60.0}


@given(DATES, st.sampled_from(ZONES), st.floats(-180, 360))
@settings(max_examples=100)
def test_an_instant_belongs_to_the_night_whose_window_holds_it(date, zone, longitude):
    site = Site(name="S", latitude_deg=40, longitude_deg=longitude, timezone=zone)
    start, end = night_window(site, date)
    for moment in (start, (start + end) / 2, end - 1):
        night = night_of(site, moment)
        first, last = night_window(site, night)
        assert first <= moment < last
    assert 22 * 3600 <= end - start <= 26 * 3600


@given(DATES, st.sampled_from(ZONES), st.floats(-180, 360))
@settings(max_examples=100)
def test_the_evening_bears_the_date_of_the_night(date, zone, longitude):
    site = Site(name="S", latitude_deg=0, longitude_deg=longitude, timezone=zone)
    start, _ = night_window(site, date)
    noon_to_evening_s = 7 * 3600
    assert local(site, start + noon_to_evening_s).date() - date in (
        dt.timedelta(0),
        dt.timedelta(days=1),  # only where a clock that runs hours off the Sun shows midnight at that moment
    )


@pytest.mark.parametrize("longitude", [-179.0, -120.0, -75.0, -25.0, 0.0, 30.0, 75.0, 149.0, 179.0, 285.0])
def test_a_site_given_without_its_zone_still_gets_its_whole_night(sky, longitude):
    site = Site(name="S", latitude_deg=35, longitude_deg=longitude)
    window = night_window(site, dt.date(2026, 12, 12))
    minutes = minute_columns(window)
    night = twilights(minutes, sun_altitude(sky, site, minutes))
    assert window[0] < night.sunset_s < night.astronomical_dusk_s
    assert night.astronomical_dusk_s < night.astronomical_dawn_s < night.sunrise_s < window[1]
    assert local(site, window[0] + 6 * 3600).date() == dt.date(2026, 12, 12)


@pytest.mark.parametrize("year", [1, 1899, 2051, 9999])
def test_a_night_outside_the_ephemeris_is_refused_with_its_years(site_a, year):
    with pytest.raises(NightmodeError, match="1900 to 2050"):
        night_window(site_a, dt.date(year, 12, 31))


def test_an_instant_outside_the_ephemeris_is_refused_with_its_years(site_a):
    with pytest.raises(NightmodeError, match="1900 to 2050"):
        night_of(site_a, 1e12)


@pytest.mark.parametrize(
    ("moment", "night"),
    [
        ("2026-12-12T16:00:00Z", "2026-12-12"),  # 17:00 in Vienna
        ("2026-12-13T02:00:00Z", "2026-12-12"),  # 03:00, still dark
        ("2026-12-13T08:00:00Z", "2026-12-13"),  # 09:00, the Sun is up
        ("2026-12-13T10:59:00Z", "2026-12-13"),
        ("2026-12-13T11:01:00Z", "2026-12-13"),
    ],
)
def test_from_sunrise_on_the_coming_night_is_the_next(sky, site_a, utc, moment, night):
    assert coming_night(sky, site_a, utc(moment)).isoformat() == night


@pytest.mark.parametrize(
    ("moment", "night"),
    [
        ("2026-06-20T20:00:00Z", "2026-06-20"),  # polar day, evening
        ("2026-06-21T08:00:00Z", "2026-06-21"),  # polar day, morning
        ("2026-12-21T08:00:00Z", "2026-12-20"),  # polar night, morning: dark still
        ("2026-12-21T12:00:00Z", "2026-12-21"),
    ],
)
def test_the_coming_night_where_the_sun_neither_rises_nor_sets(sky, utc, moment, night):
    site = Site(name="S", latitude_deg=78.0, longitude_deg=15.0, timezone="Europe/Oslo")
    assert coming_night(sky, site, utc(moment)).isoformat() == night


@pytest.mark.parametrize(
    ("zone", "latitude", "fits"),
    [
        ("Europe/Vienna", 48.0, True),
        ("Europe/Vienna", -48.0, False),
        ("Europe/Dublin", 53.0, True),  # whose summer is kept as its standard time
        ("Australia/Adelaide", -35.0, True),
        ("Australia/Adelaide", 35.0, False),
        ("America/Santiago", -33.0, True),
        ("Asia/Tokyo", -35.0, True),  # no summer time, so nothing to tell by
        ("Etc/UTC", -35.0, True),
    ],
)
def test_a_zone_with_summer_time_tells_the_half_of_the_earth(zone, latitude, fits):
    """Summer time runs over July in the north and over January in the south (the tz database)."""
    site = Site(name="S", latitude_deg=latitude, longitude_deg=0, timezone=zone)
    assert has_summer_of_its_half(site, 2027) is fits
