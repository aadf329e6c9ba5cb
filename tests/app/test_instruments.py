"""Several instruments in the walk: one key changes, eyepiece, field and verdict follow, the record tells."""

import json
from contextlib import asynccontextmanager

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from turns import costly
from two_instruments import HILL

from nightmode.app.app import WalkApp
from nightmode.app.hand import Hand
from nightmode.app.theme import EMBER
from nightmode.app.walker import Walker
from nightmode.cli.main import main
from nightmode.model.session import Event, Outcome
from nightmode.night.loading import new_head
from nightmode.night.verdict import verdict_at
from nightmode.session.journal import create, read
from nightmode.session.opening import opened
from nightmode.session.record import Session
from nightmode.words import Word

OBSERVER = f"""{HILL}
[[eyepiece]]
name = "20 mm"
focal_length_mm = 20
apparent_field_deg = 68
[[eyepiece]]
name = "10 mm"
focal_length_mm = 10
apparent_field_deg = 68
[[finder]]
name = "8x50"
kind = "optical"
"""


def screen_text(app):
    return "\n".join("".join(text for text, _ in row) for row in app.screen.page.lines)


NAMES = ("M 13", "M 57", "M 31", "M 45", "Albireo", "NGC 7000", "Saturn")


def plan(telescope):
    tables = "".join(f'[[target]]\nname = "{one}"\n' for one in NAMES)
    return f'title = "Two"\nnight = 2026-12-12\nsite = "Hill"\ntelescope = {json.dumps(telescope)}\n{tables}'


@pytest.fixture
def two(loaded_from):
    return loaded_from(plan(["Grey tube", "Old 10x50"]), OBSERVER)


@pytest.fixture
def walking_two(two, clock, journal):
    clock.set_s = two.night.twilights.dark_s[0] + 60.0

    @asynccontextmanager
    async def run(size=(80, 24)):
        with opened(two.path, new_head(two, rehearsal=True), journal, 0.0) as (session, _):
            app = WalkApp(Walker(two.night, session), clock, EMBER, None, hand=Hand(0.0))
            async with app.run_test(size=size) as pilot:
                await pilot.pause()
                yield app, pilot

    return run


def show(app, name):
    app.walker.show(app.walker.night.row(name.replace(" ", "").casefold()))
    app.screen.draw()


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 18)])
async def test_one_key_changes_the_instrument_and_all_that_follows_from_it(walking_two, size):
    async with walking_two(size) as (app, pilot):
        show(app, "Albireo")
        told = screen_text(app)
        assert "with     Grey tube   o: Old 10x50" in told
        assert "find     20 mm   75x" in told
        await pilot.press("o")
        told = screen_text(app)
        assert "with     Old 10x50   o: Grey tube" in told
        assert "look     Old 10x50   10x  6.5°" in told
        assert "find" not in told
        row = app.walker.shown(app.now_s())
        assert app.walker.verdict(row, app.now_s()).word.rank > Word.EASY.rank
        await pilot.press("o")
        assert "with     Grey tube" in screen_text(app)
        assert app.walker.verdict(row, app.now_s()).word is Word.EASY


async def test_each_target_keeps_the_instrument_taken_for_it(walking_two):
    async with walking_two() as (app, pilot):
        show(app, "M 57")
        await pilot.press("o")
        show(app, "M 45")
        assert "with     Old 10x50" in screen_text(app)
        show(app, "M 13")
        assert "with     Grey tube" in screen_text(app)
        show(app, "M 57")
        assert "with     Old 10x50" in screen_text(app)
        await pilot.press("m", *"21.0", "enter")
        assert "with     Old 10x50" in screen_text(app)
        await pilot.press("l")
        rows = {line[4:16].strip(): line for line in screen_text(app).splitlines()}
        assert "Old 10x50" in rows["M 57"]
        assert "Grey tube" in rows["M 13"]


async def test_the_views_of_aiming_follow(walking_two):
    async with walking_two() as (app, pilot):
        show(app, "M 57")
        await pilot.press("a", "a", "a")
        assert "8x50" in screen_text(app)
        await pilot.press("o")
        assert "8x50" not in screen_text(app)
        for _ in range(3):
            await pilot.press("a")
            if "a: sky" in screen_text(app):
                break
        assert "6.5°" in screen_text(app)


async def test_a_tick_records_instrument_and_eyepiece_and_undo_gives_both_back(walking_two, journal):
    async with walking_two() as (app, pilot):
        show(app, "M 57")
        await pilot.press("e", "space")
        show(app, "Albireo")
        await pilot.press("o", "x", "u")
        assert "undone: Albireo: not seen" in screen_text(app)
        assert "with     Old 10x50" in screen_text(app)
    ticks = [one for one in read(journal).entries if one.event is Event.TICK]
    used = [(one.target, one.telescope, one.eyepiece) for one in ticks]
    assert used == [("M 57", "Grey tube", "20 mm"), ("Albireo", "Old 10x50", "Old 10x50")]
    assert ticks[1].outcome is Outcome.NOT_SEEN
    assert ticks[1].verdict != "easy"


async def test_going_on_shows_what_was_ticked_in_its_instrument(walking_two, journal):
    async with walking_two() as (app, pilot):
        show(app, "M 57")
        await pilot.press("o", "space")
    async with walking_two() as (app, pilot):
        show(app, "M 57")
        assert "with     Old 10x50" in screen_text(app)
        show(app, "M 13")
        assert "with     Grey tube" in screen_text(app)


async def test_with_one_instrument_the_key_says_so_and_no_line_is_lost(walking, journal):
    async with walking() as (app, pilot):
        before = screen_text(app)
        assert "with  " not in before
        await pilot.press("o")
        assert "this plan has one instrument: 200 mm reflector" in screen_text(app)
        await pilot.press("space")
    assert {entry.telescope for entry in read(journal).entries} == {None}


@pytest.fixture
def alone(loaded_from):
    return {name: loaded_from(plan(name), OBSERVER).night for name in ("Grey tube", "Old 10x50")}


@settings(costly(2), suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.sampled_from(["o", "e", "j", "k", "space", "u", "m"]), max_size=14), st.floats(0.1, 0.9))
def test_whatever_keys_came_before_all_is_as_with_that_instrument_alone(two, alone, tmp_path, keys, share):
    journal = tmp_path / "session.toml"
    journal.unlink(missing_ok=True)
    walker = Walker(two.night, Session(create(journal, new_head(two, rehearsal=True))))
    first, last = two.night.twilights.dark_s
    now_s = first + share * (last - first)
    for key in keys:
        match key:
            case "o":
                walker.other_instrument(now_s)
            case "e":
                walker.other_eyepiece()
            case "j" | "k":
                walker.step(1 if key == "j" else -1, now_s)
            case "space":
                walker.tick(Outcome.SEEN, now_s)
            case "u":
                walker.undo(now_s)
            case "m":
                walker.sky_reading("20.9", now_s)
        row = walker.shown(now_s)
        if row is None:
            continue
        target = walker.night.targets[row]
        one = alone[target.kit.telescope.name]
        assert target.choices == one.targets[row].choices or walker.state.sky_reading
        assert walker.combination(row) in target.choices
        told = walker.verdict(row, now_s)
        if not walker.state.sky_reading:
            assert told == verdict_at(one, row, now_s // 60 * 60.0, walker.combination(row))
        assert target.usable == one.targets[row].usable


def test_the_log_tells_with_which_instrument(two, tmp_path, capsys):
    path = tmp_path / "data" / "nightmode" / "sessions" / "two.toml"
    path.parent.mkdir(parents=True)
    walker = Walker(two.night, Session(create(path, new_head(two, rehearsal=False))))
    now_s = two.night.twilights.dark_s[0] + 600.0
    for name in ("M 57", "M 31"):
        walker.show(two.night.row(name.replace(" ", "").casefold()))
        walker.tick(Outcome.SEEN, now_s)
    assert main(["log", str(path)]) == 0
    told = capsys.readouterr().out
    assert "Hill, Grey tube and Old 10x50" in told
    assert "Grey t…: 10 mm" in told
    assert "Old 10x50" in told.split("M 31")[1]
    assert main(["log", str(path), "--format", "json"]) == 0
    looks = json.loads(capsys.readouterr().out)["nights"][0]["looks"]
    assert {one["target"]: one["telescope"] for one in looks} == {"M 57": "Grey tube", "M 31": "Old 10x50"}
    assert main(["log", str(path), "--format", "csv"]) == 0
    rows = capsys.readouterr().out.splitlines()
    assert [row.split(",")[3] for row in rows] == ["telescope", "Grey tube", "Old 10x50"]


async def test_the_lists_of_the_evening_and_the_morning_count_both_instruments(walking_two, two, clock):
    clock.set_s = two.night.twilights.sunset_s - 600.0
    async with walking_two() as (app, pilot):
        assert "instruments: Grey tube and Old 10x50" in screen_text(app)
        clock.set_s = two.night.twilights.darkest_s + 3600.0
        await pilot.press("escape", "p")
        assert "instruments: Grey tube and Old 10x50" in screen_text(app)
