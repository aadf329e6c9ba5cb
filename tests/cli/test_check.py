"""`nightmode check` against the outside world, through the real command."""

import datetime as dt
import json
import math
import re
from zoneinfo import ZoneInfo

import ephem
import pytest
from cli.conftest import SITE_A

# Setting instants at 47 N 11 E after 2026-12-12 18:00 UTC: airless altitude -34'.
# Source: computed with astropy 8.0.2 (JPL DE421) and independently with ephem 4.2.1, agreeing within 0.3 s.
SETS_AT_SITE_A = {
    "Vega": "2026-12-12T22:34:23Z",
    "Altair": "2026-12-12T20:24:09Z",
    "Fomalhaut": "2026-12-12T20:24:26Z",
    "Sirius": "2026-12-13T05:23:01Z",
    "M31": "2026-12-13T05:32:08Z",
    "M42": "2026-12-13T05:05:12Z",
    "M13": "2026-12-12T20:08:26Z",
    "M57": "2026-12-12T21:46:50Z",
    "Saturn": "2026-12-13T00:29:06Z",
    "Moon": "2026-12-12T18:21:50Z",
}


def seconds_apart(one, other):
    return abs((dt.datetime.fromisoformat(one) - dt.datetime.fromisoformat(other)).total_seconds())


def test_setting_instants_agree_with_two_reference_libraries_within_5_s(command, plan):
    found = command.json("check", plan(SETS_AT_SITE_A))
    for target in found["targets"]:
        assert seconds_apart(target["sets"], SETS_AT_SITE_A[target["name"]]) <= 5, target["name"]


def test_the_walk_order_is_the_order_of_the_reference_setting_times(command, plan):
    found = command.json("check", plan(SETS_AT_SITE_A))
    names = [target["name"] for target in found["targets"] if target["ends_by"] == "horizon"]
    assert names == sorted(names, key=SETS_AT_SITE_A.__getitem__)
    assert len(names) >= 8


@pytest.mark.parametrize(("name", "ra", "dec"), [
    ("NGC 7662", "23:25:53.90", "42:32:05.8"),
    ("NGC 457", "1:19:35", "58:17:12"),
    ("M 33", "1:33:50.89", "30:39:36.8"),
])  # fmt: skip
def test_crossing_15_degrees_with_refraction_agrees_with_ephem(command, plan, name, ra, dec):
    # ephem 4.2.1: its own refraction at 1010 hPa and 10 C; positions as OpenNGC lists them
    body = ephem.FixedBody()
    body._ra, body._dec = ephem.hours(ra), ephem.degrees(dec)
    place = ephem.Observer()
    place.lat, place.lon, place.elevation = "47", "11", 900
    place.pressure, place.temp, place.horizon = 1010, 10, "15"
    place.date = "2026/12/12 18:00"
    try:
        expected = place.next_setting(body, use_center=True).datetime()
    except ephem.AlwaysUpError:
        expected = None
    target = command.json("check", plan([name], minimum_deg=15))["targets"][0]
    if expected is None:
        assert target["sets"] is None
        assert target["ends_by"] == "dawn"
    else:
        assert seconds_apart(target["sets"][:-1], expected.isoformat()) <= 5


def test_what_never_rises_and_what_never_sets(command, plan):
    found = {one["name"]: one for one in command.json("check", plan(["NGC 104", "Polaris"]))["targets"]}
    assert (found["NGC 104"]["usable"], found["NGC 104"]["sets"], found["NGC 104"]["ends_by"]) == (
        [],
        None,
        None,
    )
    assert (found["Polaris"]["sets"], found["Polaris"]["ends_by"]) == (None, "dawn")


def test_dark_hours_and_moon_agree_with_the_reference_night(command, plan):
    # night-siteA-2026-12-12: astropy 8.0.2 and ephem 4.2.1, agreeing within 1 s
    found = command.json("check", plan(["M 31"]))
    assert seconds_apart(found["dark"]["from"], "2026-12-12T17:17:48Z") <= 5
    assert seconds_apart(found["dark"]["to"], "2026-12-13T05:02:10Z") <= 5
    assert found["dark"]["sun_below_deg"] == -18
    assert seconds_apart(found["moon"]["sets"], "2026-12-12T18:23:38Z") <= 5
    assert seconds_apart(found["moon"]["rises"], "2026-12-13T10:02:11Z") <= 5


@pytest.mark.parametrize(("name", "altitude", "azimuth"), [
    ("Vega", 14.5430, 312.2337),
    ("Polaris", 47.6137, 0.2332),
    ("M31", 73.6962, 257.8428),
    ("M42", 20.7172, 123.4622),
])  # fmt: skip
def test_places_agree_with_the_reference_libraries(command, plan, name, altitude, azimuth):
    # altaz-siteA-2026-12-12-20: astropy 8.0.2 and ephem 4.2.1, 1010 hPa, 10 C
    target = command.json("check", plan([name]), "--at", "2026-12-12T20:00:00Z")["targets"][0]
    assert target["altitude_deg"] == pytest.approx(altitude, abs=0.003)
    assert target["azimuth_deg"] == pytest.approx(azimuth, abs=0.01)


NORTH = """
[site]
name = "North"
latitude_deg = 65.0
longitude_deg = -25.0
elevation_m = 50
timezone = "Atlantic/Reykjavik"
[telescope]
name = "t"
aperture_mm = 100
focal_length_mm = 900
"""


def test_a_site_at_65_north_in_june_is_answered_honestly(command, plan):
    # night-siteC-2027-06-20: the Sun gets no lower than -1.566 degrees
    found = command.json("check", plan(["M 57", "Moon"], night="2027-06-20", head=NORTH))
    assert found["dark"] == {"from": None, "to": None, "sun_below_deg": None}
    assert any("-1.6°" in problem for problem in found["problems"])


def test_without_astronomical_night_the_darkest_part_is_used_and_said(command, plan):
    # night-siteC-2027-08-10 (astropy, ephem): Sun no lower than -9.631 degrees; civil dusk 23:36:54 UTC
    found = command.json("check", plan(["M 57"], night="2027-08-10", head=NORTH))
    assert found["dark"]["sun_below_deg"] == -6
    assert seconds_apart(found["dark"]["from"], "2027-08-10T23:36:54Z") <= 15
    assert seconds_apart(found["targets"][0]["usable"][0][0], "2027-08-10T23:36:54Z") <= 15
    assert any("no astronomical night" in problem for problem in found["problems"])


def test_a_southern_summer_night(command, plan):
    # night-siteB-2026-12-12
    south = NORTH.replace("65.0", "-35.0").replace("-25.0", "149.0").replace(
        "Atlantic/Reykjavik", "Australia/Sydney"
    )  # fmt: skip
    found = command.json("check", plan(["NGC 104", "M 42"], head=south))
    assert seconds_apart(found["dark"]["from"], "2026-12-12T10:58:09Z") <= 5
    assert all(target["usable"] for target in found["targets"])


@pytest.mark.parametrize("night", ["2027-03-27", "2026-10-24"])
def test_a_night_with_a_change_of_clocks_keeps_utc_and_shows_local_time(command, plan, night):
    # IANA time zone database: Europe/Vienna changes at 01:00 UTC on 2026-10-25 and 2027-03-28
    path = plan(["M 13", "M 81"], night=night)
    found = command.json("check", path)
    dusk, dawn = (dt.datetime.fromisoformat(found["dark"][key]) for key in ("from", "to"))
    assert dt.timedelta(hours=5) < dawn - dusk < dt.timedelta(hours=13)
    before, after = {"2027-03-27": (1, 2), "2026-10-24": (2, 1)}[night]
    table = command("check", path)
    local = f"dark {dusk + dt.timedelta(hours=before, seconds=30):%H:%M} to " + (
        f"{dawn + dt.timedelta(hours=after, seconds=30):%H:%M}"
    )
    assert local in table


def test_the_table_fits_80_columns(command, plan):
    table = command("check", plan(["M 13", "M 81", "Saturn", "Moon", "NGC 869"]))
    assert max(map(len, table.splitlines())) <= 80


def test_json_holds_what_is_promised(command, plan):
    found = command.json("check", plan(["M 13"]))
    assert set(found) == {"night", "site", "telescope", "dark", "moon", "targets", "problems"}
    target = found["targets"][0]
    assert set(target) == {
        "name", "kind", "ra_deg", "dec_deg", "usable", "sets", "rises", "ends_by", "find", "look", "verdict",
    }  # fmt: skip
    assert set(target["find"]) == {"eyepiece", "power", "true_field_deg", "exit_pupil_mm"}
    assert set(target["look"]) == {
        "eyepiece", "barlow", "filter", "power", "true_field_deg", "exit_pupil_mm", "reason",
    }  # fmt: skip
    # 750 mm / 25 mm = 30x; 50 degrees / 30 = 1.67 degrees; 150 mm / 30 = 5 mm (geometric optics)
    assert target["find"] == {"eyepiece": "25 mm", "power": 30, "true_field_deg": 1.667, "exit_pupil_mm": 5}


@pytest.mark.parametrize(("words", "told"), [
    (["--night", "2026-13-40"], "write YYYY-MM-DD"),
    (["--night", "tomorrow"], "write YYYY-MM-DD"),
    (["--at", "25:00"], "write 23:15"),
    (["--nigth", "2026-12-12"], "unrecognized arguments"),
    (["--night", "1200-01-01"], "1900 to 2050"),
])  # fmt: skip
def test_a_bad_flag_gets_one_sentence(command, plan, words, told):
    said = command("check", plan(["M 13"]), *words, code=2)
    assert told in said
    assert said.count("\n") == 1


@pytest.mark.parametrize(("text", "told"), [
    ('title = "x"\n', "target"),
    ('titel = "x"\n[[target]]\nname = "M 13"\n', "did you mean title"),
    ('[[target]]\nname = "M 13"\n', "[site] table"),
    ('[[target]]\nname = "Sun"\n' + "x", "line"),
    ('[[target]]\nname = "M 13"\nkind = "galxy"\nposition = "1h +2d"\n', "galaxy"),
    ('[[target]]\nname = "a\\u001b[31m"\n', "U+001B"),
])  # fmt: skip
def test_a_bad_plan_gets_one_sentence(command, tmp_path, text, told):
    path = tmp_path / "plan.toml"
    path.write_text(text, encoding="utf-8")
    said = command("check", path, code=2)
    assert told in said
    assert said.count("\n") == 1
    assert said.isprintable() or said.rstrip("\n").isprintable()


def test_the_sun_is_refused_with_the_caution(command, plan):
    said = command("check", plan(["Sun"]), code=2)
    assert "blind" in said


def test_an_unknown_name_is_answered_with_near_ones(command, plan):
    said = command("check", plan(["NGC 77889"]), code=2)
    assert "NGC 77889" in said
    said = command("check", plan(["Albiero"]), code=2)
    assert "Albireo" in said


def test_json_is_one_object_and_nothing_else(command, plan):
    json.loads(command("check", plan(["M 1"]), "--json"))


def test_what_happens_at_jupiter_while_it_is_up_is_told_and_stands_where_ephem_has_it(command, plan):
    # ephem 4.2.1 has the moons in radii of Jupiter, z towards the Earth
    told = command("check", plan(["Jupiter", "M 42"], minimum_deg=15, night="2027-03-22"))
    _, _, after = told.partition("What happens at the planets:\n")
    rows = after.partition("\n\n")[0].splitlines()
    found = dict(re.match(r"Jupiter +(\d\d:\d\d)-\d\d:\d\d (\w.*)", row).groups()[::-1] for row in rows)
    assert set(found) == {"Io before the disc", "Io's shadow on the disc", "Europa behind Jupiter"}
    for words, moon, is_before in (
        ("Io before the disc", ephem.Io, True),
        ("Europa behind Jupiter", ephem.Europa, False),
    ):
        hour, minute = map(int, found[words].split(":"))
        day = 22 if hour > 12 else 23
        begins = dt.datetime(2027, 3, day, hour, minute, tzinfo=ZoneInfo("Europe/Vienna"))
        for minutes, is_on_it in ((-12, False), (12, True)):
            at = (begins + dt.timedelta(minutes=minutes)).astimezone(dt.UTC)
            body = moon(at.strftime("%Y/%m/%d %H:%M"))
            assert (math.hypot(body.x, body.y) < 1.0) == is_on_it, (words, minutes)
            assert (body.z > 0) == is_before


def test_a_zone_that_is_not_that_of_the_place_is_asked_about(command, plan):
    asked = "8 h off the Sun there: is longitude east positive"
    head = SITE_A.replace("Europe/Vienna", "America/Denver")
    assert asked in " ".join(command("check", plan(["M 42"], head=head)).split())
    assert asked not in " ".join(command("check", plan(["M 42"])).split())


def test_a_long_name_takes_the_columns_that_its_table_has_to_spare(command, plan):
    long = "Small Sagittarius Star Cloud"  # M 24, by a usual name
    told = command("check", plan([long, "M 13", "Hubble's Variable Nebula"]), "--night", "2027-07-05")
    lines = told.splitlines()
    assert all(len(line) <= 80 for line in lines)
    (row,) = (line for line in lines if line.startswith("Small"))
    assert row.startswith(f"{long} ")
    head = next(line for line in lines if line.startswith("Fits tonight"))
    assert head.index("usable") == len(long) + 1
    other = next(line for line in lines if line.startswith("M 13 "))
    assert re.match(r"\d\d:\d\d-", other[head.index("usable") :])
