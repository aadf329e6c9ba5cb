import datetime as dt

import ephem
import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from turns import costly

from nightmode.errors import NightmodeError
from nightmode.kinds import Kind
from nightmode.model.site import Site
from nightmode.model.target import Body, Star
from nightmode.sky.crossings import crossings
from nightmode.sky.refraction import true_deg
from nightmode.sky.track import tracks
from nightmode.sky.vantage import horizontal, stand
from nightmode.sky.window import minute_columns, night_window

ALMANAC_HORIZON_DEG = -34 / 60


def star(ra, dec, name="star"):
    return Star(name=name, kind=Kind.STAR, ra_deg=ra, dec_deg=dec)


@pytest.mark.parametrize(
    "identity",
    ["altaz-siteA-2026-12-12-20", "altaz-siteA-2027-03-28-01", "altaz-siteB-2026-12-12-12",
     "altaz-siteC-2026-12-12-22"],
)  # fmt: skip
def test_altitude_and_azimuth_agree_with_two_other_libraries(identity, sky, check, subject, utc):
    case = check(identity)
    given_, tolerance = case["inputs"], case["tolerance"]
    site = Site(
        name="S", latitude_deg=given_["lat"], longitude_deg=given_["lon"], elevation_m=given_["height_m"]
    )
    rows = case["expected"]["rows"]
    found = tracks(sky, site, [subject(row[0]) for row in rows], np.array([utc(given_["utc"] + "Z")]))
    for row, altitude, azimuth in zip(rows, found.altitude_deg[:, 0], found.azimuth_deg[:, 0], strict=True):
        _, airless, az, refracted, ephem_airless, _, ephem_refracted = row
        assert true_deg(altitude) == pytest.approx(airless, abs=tolerance["alt_deg"])
        assert true_deg(altitude) == pytest.approx(ephem_airless, abs=tolerance["alt_deg"])
        sideways = ((azimuth - az + 180) % 360 - 180) * np.cos(np.radians(airless))
        assert abs(sideways) < tolerance["az_deg_times_cos_alt"]
        if refracted != "":
            high = airless > 15
            allowed = tolerance["refracted_alt_above_15deg" if high else "refracted_alt_4_to_15deg"]
            assert altitude == pytest.approx(refracted, abs=allowed)
            assert altitude == pytest.approx(ephem_refracted, abs=allowed)


@pytest.mark.parametrize("identity", ["usno-altaz-2024-03-05", "usno-altaz-2024-03-07"])
def test_altitude_and_azimuth_agree_with_the_naval_observatory(identity, sky, check, subject, utc):
    case = check(identity)
    given_, tolerance = case["inputs"], case["tolerance"]
    # The service echoes the site rounded to four decimals.
    site = Site(name="W", latitude_deg=round(given_["lat"], 4), longitude_deg=round(given_["lon"], 4))
    moment = utc(given_["ut"] + "Z")
    stars = {row[0] for row in check("hipparcos-stars-j2000")["expected"]["rows"]}
    compared = 0
    for name, _, _, altitude, azimuth, _ in case["expected"]["rows"]:
        if name not in stars:
            continue
        found = tracks(sky, site, [subject(name)], np.array([moment]))
        assert true_deg(found.altitude_deg[0, 0]) == pytest.approx(altitude, abs=tolerance["altitude_deg"])
        sideways = (found.azimuth_deg[0, 0] - azimuth + 180) % 360 - 180
        assert abs(sideways) * np.cos(np.radians(altitude)) < tolerance["azimuth_deg"]
        compared += 1
    assert compared >= 6


def test_altitude_and_azimuth_agree_with_meeus_example_13b(sky, check):
    case = check("meeus-13b-altaz-venus")
    site = Site(name="W", latitude_deg=38 + 55 / 60 + 17 / 3600, longitude_deg=-(77 + 3 / 60 + 56 / 3600))
    moment = dt.datetime(1987, 4, 10, 19, 21, tzinfo=dt.UTC).timestamp()
    vantage = stand(sky, site, np.array([moment]))
    ra, dec = np.radians(15 * (23 + 9 / 60 + 16.641 / 3600)), np.radians(-(6 + 43 / 60 + 11.61 / 3600))
    of_date = np.array([[np.cos(dec) * np.cos(ra)], [np.cos(dec) * np.sin(ra)], [np.sin(dec)]])
    on_icrs_axes = np.einsum("jit,jt->it", sky.time(np.array([moment])).M, of_date)
    altitude, azimuth = horizontal(vantage.rotation, on_icrs_axes)
    assert altitude[0] == pytest.approx(case["expected"]["altitude_deg"], abs=case["tolerance"]["deg"])
    assert azimuth[0] == pytest.approx(
        case["expected"]["azimuth_from_north_deg"], abs=case["tolerance"]["deg"]
    )


def test_meeus_example_15a_venus_rises_and_sets_over_boston(sky, check):
    case = check("meeus-15a-rise-transit-set-venus")
    site = Site(name="Boston", latitude_deg=42 + 20 / 60, longitude_deg=-(71 + 5 / 60))
    midnight = dt.datetime(1988, 3, 20, tzinfo=dt.UTC).timestamp()
    minutes = midnight + np.arange(0, 86401, 60.0)
    venus = Body(name="Venus", kind=Kind.PLANET, body="venus")
    found = crossings(minutes, tracks(sky, site, [venus], minutes).altitude_deg)
    (rise,), (set_,) = found.time_s[found.rising] - midnight, found.time_s[~found.rising] - midnight
    allowed = case["tolerance"]["seconds_for_modern_ephemeris"]
    assert rise == pytest.approx(case["expected"]["rise_day_fraction"] * 86400, abs=allowed)
    assert set_ == pytest.approx(case["expected"]["set_day_fraction"] * 86400, abs=allowed)


def test_targets_set_when_two_other_libraries_say_so(sky, check, subject, site_a, utc):
    case = check("setting-order-siteA-2026-12-12")
    rows = case["expected"]["rows"]
    start = utc(case["inputs"]["from_utc"])
    minutes = start + np.arange(0, 86401, 60.0)
    apparent = tracks(sky, site_a, [subject(row[0]) for row in rows], minutes).altitude_deg
    allowed = case["tolerance"]["seconds"]
    for column, above in ((2, apparent), (3, true_deg(apparent) - 15)):
        found = crossings(minutes, above)
        for index, row in enumerate(rows):
            down = found.time_s[(found.row == index) & ~found.rising]
            if row[column] == "none":
                assert down.size == 0, row[0]
            else:
                assert down[0] == pytest.approx(utc(row[column]), abs=allowed), row[0]


@given(
    st.floats(0, 360), st.floats(-80, 80), st.floats(-66, 66), st.floats(-180, 180),
    st.dates(dt.date(2024, 1, 1), dt.date(2028, 12, 31)),
)  # fmt: skip
def test_any_star_sets_at_any_site_within_5_s_of_another_library(sky, ra, dec, latitude, longitude, date):
    site = Site(name="S", latitude_deg=latitude, longitude_deg=longitude)
    minutes = minute_columns(night_window(site, date))
    apparent = tracks(sky, site, [star(ra, dec)], minutes).altitude_deg
    found = crossings(minutes, apparent)
    observer = ephem.Observer()
    observer.lat, observer.lon = np.radians(latitude), np.radians(longitude)
    observer.pressure, observer.horizon = 0, np.radians(ALMANAC_HORIZON_DEG)
    body = ephem.FixedBody()
    body._ra, body._dec, body._epoch = np.radians(ra), np.radians(dec), ephem.J2000
    settings_found = found.time_s[~found.rising]
    assume(settings_found.size > 0)
    column = np.searchsorted(minutes, settings_found[0])
    # A star that grazes the horizon crosses it at no sharp instant.
    assume(abs(apparent[0, column] - apparent[0, column - 1]) > 0.06)
    observer.date = ephem.Date(dt.datetime.fromtimestamp(settings_found[0] - 3600, dt.UTC))
    other = observer.next_setting(body).datetime().replace(tzinfo=dt.UTC).timestamp()
    assert settings_found[0] == pytest.approx(other, abs=5)


@costly(2)
@given(st.lists(st.tuples(st.floats(0, 359.9), st.floats(-89.9, 89.9)), min_size=2, max_size=5))
def test_a_target_alone_has_the_track_it_has_among_others(sky, site_a, places_):
    minutes = minute_columns(night_window(site_a, dt.date(2027, 1, 9)))[::30]
    subjects = [star(ra, dec, str(index)) for index, (ra, dec) in enumerate(places_)]
    subjects.insert(1, Body(name="Moon", kind=Kind.MOON, body="moon"))
    together = tracks(sky, site_a, subjects, minutes)
    for row, one in enumerate(subjects):
        alone = tracks(sky, site_a, [one], minutes)
        assert alone.altitude_deg[0] == pytest.approx(together.altitude_deg[row], abs=1e-9)
        assert alone.azimuth_deg[0] == pytest.approx(together.azimuth_deg[row], abs=1e-7)


def test_hourly_nutation_is_as_good_as_every_minute(sky, site_c):
    minutes = minute_columns(night_window(site_c, dt.date(2026, 12, 12)))
    one = star(200.0, 61.0)
    night = tracks(sky, site_c, [one], minutes)
    for column in (0, 17, 700, 1440):
        single = tracks(sky, site_c, [one], minutes[column : column + 1])
        assert night.altitude_deg[0, column] == pytest.approx(single.altitude_deg[0, 0], abs=1e-8)


def test_azimuth_runs_from_north_through_east(sky, site_a, utc):
    moment = np.array([utc("2026-12-12T20:00:00Z")])
    polaris = tracks(sky, site_a, [star(37.954561, 89.264109)], moment)
    assert min(polaris.azimuth_deg[0, 0], 360 - polaris.azimuth_deg[0, 0]) < 2
    rising = tracks(sky, site_a, [star(101.287155, -16.716116)], moment)
    assert 90 < rising.azimuth_deg[0, 0] < 180


def test_longitudes_may_be_written_0_to_360(sky, utc):
    moment = np.array([utc("2026-12-12T22:00:00Z")])
    west = Site(name="W", latitude_deg=65, longitude_deg=-25)
    east = Site(name="E", latitude_deg=65, longitude_deg=335)
    one = [star(10.0, 41.0)]
    assert tracks(sky, west, one, moment).altitude_deg == pytest.approx(
        tracks(sky, east, one, moment).altitude_deg, abs=1e-9
    )


def test_a_body_has_its_place_on_the_axes_of_2000(sky, site_a, utc):
    moment = np.array([utc("2026-12-12T00:00:00Z")])
    found = tracks(sky, site_a, [Body(name="Saturn", kind=Kind.PLANET, body="saturn")], moment)
    saturn = ephem.Saturn(ephem.Date("2026/12/12 00:00:00"), epoch=ephem.J2000)
    path = found.bodies["saturn"]
    assert path.ra_deg[0] == pytest.approx(np.degrees(saturn.a_ra), abs=0.01)
    assert path.dec_deg[0] == pytest.approx(np.degrees(saturn.a_dec), abs=0.01)
    assert path.distance_km[0] == pytest.approx(saturn.earth_distance * 149597870.7, rel=1e-4)


def test_the_sun_is_refused_as_a_target(sky, site_a):
    with pytest.raises(NightmodeError, match="never a target"):
        tracks(sky, site_a, [Body(name="Sun", kind=Kind.PLANET, body="sun")], np.array([1.8e9]))


def test_no_targets_make_an_empty_track(sky, site_a):
    assert tracks(sky, site_a, [], np.array([1.8e9, 1.81e9])).altitude_deg.shape == (0, 2)


def test_two_thousand_targets_are_followed_at_once(sky, site_a):
    rng = np.random.default_rng(7)
    subjects = [
        star(ra, dec, str(index))
        for index, (ra, dec) in enumerate(
            zip(rng.uniform(0, 360, 2000), rng.uniform(-89, 89, 2000), strict=True)
        )
    ]
    minutes = minute_columns(night_window(site_a, dt.date(2026, 12, 12)))
    found = tracks(sky, site_a, subjects, minutes)
    assert np.isfinite(found.altitude_deg).all()
    assert ((found.azimuth_deg >= 0) & (found.azimuth_deg <= 360)).all()
