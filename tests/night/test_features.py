"""Features of the Moon on real nights: usable in their light alone, in the order in which it goes."""

import datetime as dt
import re
import tomllib
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from turns import rarely

from nightmode.catalog.lunar import lunar_features
from nightmode.catalog.resolve import resolve
from nightmode.kinds import Kind
from nightmode.model.kit import Eyepiece, Kit, Telescope
from nightmode.model.observer import Person
from nightmode.model.site import Site
from nightmode.model.target import FeatureSort, Illumination, Target
from nightmode.night.circumstances import Circumstances
from nightmode.night.opening import open_night
from nightmode.night.verdict import verdict_at, verdicts
from nightmode.sky.kernel import open_sky
from nightmode.visibility.reasons import WrongLight
from nightmode.walk.order import coming, minutes_per_target, queue, walk_order
from nightmode.walk.state import State
from nightmode.walk.usable import Ending
from nightmode.wording.moon import light_until
from nightmode.wording.reasons import reason_text
from nightmode.words import Cause, Word

SKY = open_sky()
VIENNA = Site(name="V", latitude_deg=48.2, longitude_deg=16.4, timezone="Europe/Vienna", bortle=6)
SOUTH = Site(name="S", latitude_deg=-33.0, longitude_deg=149.0, timezone="Australia/Sydney", bortle=4)
KIT = Kit(
    telescope=Telescope(name="t", aperture_mm=150, focal_length_mm=900),
    eyepieces=(Eyepiece(name="6 mm", focal_length_mm=6),),
)
NAMES = tuple({one.name: None for one in lunar_features().values()})
ROWS = {
    check["id"]: check
    for check in tomllib.loads((Path(__file__).parents[1] / "reference" / "moon.toml").read_text())["check"]
}


@cache
def opened(date, site=VIENNA, names=NAMES, minimum_deg=10.0):
    where = Circumstances(date=date, site=site, kit=KIT, person=Person(min_altitude_deg=minimum_deg))
    return open_night(SKY, where, [resolve(Target(name=name, kind=Kind.LUNAR_FEATURE)) for name in names])


def unix(text):
    return dt.datetime.fromisoformat(text.replace("Z", "+00:00")).timestamp()


def named(night, rows):
    return [night.targets[row].subject.name for row in rows]


def test_the_sun_over_a_feature_is_what_de421_says():
    for moment, name, _, _, height in ROWS["moon-sun-height-de421"]["rows"][:6]:
        night = opened(dt.date(2026, 11, 17), names=("Copernicus", "Plato", "Clavius", "Langrenus",
                                                     "Aristarchus", "Rupes Recta"))  # fmt: skip
        tonight = next(one.feature for one in night.targets if one.subject.name == name)
        assert night.along(tonight.sun_deg, unix(moment)) == pytest.approx(height, abs=0.02), name


def test_a_feature_is_usable_only_while_the_light_on_it_is_right():
    night, looked_at = opened(dt.date(2026, 11, 17)), set()
    for target in night.targets:
        for stretch in target.usable:
            looked_at |= set(target.subject.light)
            inside = (night.time_s > stretch.start_s + 60) & (night.time_s < stretch.end_s - 60)
            sun_deg = target.feature.sun_deg[inside]
            subject = target.subject
            wide = subject.sort in (FeatureSort.SEA, FeatureSort.RANGE, FeatureSort.PLAIN) or subject.rise_km
            if not wide and subject.light == (Illumination.LOW,):
                assert np.all((sun_deg > 0.4) & (sun_deg < 15.1)), subject.name
            if subject.light == (Illumination.HIGH,):
                assert np.all(sun_deg > 34.9), subject.name
    assert {Illumination.LOW, Illumination.HIGH} <= looked_at


def test_the_one_whose_light_goes_first_comes_first():
    # Worked out apart from the program with DE421's libration: Aristoteles' Sun passes 15 degrees at 18:09.
    night = opened(dt.date(2026, 11, 17))
    order = walk_order(night.chances, float(night.time_s[0]))
    assert named(night, order[:2]) == ["Aristoteles", "Hyginus"]
    first = night.targets[order[0]].usable[0]
    assert first.ends_by is Ending.LIGHT
    assert first.end_s == pytest.approx(unix("2026-11-17T17:09:00Z"), abs=180)


def test_those_that_go_with_the_moon_are_told_apart_by_how_few_nights_they_have_left():
    night = opened(dt.date(2026, 11, 17))
    order = [row for row in walk_order(night.chances, float(night.time_s[0])) if night.targets[row].usable]
    together = [night.targets[row].feature.nights_left for row in order
                if night.targets[row].usable[0].ends_by is Ending.HORIZON]  # fmt: skip
    assert len(together) > 20
    assert together == sorted(together)


def test_a_waning_moon_offers_first_what_the_sun_sets_on():
    night = opened(dt.date(2027, 1, 28))
    assert not night.moon.waxing
    order = walk_order(night.chances, float(night.time_s[0]))
    lit = [night.targets[row] for row in order if night.targets[row].usable]
    ends = [one.usable[0].end_s for one in lit if one.usable[0].ends_by is Ending.LIGHT]
    assert ends
    assert ends == sorted(ends)
    # Of those that the night ends for, the scarce come first, and of these the ones with the lowest Sun.
    middle = len(night.time_s) // 2
    whole = [one.feature for one in lit if one.usable[0].ends_by is not Ending.LIGHT]
    keys = [(one.nights_left, round(float(one.sun_deg[middle]))) for one in whole]
    assert keys == sorted(keys)
    assert len(set(keys)) > len({nights_left for nights_left, _ in keys})


def test_a_feature_in_the_dark_is_never_offered_nor_counted():
    night, state = opened(dt.date(2026, 11, 17)), State()
    copernicus = night.row("copernicus")
    assert not night.targets[copernicus].usable
    for now_s in night.time_s[::30].tolist():
        assert copernicus not in queue(night.chances, state, now_s)
        assert copernicus not in [row for _, row in coming(night.chances, state, now_s)]
    dusk_s = night.twilights.civil_dusk_s + 60
    lit = [chance for chance in night.chances if chance.usable]
    assert minutes_per_target(night.chances, state, dusk_s) == minutes_per_target(lit, state, dusk_s)


def test_what_comes_into_light_later_tonight_is_coming_with_its_minute():
    night = opened(dt.date(2026, 11, 17))
    birt = night.row("birt")
    # By DE421 the scarp 0.9 degrees east of it has the Sun 1.82 degrees high at 18:00 UTC; 0.47 an hour.
    expected = unix("2026-11-17T16:56:00Z")
    waiting = {row: start for start, row in coming(night.chances, State(), expected - 3600)}
    assert waiting[birt] == pytest.approx(expected, abs=600)
    told = verdict_at(night, birt, expected - 5400)
    assert told.cause is Cause.NO_SUN_ON_IT
    assert reason_text(told, VIENNA.zone) == "in shadow; good light from 17:55"


def test_what_has_no_light_tonight_is_told_with_the_first_night_that_has():
    night = opened(dt.date(2026, 11, 17))
    told = dict(zip(NAMES, verdicts(night), strict=True))
    # The Sun rises over Copernicus on 18 November 2026 in the morning of Europe (colongitude 20 degrees).
    assert told["Copernicus"].word is Word.OUT
    assert reason_text(told["Copernicus"], VIENNA.zone) == "in shadow; good light on 18 Nov"
    assert told["Mare Orientale"].cause is Cause.TURNED_AWAY


def test_verdict_and_row_of_the_light_name_the_same_night():
    for day in range(15, 25):
        night = opened(dt.date(2026, 12, day), VIENNA, NAMES[::4])
        evening_s = float(night.time_s[0]) + 6 * 3600.0
        for target, verdict in zip(night.targets, verdicts(night), strict=True):
            if not isinstance(verdict.reason, WrongLight) or verdict.reason.coming_s or target.usable:
                continue
            of_verdict = re.search(r"good light on (.*)|no good light", reason_text(verdict, VIENNA.zone))
            of_row = re.fullmatch(
                r"good on (.*)|no good light.*",
                light_until(target.feature, evening_s, night.end_s, VIENNA.zone),
            )
            assert of_row is None or of_row[1] == of_verdict[1], target.subject.name


def test_peaks_that_catch_the_sun_over_dark_ground_are_a_sight():
    night = opened(dt.date(2026, 11, 17))
    row = night.row("monspico")
    at_s = next(
        float(moment) for moment, sun in zip(night.time_s, night.targets[row].feature.sun_deg, strict=True)
        if -2.5 < sun < -0.5 and night.targets[row].chance.is_up(float(moment))
    )  # fmt: skip
    told = verdict_at(night, row, at_s)
    assert told.word.shows


@pytest.mark.parametrize("site", [VIENNA, rarely(SOUTH)], ids=["north", "south"])
def test_no_feature_with_an_hour_of_good_light_is_refused(site):
    """A lunation of evenings, every fifth: with the Moon up and the Sun right for an hour it is not out."""
    tried = 0
    for day in range(0, 30, 5):
        night = opened(dt.date(2027, 3, 9) + dt.timedelta(days=day), site, NAMES[::6])
        told = verdicts(night)
        for row, target in enumerate(night.targets):
            hours = sum(stretch.end_s - stretch.start_s for stretch in target.usable) / 3600
            if hours < 1 or told[row].cause is Cause.APERTURE:
                continue
            tried += 1
            assert told[row].word.shows, (night.date, target.subject.name)
    assert tried > 15


def test_a_full_moon_has_a_walk_too():
    night = opened(dt.date(2027, 1, 22))  # full Moon of 2027-01-22 12:17 UTC (any almanac)
    lit = [one.subject for one in night.targets if one.usable]
    assert {"Tycho", "Proclus", "Reiner Gamma", "Linné"} <= {one.name for one in lit}
    assert len(lit) > 25


def test_a_place_that_no_table_has_is_judged_by_its_light():
    subject = resolve(Target(name="my pit", selenographic="+9.62 -20.08"))
    where = Circumstances(date=dt.date(2026, 11, 17), site=VIENNA, kit=KIT, person=Person())
    night = open_night(SKY, where, [subject])
    moment, _, _, _, height = ROWS["moon-sun-height-de421"]["rows"][0]
    assert night.along(night.targets[0].feature.sun_deg, unix(moment)) == pytest.approx(height, abs=0.02)
    assert verdicts(night)[0].word is Word.OUT


def test_a_scarp_is_no_wide_plain_under_a_high_sun():
    """Common practice: days after its sunrise the Straight Wall is hard to make out, 116 km as it is."""
    night = opened(dt.date(2026, 10, 21), names=("Rupes Recta", "Plato"))
    wall, plain = verdicts(night)
    assert (wall.word, plain.word) == (Word.FAIR, Word.EASY)
    assert reason_text(wall, VIENNA.zone).startswith("Sun 3")
