"""A year of an object beside single nights opened one by one, and beside the almanac of another library."""

import datetime as dt
import math
import random
from functools import cache

import ephem
import numpy as np
import pytest
from turns import rarely

from nightmode.catalog.resolve import resolve
from nightmode.model.kit import Eyepiece, Kit, Telescope
from nightmode.model.observer import Person
from nightmode.model.site import Site
from nightmode.model.target import Target
from nightmode.night.circumstances import Circumstances
from nightmode.night.opening import open_night
from nightmode.night.verdict import verdicts
from nightmode.planning.season import (
    STEP_MIN,
    best_months,
    best_weeks,
    judged_months,
    months,
    season,
    year_from,
)
from nightmode.records import replace
from nightmode.sky.kernel import open_sky
from nightmode.words import Word

SKY = open_sky()
FIRST, LAST = dt.date(2027, 1, 1), dt.date(2027, 12, 31)
KIT = Kit(
    telescope=Telescope(name="200 mm", aperture_mm=200, focal_length_mm=1200, obstruction_mm=50),
    eyepieces=(Eyepiece(name="25 mm", focal_length_mm=25), Eyepiece(name="10 mm", focal_length_mm=10)),
)
PLACES = {
    "north": Site(
        name="north", latitude_deg=52.0, longitude_deg=5.0, timezone="Europe/Amsterdam", sky_brightness=20.5
    ),
    "south": Site(
        name="south",
        latitude_deg=-31.0,
        longitude_deg=149.0,
        timezone="Australia/Sydney",
        sky_brightness=21.7,
        horizon=((0.0, 5.0), (180.0, 25.0)),
    ),
}


@cache
def year_of(place, name):
    """Return where and with what, the target, and its year."""
    where = Circumstances(date=FIRST, site=PLACES[place], kit=KIT, person=Person())
    subjects = [resolve(Target(name=name))]
    return where, subjects, season(SKY, where, subjects, FIRST, LAST)


@pytest.fixture(
    scope="module",
    params=[("north", "M 31"), rarely(("south", "NGC 104")), rarely(("south", "M 8")), ("north", "Saturn")],
)
def year(request):
    where, subjects, found = year_of(*request.param)
    return where, subjects, found, judged_months(SKY, where, subjects, found)[0]


def test_each_nights_hours_are_those_of_the_night_opened_by_itself(year):
    where, subjects, found, _ = year
    for number in random.Random(len(where.site.name)).sample(range(365), 4):
        night = open_night(SKY, replace(where, date=found.dates[number]), subjects)
        spans = night.targets[0].usable
        hours = sum(one.end_s - one.start_s for one in spans) / 3600.0
        assert found.usable_h[0, number] == pytest.approx(hours, abs=0.2 * max(1, len(spans)))
        inside = np.zeros(night.time_s.size, dtype=bool)
        for one in spans:
            inside |= (night.time_s >= one.start_s) & (night.time_s <= one.end_s)
        moonless = float((inside & (night.moon.altitude_deg <= 0.0)).sum()) / 60.0
        assert found.moonless_h[0, number] == pytest.approx(moonless, abs=0.4 * max(1, len(spans)))
        if hours > 0.5:
            highest, _ = found.highest(0, np.array([number]))
            assert highest == pytest.approx(night.altitude_deg[0, inside].max(), abs=1.5)


def test_a_months_verdict_is_that_of_its_night(year):
    where, subjects, _, told = year
    assert [one.night.month for one in told] == [one.month for one in told]
    for one in told[::3]:
        (verdict,) = verdicts(open_night(SKY, replace(where, date=one.night), subjects))
        assert one.verdict == verdict


def test_a_month_is_the_sum_of_its_nights(year):
    *_, found, told = year
    assert [one.month for one in told] == list(range(1, 13))
    assert sum(one.usable_h for one in told) == pytest.approx(found.usable_h.sum())
    assert all(one.moonless_h <= one.usable_h for one in told)
    assert all((one.highest_deg is None) == (one.usable_h == 0) for one in told)


def test_hours_of_darkness_through_the_year_agree_with_another_library():
    """ephem's own twilights, Sun's centre at -18 degrees."""
    _, _, found = year_of("south", "M 8")
    here = ephem.Observer()
    here.lat, here.lon, here.pressure, here.horizon = "-31.0", "149.0", 0, "-18"
    dark_h = np.bincount(found.night_number, found.sun_deg < -18.0) * STEP_MIN / 60.0
    for number in range(0, 365, 40):
        # Noon by the Sun there is about 02:00 UTC.
        here.date = ephem.Date(dt.datetime.combine(found.dates[number], dt.time(2)))
        dusk = here.next_setting(ephem.Sun(), use_center=True)
        here.date = dusk
        dawn = here.next_rising(ephem.Sun(), use_center=True)
        assert dark_h[number] == pytest.approx((dawn - dusk) * 24, abs=0.35)


def test_the_best_weeks_fall_where_it_stands_high_at_night_without_the_moon():
    _, _, found = year_of("north", "M 31")
    weeks = best_weeks(found, 0)
    assert weeks
    # M 31 culminates at midnight at the start of October (right ascension 0 h 43 min; Meeus, chapter 12).
    assert {start.month for start, _ in weeks} <= {8, 9, 10, 11, 12}
    # Full Moons of 2027 by ephem: none of the runs holds one.
    moment = ephem.Date("2027/1/1")
    while moment < ephem.Date("2027/12/31"):
        moment = ephem.next_full_moon(moment)
        full = moment.datetime().date()
        assert not any(start <= full <= end for start, end in weeks)


def test_what_never_rises_has_no_hours_and_no_weeks():
    where, subjects = year_of("north", "M 31")[0], [resolve(Target(name="NGC 104"))]
    found = season(SKY, where, subjects, FIRST, dt.date(2027, 3, 31))
    assert not found.usable.any()
    assert best_weeks(found, 0) == []
    assert all(one.highest_deg is None for one in judged_months(SKY, where, subjects, found)[0])


def test_a_long_night_low_down_is_no_better_than_a_short_one_high_up():
    """NGC 104 (right ascension 0 h 24 min) from 31 south never sets in the plan's sense; it culminates at
    midnight at the end of September (Meeus, chapter 12), and stands low through the long nights of June.
    """
    where, subjects, found = year_of("south", "NGC 104")
    told = judged_months(SKY, where, subjects, found)[0]
    assert max(told, key=lambda month: month.usable_h).month in (6, 7, 8)
    assert max(told, key=lambda month: month.good_h).month in (8, 9, 10, 11)


def test_moonlight_does_not_shorten_the_season_of_a_planet():
    _, _, found = year_of("north", "Saturn")
    weeks = best_weeks(found, 0)
    assert max((end - start).days for start, end in weeks) > 30
    assert found.good_h[0].sum() > 0


def test_what_the_horizon_line_hides_is_told_from_what_is_not_up():
    """The south's line is 25 degrees high at azimuth 180; NGC 362 (declination -70.8) from 31 south never
    falls below 11.8 degrees, and the pole star never rises.
    """
    where = year_of("south", "NGC 104")[0]
    walled = replace(where, site=where.site.model_copy(update={"horizon": ((0.0, 5.0), (180.0, 80.0))}))
    subjects = [resolve(Target(name=name)) for name in ("NGC 362", "Polaris")]
    hidden, down = months(season(SKY, walled, subjects, FIRST, dt.date(2027, 1, 31)))
    assert hidden[0].highest_deg is None
    assert hidden[0].is_hidden
    assert not down[0].is_hidden


def test_twelve_months_begin_with_the_month_of_the_date():
    assert year_from(dt.date(2026, 11, 25)) == (dt.date(2026, 11, 1), dt.date(2027, 10, 31))
    assert year_from(dt.date(2028, 2, 29)) == (dt.date(2028, 2, 1), dt.date(2029, 1, 31))


def test_the_greatest_height_is_that_of_culmination():
    """90 - |latitude - declination|, as any textbook has it: M 8 (declination -24.4) from 31 south."""
    _, _, found = year_of("south", "M 8")
    highest, _ = found.highest(0, np.arange(365))
    assert highest == pytest.approx(90 - abs(-31.0 + 24.38), abs=1.2)
    assert math.isfinite(highest)


def test_the_best_month_of_a_list_is_that_of_the_best_word_and_then_of_the_most_hours():
    """By what `check` says of every month's night, though not every night is opened for it."""
    where = Circumstances(date=FIRST, site=PLACES["south"], kit=KIT, person=Person())
    names = ("NGC 104", "Saturn", "IC 434", "Polaris", "M 83")
    subjects = [resolve(Target(name=name)) for name in names]
    found = season(SKY, where, subjects, FIRST, dt.date(2027, 4, 30))
    best = best_months(SKY, where, subjects, found, months(found))
    expected = []
    for year in judged_months(SKY, where, subjects, found):
        ranks = [one.verdict.word.rank for one in year]
        shown = [place for place, one in enumerate(year) if one.usable_h and one.verdict.word is not Word.OUT]
        top = [place for place in shown if ranks[place] == min(ranks[other] for other in shown)]
        expected.append(max(top, key=lambda place: year[place].good_h, default=None))
    assert best == expected
    assert best[names.index("Polaris")] is None
    assert best[names.index("NGC 104")] is not None
