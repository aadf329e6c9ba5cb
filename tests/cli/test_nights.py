"""nights: hours and Moon of the coming weeks against another ephemeris, the calendar, the flags."""

import argparse
import datetime as dt
import itertools
import json
import math
import re

import ephem
import icalendar
import pytest

from nightmode.cli import nights
from nightmode.errors import NightmodeError

PLACES = {
    "hill": (46.93, 14.62, 1120.0, "Europe/Vienna"),
    "south": (-35.2, 149.1, 600.0, "Australia/Sydney"),
    "north": (65.0, 25.5, 20.0, "Europe/Helsinki"),
    "west": (32.9, -105.5, 2200.0, "America/Denver"),
}


@pytest.fixture
def observer_file(tmp_path):
    rows = [
        f'[[site]]\nname = "{name}"\nlatitude_deg = {lat}\nlongitude_deg = {lon}\n'
        f'elevation_m = {height}\ntimezone = "{zone}"\n'
        for name, (lat, lon, height, zone) in PLACES.items()
    ]
    path = tmp_path / "observer.toml"
    path.write_text("\n".join(rows))
    return path


@pytest.fixture
def run(observer_file, capsys):
    def call(*flags):
        parser = argparse.ArgumentParser()
        nights.add(parser.add_subparsers())
        args = parser.parse_args(["nights", "--observer", str(observer_file), *map(str, flags)])
        assert args.run(args) == 0
        return capsys.readouterr().out

    return call


#: The Moon is looked at so often; where it has passed the horizon in between, the moment is sought.
STEP_DAYS, INSTANT_DAYS = 5 / 1440, 1 / 86400


def reference(place, date):
    """Dark and moonless dark hours by ephem: Sun's centre below -18, Moon's limb with 34' of refraction."""
    lat, lon, height, _ = PLACES[place]
    here = ephem.Observer()
    here.lat, here.lon, here.elevation, here.pressure = str(lat), str(lon), height, 0
    midnight = dt.datetime.combine(date + dt.timedelta(days=1), dt.time()) - dt.timedelta(hours=lon / 15)
    here.date, here.horizon = midnight, "-18"
    try:
        dusk = here.previous_setting(ephem.Sun(), use_center=True)
        dawn = here.next_rising(ephem.Sun(), use_center=True)
    except ephem.AlwaysUpError:
        return 0.0, 0.0
    edges = [float(dusk + step * STEP_DAYS) for step in range(int((dawn - dusk) / STEP_DAYS) + 1)]
    return (dawn - dusk) * 24, _moonless_days(here, [*edges, float(dawn)]) * 24


def _moonless_days(here, edges):
    is_down, found = _moon_is_down(here, edges[0]), 0.0
    for start, end in itertools.pairwise(edges):
        was_down, is_down = is_down, _moon_is_down(here, end)
        passes = end if was_down == is_down else _passage(here, start, end, was_down)
        found += was_down * (passes - start) + is_down * (end - passes)
    return found


def _passage(here, start, end, was_down):
    while end - start > INSTANT_DAYS:
        middle = (start + end) / 2
        start, end = (middle, end) if _moon_is_down(here, middle) == was_down else (start, middle)
    return end


def _moon_is_down(here, instant):
    here.date = instant
    moon = ephem.Moon(here)
    return math.degrees(moon.alt + moon.radius) < -34 / 60


@pytest.mark.parametrize("place", PLACES)
def test_dark_hours_with_and_without_moon_agree_with_ephem(run, place):
    listed = json.loads(run("--site", place, "--from", "2026-10-20", "--days", "32", "--json"))["nights"]
    assert len(listed) == 32  # a whole turn of the Moon
    for night in listed[::4]:
        dark, moonless = reference(place, dt.date.fromisoformat(night["night"]))
        assert night["dark_hours"] == pytest.approx(dark, abs=0.006)
        assert night["moonless_dark_hours"] == pytest.approx(moonless, abs=0.012)


def test_moon_times_agree_with_ephem(run):
    lat, lon, height, _ = PLACES["hill"]
    here = ephem.Observer()
    here.lat, here.lon, here.elevation, here.pressure, here.horizon = str(lat), str(lon), height, 0, "-0:34"
    for night in json.loads(run("--site", "hill", "--from", "2026-12-01", "--json"))["nights"]:
        noon = dt.datetime.fromisoformat(night["night"]) + dt.timedelta(hours=11)
        for key, event in (("moon_rises", here.next_rising), ("moon_sets", here.next_setting)):
            here.date = noon
            found = event(ephem.Moon()).datetime()
            if found >= noon + dt.timedelta(days=1):
                assert night[key] is None
            else:
                assert (
                    abs(dt.datetime.fromisoformat(night[key]).replace(tzinfo=None) - found).total_seconds()
                    < 20
                )


def test_full_and_new_moon_fall_on_the_nights_that_ephem_says(run):
    listed = json.loads(run("--site", "hill", "--from", "2026-12-01", "--days", "60", "--json"))["nights"]
    lit = {dt.date.fromisoformat(night["night"]): night["moon_illuminated"] for night in listed}
    for search, extreme in ((ephem.next_full_moon, max), (ephem.next_new_moon, min)):
        instant = search("2026/12/2").datetime()
        evening = (instant - dt.timedelta(hours=11)).date()
        month = {date: lit[date] for date in lit if abs((date - evening).days) <= 10}
        assert abs((extreme(month, key=month.get) - evening).days) <= 1
        assert lit[evening] == pytest.approx(1.0 if extreme is max else 0.0, abs=0.015)


def test_each_night_has_just_the_keys_promised(run):
    (night,) = json.loads(run("--site", "hill", "--from", "2026-12-13", "--days", "1", "--json"))["nights"]
    assert sorted(night) == sorted(
        [
            "night",
            "dark_hours",
            "moonless_dark_hours",
            "moon_illuminated",
            "moon_rises",
            "moon_sets",
            "good_for",
        ]
    )


@pytest.mark.parametrize(
    ("date", "word"),
    [("2026-12-09", "deep sky"), ("2026-12-23", "Moon and planets"), ("2026-12-26", "bright objects")],
)
def test_the_word_for_a_night_follows_the_moon(run, date, word):
    (night,) = json.loads(run("--site", "hill", "--from", date, "--days", "1", "--json"))["nights"]
    assert night["good_for"] == word


def test_a_northern_summer_is_called_what_it_is(run):
    text = run("--site", "north", "--from", "2026-06-15", "--days", "10")
    assert text.count("no real darkness") == 10
    assert "10 nights without astronomical darkness (Sun's lowest -2°)" in " ".join(text.split())
    assert "*" not in text


def test_the_best_run_is_marked_and_told(run):
    lines = run("--site", "hill", "--from", "2026-12-01", "--days", "31").splitlines()
    marked = [line for line in lines if line.startswith("* ") and "deep sky" in line]
    assert " 9 Dec" in "".join(marked)
    assert all("  0%" in line or int(line.split("%")[0].split()[-1]) < 25 for line in marked)
    assert any(line.startswith("* the best run: ") for line in lines)


def test_the_table_fits_eighty_columns(run):
    assert max(map(len, run("--site", "hill", "--from", "2026-12-01").splitlines())) <= 80


def test_a_change_of_clocks_is_mentioned(run):
    assert "The clocks change in the night of 24 Oct." in run(
        "--site", "hill", "--from", "2026-10-20", "--days", "9"
    )


def test_a_friends_file_with_another_time_zone_is_asked_about(run, observer_file):
    asked = ("Denver is 8 h off the Sun there", "Denver has the summer of the north")
    told = " ".join(run("--site", "hill", "--days", "3").split())
    assert not any(words in told for words in asked)
    observer_file.write_text(observer_file.read_text().replace("Europe/Vienna", "America/Denver"))
    told = " ".join(run("--site", "hill", "--days", "3").split())
    assert [words in told for words in asked] == [True, False]
    observer_file.write_text(observer_file.read_text().replace("Australia/Sydney", "America/Denver"))
    told = " ".join(run("--site", "south", "--days", "3").split())
    assert asked[1] in told


def test_the_calendar_is_read_by_another_reader(run, tmp_path):
    path = tmp_path / "dark.ics"
    assert "Wrote 10 nights to" in run("--site", "hill", "--from", "2026-12-01", "--ics", path)
    events = icalendar.Calendar.from_ical(path.read_bytes()).walk("VEVENT")
    assert len(events) == 10
    nights_listed = json.loads(run("--site", "hill", "--from", "2026-12-01", "--json"))["nights"]
    hours = {night["night"]: night["moonless_dark_hours"] for night in nights_listed}
    for event in events:
        length = (event.decoded("dtend") - event.decoded("dtstart")).total_seconds() / 3600
        evening = event.decoded("dtstart").date().isoformat()
        assert length == pytest.approx(hours[evening], abs=0.001)
        assert event["location"] == "hill"


def test_evenings_on_the_moon_are_those_around_first_quarter_too(run, tmp_path):
    """First quarter is on 17 December 2026 (almanac, from memory); the Moon then sets about midnight."""
    path, asked = tmp_path / "moon.ics", ("--site", "hill", "--from", "2026-12-10", "--days", "12")
    run(*asked, "--ics", path, "--pick", "moon")
    nights = {night["night"]: night for night in json.loads(run(*asked, "--json"))["nights"]}
    events = icalendar.Calendar.from_ical(path.read_bytes()).walk("VEVENT")
    evenings = {event.decoded("dtstart").date().isoformat(): event for event in events}
    assert {"2026-12-15", "2026-12-16", "2026-12-17"} <= set(evenings)
    assert "2026-12-10" not in evenings
    for evening, event in evenings.items():
        night = nights[evening]
        length_h = (event.decoded("dtend") - event.decoded("dtstart")).total_seconds() / 3600
        assert length_h == pytest.approx(night["dark_hours"] - night["moonless_dark_hours"], abs=0.01)
        assert length_h >= 2.0
        assert re.match(r"Moon, \d+ % lit: ", event["summary"])


def test_a_calendar_that_is_there_is_kept_unless_forced(run, tmp_path):
    path = tmp_path / "dark.ics"
    path.write_text("mine")
    with pytest.raises(NightmodeError, match="force"):
        run("--site", "hill", "--from", "2026-12-01", "--ics", path)
    assert path.read_text() == "mine"
    run("--site", "hill", "--from", "2026-12-01", "--ics", path, "--force")
    assert path.read_text().startswith("BEGIN:VCALENDAR")


@pytest.mark.parametrize(
    ("flags", "says"),
    [
        (["--from", "2026-13-01"], "--from: '2026-13-01' is not a date"),
        (["--days", "0"], "--days"),
        (["--days", "many"], "--days"),
        (["--days", "100000"], "400"),
        (["--site", "moonbase"], "known there: hill, south"),
        (["--from", "1800-01-01"], "1900"),
        (["--pick", "moon"], "add --ics FILE"),
        (["--from", "2026-06-15", "--site", "north", "--days", "3", "--ics", "x.ics"], "--pick"),
    ],
)
def test_bad_flags_are_one_sentence(run, flags, says):
    with pytest.raises(NightmodeError, match=says) as refused:
        run(*flags)
    assert "\n" not in str(refused.value)
