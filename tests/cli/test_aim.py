"""`check --at --json` tells where targets are among the stars, held against a reference library."""

import json
import math

import ephem
import pytest

PLAN = """
title = "Try"
night = 2026-11-08
[site]
name = "Hill"
latitude_deg = 46.0
longitude_deg = 8.0
timezone = "Europe/Zurich"
sky_brightness = {sky}
[telescope]
name = "Tube"
aperture_mm = 200.0
focal_length_mm = 1200.0
obstruction_mm = 50.0
[[eyepiece]]
name = "25 mm"
focal_length_mm = 25.0
[[finder]]
name = "Circles"
kind = "bullseye"
rings_deg = [0.5, 2, 4]
[[finder]]
name = "6x30"
kind = "optical"
magnification = 6
aperture_mm = 30
field_deg = 6.5
{targets}
"""
NAMES = ("M 31", "M 57", "M 39", "M 13", "NGC 7789", "M 77", "Saturn", "Moon")
#: Hipparcos (ESA 1997, I/239), J2000.0, degrees and V.
PUBLISHED = {
    "Mirach": (17.43301, 35.62056, 2.07),
    "Vega": (279.23473, 38.78369, 0.03),
    "Deneb": (310.35798, 45.28034, 1.25),
    "Caph": (2.29452, 59.14978, 2.28),
    "ζ Her": (250.3215, 31.6027, 2.81),
    "Menkar": (45.56988, 4.08974, 2.54),
}
AT = "2026-11-08T19:00:00Z"


@pytest.fixture
def checked(command, tmp_path):
    def run(at=AT, sky=21.3, names=NAMES):
        path = tmp_path / "plan.toml"
        targets = "\n".join(f'[[target]]\nname = "{name}"' for name in names)
        path.write_text(PLAN.format(sky=sky, targets=targets))
        return command.json("check", path, "--at", at)

    return run


def seen_by_ephem(ra_deg, dec_deg):
    """Return altitude and azimuth in radians, without air, of a place of J2000 at the moment asked for."""
    here, body = ephem.Observer(), ephem.FixedBody()
    here.lat, here.lon, here.pressure, here.date = "46", "8", 0, "2026/11/08 19:00:00"
    body._ra, body._dec, body._epoch = math.radians(ra_deg), math.radians(dec_deg), ephem.J2000
    body.compute(here)
    return float(body.alt), float(body.az)


def test_begin_is_where_a_reference_library_puts_it(checked):
    # Computed here with PyEphem, without air: bearings and separations of what stands higher than 20 degrees
    # change by less than the tolerance with it.
    compared = 0
    for one in checked()["targets"]:
        begin = one.get("aim", {"begin": {"name": ""}})["begin"]
        if begin["name"] not in PUBLISHED or begin["altitude_deg"] < 20.0:
            continue
        star_ra, star_dec, magnitude = PUBLISHED[begin["name"]]
        altitude, azimuth = seen_by_ephem(star_ra, star_dec)
        target_altitude, target_azimuth = seen_by_ephem(one["ra_deg"], one["dec_deg"])
        apart = ephem.separation((azimuth, altitude), (target_azimuth, target_altitude))
        assert begin["magnitude"] == pytest.approx(magnitude, abs=0.1)
        assert begin["altitude_deg"] == pytest.approx(math.degrees(altitude), abs=0.06)
        assert begin["azimuth_deg"] == pytest.approx(math.degrees(azimuth), abs=0.03)
        assert begin["separation_deg"] == pytest.approx(math.degrees(apart), abs=0.03)
        # The angle at the star between the zenith and the target (Meeus, Astronomical Algorithms, chapter
        # 17), towards growing azimuth, which is to the right: the clock's own way round.
        turn = target_azimuth - azimuth
        up = math.cos(altitude) * math.tan(target_altitude) - math.sin(altitude) * math.cos(turn)
        clock = math.degrees(math.atan2(math.sin(turn), up)) / 30.0
        assert (begin["clock"] - clock + 6.0) % 12.0 - 6.0 == pytest.approx(0.0, abs=0.03)
        compared += 1
    assert compared >= 4


def test_every_target_that_is_up_has_all_that_is_promised(checked):
    found = checked()
    assert set(found["align"]) == {"name", "magnitude", "altitude_deg", "azimuth_deg"}
    assert 20.0 <= found["align"]["altitude_deg"] <= 65.0
    assert found["align"]["magnitude"] < 2.6
    for target in found["targets"]:
        assert ("aim" in target) is (target["altitude_deg"] > 0.0)
        if "aim" not in target:
            continue
        aim = target["aim"]
        assert set(aim) == {"begin", "figure", "sight", "hops"}
        assert set(aim["begin"]) == {
            *("name", "magnitude", "altitude_deg", "azimuth_deg", "separation_deg", "clock"),
        }
        assert 0.0 < aim["begin"]["clock"] <= 12.0
        if aim["figure"]:
            assert aim["figure"]["miss_deg"] <= 1.0
            assert all(star in aim["figure"]["words"] for star in aim["figure"]["stars"])
        assert all(star["ring_deg"] in (0.5, 2.0, 4.0) for star in aim["sight"])
        assert all(hop["separation_deg"] <= 0.8 * 6.5 for hop in aim["hops"][1:])


def test_a_planet_that_shines_is_its_own_beginning(checked):
    (saturn,) = checked(names=("Saturn",))["targets"]
    assert saturn["aim"]["begin"]["name"] == "Saturn"
    assert saturn["aim"]["begin"]["separation_deg"] == pytest.approx(0.0, abs=0.05)


def test_a_city_sky_says_what_cannot_work(checked):
    dark, city = (checked(sky=sky, names=("M 77",))["targets"][0]["aim"] for sky in (21.5, 17.0))
    assert dark["figure"] is not None
    assert city["figure"] is None
    assert city["sight"] == []


def test_nothing_is_said_while_the_sun_is_above_six_degrees_down(checked):
    found = checked(at="2026-11-08T16:20:00Z")
    assert found["align"] is None
    assert all(target["aim"] is None for target in found["targets"] if "aim" in target)
    assert json.dumps(found)
