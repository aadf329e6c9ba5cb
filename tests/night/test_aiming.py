"""A night's targets among its stars: bodies stand where their tracks are, walls hide, a start is kept."""

import numpy as np
import pytest

from nightmode.aim.frame import altitude_azimuth
from nightmode.aim.lens import to_name
from nightmode.files.places import shipped
from nightmode.night.aiming import Aiming, pointing_at
from nightmode.night.aligning import align_at_dusk, align_star
from nightmode.night.loading import load_night
from nightmode.records import replace
from nightmode.sky.vectors import angle_between_deg


@pytest.fixture(scope="module")
def hillside():
    return load_night(shipped("plans") / "hillside.toml", None, None, 0.0).night


def named(night, name):
    return next(row for row, target in enumerate(night.targets) if target.subject.name == name)


@pytest.mark.parametrize(("name", "hours"), [("Saturn", 1.0), ("Saturn", 4.0), ("Moon", 0.5)])
def test_a_body_among_the_stars_stands_where_its_own_track_is(hillside, name, hours):
    now_s = hillside.twilights.civil_dusk_s + hours * 3600.0
    one = pointing_at(hillside, named(hillside, name), now_s)
    body = one.called.index(name)
    assert angle_between_deg(one.stars.direction[body], one.guide.target) < 0.02
    assert one.called[one.guide.begin.star] == name


def test_a_pointing_holds_the_place_of_its_target(hillside):
    now_s = hillside.twilights.dark_s[0] + 5000.0
    for row in range(len(hillside.targets)):
        one = pointing_at(hillside, row, now_s)
        assert (one is None) is (hillside.altitude_at(row, now_s) <= 0.0)
        if one is not None:
            altitude, azimuth = altitude_azimuth(one.guide.target)
            assert altitude == pytest.approx(hillside.altitude_at(row, now_s), abs=1e-6)
            assert azimuth == pytest.approx(hillside.azimuth_at(row, now_s), abs=1e-6)


def test_what_stands_behind_the_horizon_line_leads_nobody(hillside):
    now_s = hillside.twilights.dark_s[0] + 3600.0
    row = named(hillside, "NGC 253")
    free = pointing_at(replace(hillside, site=hillside.site.model_copy(update={"horizon": ()})), row, now_s)
    start = free.guide.begin.star
    wall = float(free.stars.altitude_deg[start]) + 0.5
    walled = hillside.site.model_copy(update={"horizon": ((0.0, wall), (180.0, wall))})
    hidden = pointing_at(replace(hillside, site=walled), row, now_s)
    assert not hidden.stars.is_clear[hidden.called.index(free.called[start])]
    assert hidden.guide.begin is None or hidden.called[hidden.guide.begin.star] != free.called[start]
    used = [star.star for star in hidden.guide.ring_stars]
    used += [hidden.guide.figure.first, hidden.guide.figure.second] if hidden.guide.figure else []
    assert hidden.stars.is_clear[used].all()


def test_the_star_to_begin_with_stays_through_the_hours(hillside):
    aiming, row = Aiming(), named(hillside, "M 45")
    seen = []
    for minute in range(0, 360, 20):
        one = aiming.at(hillside, row, hillside.twilights.dark_s[0] + 60.0 * minute)
        if one is not None and one.guide.begin is not None:
            seen.append(one.called[one.guide.begin.star])
    assert len(set(seen)) == 1


def test_within_a_minute_the_same_is_handed_out_and_another_sky_asks_anew(hillside):
    aiming, row = Aiming(), named(hillside, "M 45")
    now_s = hillside.twilights.dark_s[0] // 60 * 60 + 7200.0
    first = aiming.at(hillside, row, now_s)
    assert aiming.at(hillside, row, now_s + 59.0) is first
    assert aiming.at(hillside, row, now_s + 60.0) is not first
    city = aiming.at(replace(hillside, zenith_mag=17.5), row, now_s)
    assert (city.stars.margin_mag < first.stars.margin_mag).all()
    assert city.is_bright_enough.sum() < first.is_bright_enough.sum()


def test_by_day_nothing_is_pointed_to_and_nothing_aligned_on(hillside):
    for when in (
        hillside.twilights.sunset_s,
        hillside.twilights.civil_dusk_s - 120.0,
        hillside.twilights.sunrise_s,
    ):
        assert pointing_at(hillside, 0, when) is None
        assert align_star(hillside, when, 0) is None


def test_at_dusk_a_bright_star_at_a_good_height_is_named_to_align_on(hillside):
    star = align_at_dusk(hillside)
    assert star.magnitude < 2.6
    assert 20.0 <= star.altitude_deg <= 65.0
    assert align_star(hillside, hillside.twilights.dark_s[0], None) is not None


def test_a_finder_shows_more_than_the_eye_and_both_less_when_it_is_low(hillside):
    now_s = hillside.twilights.dark_s[0] + 3600.0
    one = pointing_at(hillside, named(hillside, "M 45"), now_s)
    gain = one.finder_margin_mag - one.stars.margin_mag
    high = one.stars.altitude_deg > 40.0
    assert np.median(gain[high]) > 1.5
    low = (one.stars.altitude_deg > 5.0) & (one.stars.altitude_deg < 12.0)
    assert np.median((one.stars.dimmed_mag - one.stars.magnitude)[low]) > 0.5


def test_planets_are_named_in_everybody_s_chart_and_are_no_part_of_a_figure(hillside):
    now_s = hillside.twilights.dark_s[0] + 3600.0
    compared = 0
    for row, target in enumerate(hillside.targets):
        one = pointing_at(hillside, row, now_s)
        if one is None or "Saturn" not in one.called or target.subject.name == "Saturn":
            continue
        saturn = one.called.index("Saturn")
        assert saturn in to_name(one, np.flatnonzero(one.is_bright_enough))
        figure = one.guide.figure
        assert figure is None or saturn not in (figure.first, figure.second)
        compared += 1
    assert compared >= 3
