"""The plans and lists that come with the program are whole, and their sky is the real one."""

import datetime as dt
import math
from collections import Counter
from itertools import pairwise

import ephem
import pytest

from nightmode.catalog.resolve import resolve
from nightmode.files.places import shipped
from nightmode.files.toml import read_toml
from nightmode.model.plan import Plan
from nightmode.model.position import parse_position
from nightmode.model.site import Site
from nightmode.model.target import Body, Fixed, LunarFeature
from nightmode.night.loading import load_night

PLANS = ("hillside", "balcony")
LISTS = {
    "variables": 51,
    "messier": 110,
    "first-light": 25,
    "town": 42,
    "moon": 100,
    "southern": 40,
    "pairs": 41,
    "dark-sky": 38,
}


def plan(name):
    return read_toml(shipped("plans") / f"{name}.toml", Plan)


@pytest.mark.parametrize(("name", "count"), LISTS.items())
def test_a_number_in_the_title_of_a_list_is_that_of_its_targets(name, count):
    told = [int(word) for word in plan(f"lists/{name}").title.split() if word.isdecimal()]
    assert told in ([], [count])


@pytest.mark.parametrize("name", PLANS)
def test_a_plan_travels_alone(name):
    made = plan(name)
    assert isinstance(made.site, Site)
    assert made.telescope.aperture_mm
    assert len(made.eyepiece) >= 3
    assert made.barlow
    assert made.filter
    assert made.finder
    assert len(made.site.horizon) >= 12
    assert made.night in {dt.date(2026, 12, 13), dt.date(2027, 1, 15)}


@pytest.mark.parametrize("name", PLANS)
def test_a_plan_holds_a_mixed_evening(name):
    made = plan(name)
    kinds = Counter(resolve(target).kind.value for target in made.target)
    assert 20 <= len(made.target) <= 30
    assert {"moon", "planet", "galaxy", "globular cluster", "open cluster", "planetary nebula"} <= set(kinds)
    assert kinds["double star"] >= 3
    assert all(target.look_for for target in made.target)


def test_the_plan_of_two_instruments_shows_what_each_is_for():
    made = plan("orchard")
    assert [instrument.name for instrument in made.instruments] == ["300 mm reflector", "10x50 binoculars"]
    assert all(target.look_for for target in made.target)
    night = load_night(shipped("plans") / "orchard.toml", None, None, 0.0).night
    looked = {target.subject.name: target.kit.telescope.name for target in night.targets if target.usable}
    assert len(looked) == len(made.target)
    # Common practice, no published source; M 35 is named for the binoculars.
    wide = {name for name, instrument in looked.items() if instrument == "10x50 binoculars"}
    assert wide == {"M 31", "M 45", "Mel 25", "M 44", "Kemble's Cascade", "M 35"}


@pytest.mark.parametrize("name", LISTS)
def test_a_list_is_known_to_the_catalogue_by_name_alone(name):
    listed = plan(f"lists/{name}")
    assert len(listed.target) == LISTS[name]
    assert listed.night is None
    assert listed.site is None
    assert all(target.position is None and target.kind is None for target in listed.target)
    subjects = [resolve(target) for target in listed.target]
    assert all(isinstance(subject, Body | Fixed) for subject in subjects)


def test_the_messier_list_is_every_number_once():
    assert [target.name for target in plan("lists/messier").target] == [f"M {n}" for n in range(1, 111)]


@pytest.mark.parametrize("name", ["Albireo", "Almach", "Castor", "Rigel"])
def test_positions_given_by_hand_agree_with_another_star_table(name):
    star = ephem.star(name)
    targets = [target for each in PLANS for target in plan(each).target if target.name == name]
    assert targets
    for target in targets:
        ra_deg, dec_deg = parse_position(target.position)
        apart = ephem.separation((math.radians(ra_deg), math.radians(dec_deg)), (star._ra, star._dec))
        assert math.degrees(apart) < 0.02


def heights(made, target):
    """Altitude above the floor every ten minutes while the Sun is below -6 degrees, by ephem."""
    site = made.site
    here = ephem.Observer()
    here.lat, here.lon, here.elevation = str(site.latitude_deg), str(site.longitude_deg), site.elevation_m
    subject = resolve(target)
    if isinstance(subject, Body):
        body = getattr(ephem, subject.body.capitalize())()
    else:
        body = ephem.FixedBody()
        body._ra, body._dec = math.radians(subject.ra_deg), math.radians(subject.dec_deg)
    found = []
    for minutes in range(0, 24 * 60, 10):
        here.date = dt.datetime.combine(made.night, dt.time(11)) + dt.timedelta(minutes=minutes)
        if math.degrees(ephem.Sun(here).alt) < -6:
            body.compute(here)
            floor = max(target.min_altitude_deg or 15.0, _horizon(site, math.degrees(body.az)))
            found.append(math.degrees(body.alt) - floor)
    return found


def _horizon(site, azimuth_deg):
    points = sorted(site.horizon)
    points = [(points[-1][0] - 360, points[-1][1]), *points, (points[0][0] + 360, points[0][1])]
    for (left, low), (right, high) in pairwise(points):
        if left <= azimuth_deg <= right:
            return low + (high - low) * (azimuth_deg - left) / max(right - left, 1e-9)
    raise AssertionError


@pytest.mark.parametrize(
    ("name", "early", "late", "never_up"),
    [
        ("hillside", "M 30", "M 46", "NGC 1365"),
        ("balcony", "M 15", "M 67", "M 81"),
    ],
)
def test_targets_set_early_and_late_and_one_never_rises_high_enough(name, early, late, never_up):
    made = plan(name)
    wanted = {early, late, never_up}
    by_name = {target.name: heights(made, target) for target in made.target if target.name in wanted}
    third = len(by_name[early]) // 3
    assert by_name[early][0] > 0
    assert max(by_name[early][third:]) < 0
    assert by_name[late][0] < 0 < by_name[late][2 * third]
    assert by_name[late][-1] < 0
    assert max(by_name[never_up]) < 0


@pytest.mark.parametrize("target", ["NGC 457", "M 81", "M 82"])
def test_some_targets_never_set_on_the_hillside(target):
    made = plan("hillside")
    (circumpolar,) = [one for one in made.target if one.name == target]
    assert min(heights(made, circumpolar)[-40:]) > 0


def test_the_hillside_evening_has_a_young_moon_that_goes_early():
    made = plan("hillside")
    (moon,) = [target for target in made.target if target.name == "Moon"]
    above = heights(made, moon)
    assert above[0] > 0
    assert max(above[20:]) < 0
    assert ephem.Moon(dt.datetime.combine(made.night, dt.time(17))).phase < 25


def test_the_balcony_evening_has_a_half_moon():
    made = plan("balcony")
    assert ephem.Moon(dt.datetime.combine(made.night, dt.time(18))).phase == pytest.approx(50, abs=3)


def test_a_wall_blocks_part_of_the_balcony_sky():
    assert sum(altitude > 60 for _, altitude in plan("balcony").site.horizon) >= 5


def test_every_feature_on_the_list_of_the_moon_says_what_to_look_for():
    features = [resolve(target) for target in plan("lists/moon").target]
    assert all(isinstance(one, LunarFeature) and one.look_for for one in features)
    assert len({one.sort for one in features}) >= 9
    assert sum("high" in {light.value for light in one.light} for one in features) >= 15
