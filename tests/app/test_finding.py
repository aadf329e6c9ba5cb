"""A target that the plan does not have is found by its name and walked like the others."""

import datetime as dt

import pytest
from app.north_field import FIELD
from light.cells import assert_all_red
from night.test_moving import COMET, MINOR, PLAN

from nightmode.app.app import WalkApp
from nightmode.app.finding import Also, find, undo
from nightmode.app.hand import Hand
from nightmode.app.theme import EMBER
from nightmode.app.walker import Walker
from nightmode.model.session import Entry, Event, Outcome
from nightmode.night.loading import load_night, new_head
from nightmode.session.journal import read
from nightmode.session.opening import opened, watched


def screen_text(app):
    return "\n".join("".join(text for text, _ in row) for row in app.screen.page.lines)


@pytest.fixture
def finding(loaded, clock, journal):
    """Return what types a name after `/` and gives what stands on the screen then."""

    async def run(*typed, then=()):
        with opened(loaded.path, new_head(loaded, rehearsal=True), journal, 0.0) as (session, _):
            app = WalkApp(
                Walker(loaded.night, session), clock, EMBER, None, hand=Hand(0.0), also=Also(loaded)
            )
            async with app.run_test(size=(80, 24)) as pilot:
                await pilot.pause()
                for name in typed:
                    await pilot.press(
                        "slash", *(("space" if sign == " " else sign) for sign in name), "enter"
                    )
                await pilot.press(*then)
                await pilot.pause()
                assert_all_red(app)
                return app, screen_text(app)

    return run


async def test_what_the_plan_lacks_is_shown_with_all_that_the_others_have(finding, loaded, journal):
    app, shown = await finding("ngc 6207")
    assert "NGC 6207 is added for tonight" in shown
    assert "galaxy in Her" in shown
    for label in ("altitude", "find", "look"):
        assert label in shown
    rows = app.walker.night.targets
    assert [one.subject.name for one in rows] == [
        *(one.subject.name for one in loaded.night.targets),
        "NGC 6207",
    ]
    (entry,) = read(journal).entries
    assert (entry.event, entry.target) == (Event.ADD, "NGC 6207")


async def test_what_was_added_is_ticked_noted_on_undone_and_charted_like_the_others(finding, journal):
    app, shown = await finding("M 27", "NGC 6543", then=("1", "space", "u", "s", "a"))
    assert app.walker.name(len(app.walker.night.targets) - 2) == "M 27"
    first, second, noted, tick, undo, last = read(journal).entries
    assert [(entry.event, entry.target) for entry in (first, second)] == [
        (Event.ADD, "M 27"),
        (Event.ADD, "NGC 6543"),
    ]
    assert {entry.target for entry in (noted, tick, undo, last)} == {"NGC 6543"}
    assert (undo.event, last.outcome) == (Event.UNDO, Outcome.SUSPECTED)
    assert last.eyepiece
    assert last.altitude_deg > 0
    assert "begin" in shown


@pytest.mark.parametrize("typed", ["m31", "NGC 224", "andromeda galaxy", "M 31"])
async def test_what_the_plan_has_is_shown_under_any_of_its_names_and_not_added(finding, loaded, typed):
    app, shown = await finding(typed)
    assert "this is M 31" in shown
    assert len(app.walker.night.targets) == len(loaded.night.targets)


@pytest.mark.parametrize("typed", ["61 Cygni", "61 cyg", "STF 2758"])
def test_a_star_of_the_plan_in_short_is_shown_under_its_full_name_too(loaded_from, clock, journal, typed):
    short = loaded_from(f'{FIELD}[[target]]\nname = "61 Cyg"\n')
    with opened(short.path, new_head(short, rehearsal=True), journal, 0.0) as (session, _):
        walker = Walker(short.night, session)
        assert find(walker, typed, Also(short), clock.now_s()).text == "this is 61 Cyg"
        assert find(walker, "Denebola AD", Also(short), clock.now_s()).text.endswith("is added for tonight")
        assert find(walker, "Denebola", Also(short), clock.now_s()).text.endswith("is added for tonight")


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("M 999", "M numbers run from 1 to 110"),
        ("sun", "the Sun is never a target"),
        ("Andromida galxy", "did you mean Andromeda Galaxy"),
        ("x" * 90, "write at most 80"),
        ("[bold]\\", "is not in the catalogue"),
    ],
)
async def test_what_nobody_knows_is_told_and_changes_nothing(finding, loaded, journal, typed, told):
    app, shown = await finding(typed)
    assert told in " ".join(shown.split())
    assert len(app.walker.night.targets) == len(loaded.night.targets)
    assert not app.walker.looks_elsewhere
    assert read(journal).entries == ()


async def test_what_is_done_and_the_reading_of_the_sky_stay_when_something_is_added(finding, loaded):
    app, _ = await finding("M 27", then=("space", "m", "2", "0", "enter", "slash", *"M3", "enter"))
    assert list(app.walker.state.ticks) == ["m27"]
    assert app.walker.night.zenith_mag != loaded.night.zenith_mag
    assert app.walker.standing(len(loaded.night.targets), app.now_s()).value == "done"


async def test_a_name_typed_where_a_session_is_watched_leaves_the_note_that_is_typed_in_it(
    loaded, clock, journal
):
    head, beside = new_head(loaded, rehearsal=True), journal.with_name(f"{journal.name}.note")
    note = Entry(at=dt.datetime(2027, 1, 9, 21, tzinfo=dt.UTC), event=Event.NOTE, note="two dark lanes")
    with opened(loaded.path, head, journal, 0.0) as (held, _):
        held.keep_note(note)
        with watched(loaded.path, head, journal) as (session, _):
            walker = Walker(loaded.night, session)
            app = WalkApp(walker, clock, EMBER, None, hand=Hand(0.0), also=Also(loaded))
            async with app.run_test(size=(80, 24)) as pilot:
                for last in ("escape", "enter"):
                    await pilot.press("slash", *"M31", last)
                    assert "two dark lanes" in beside.read_text()


async def test_a_list_that_is_open_where_a_session_is_watched_outlasts_the_undo_of_its_last_target(
    loaded, clock, journal
):
    head, at = new_head(loaded, rehearsal=True), dt.datetime(2027, 1, 9, 21, tzinfo=dt.UTC)
    with (
        opened(loaded.path, head, journal, 0.0) as (held, _),
        watched(loaded.path, head, journal) as (seen, _),
    ):
        app = WalkApp(Walker(loaded.night, seen), clock, EMBER, None, hand=Hand(0.0), also=Also(loaded))
        async with app.run_test(size=(80, 24)) as pilot:
            walk = app.screen
            held.do(Entry(at=at, event=Event.ADD, target="M 27"))
            walk.follow()
            app.walker.show(app.walker.night.row("m27"))
            await pilot.press("l")
            assert "M 27" in screen_text(app)
            held.do(Entry(at=at, event=Event.UNDO, target="M 27"))
            walk.follow()
            await pilot.press("k")
            assert "M 27" not in screen_text(app)
            await pilot.press("enter")
            assert app.walker.shown(clock.now_s()) is not None


async def test_undo_takes_out_what_was_added_last_and_leaves_the_tick_before_it(finding, loaded, journal):
    app, shown = await finding("M 27", then=("space", "slash", *"M5", "enter", "u"))
    assert "undone: M 5: added for tonight" in shown
    assert app.walker.night.row("m5") is None
    assert app.walker.standing(len(loaded.night.targets), app.now_s()).value == "done"
    assert "M 5" not in [one.subject.name for one in app.walker.night.targets]
    again, shown = await finding("M5", then=("u", "u", "u", "u"))
    assert "nothing left to undo" in shown
    assert len(again.walker.night.targets) == len(loaded.night.targets)


async def test_what_the_plan_got_meanwhile_stays_when_adding_it_is_undone(loaded, clock, journal):
    with opened(loaded.path, new_head(loaded, rehearsal=True), journal, 0.0) as (session, _):
        walker = Walker(loaded.night, session)
        walker.mark(Event.PAUSE, clock.now_s())
        session.do(Entry(at=dt.datetime(2027, 1, 9, 21, tzinfo=dt.UTC), event=Event.ADD, target="M 31"))
        undo(walker, Also(loaded), clock.now_s())
        assert walker.night.row("m31") is not None


@pytest.mark.parametrize("typed", [("slash", *"M31"), ("m", "2")])
async def test_half_a_name_or_figure_is_dropped_when_the_program_is_ended(walking, journal, typed):
    async with walking() as (app, pilot):
        await pilot.press(*typed)
        app.before_end()
        assert not app.walker.looks_elsewhere
    assert [entry.event for entry in read(journal).entries] == [Event.PAUSE]


@pytest.mark.parametrize("typed", ["Invented", "C/2027 A1 (Invented)", "1 Ceres"])
def test_a_comet_or_minor_planet_of_the_plan_is_shown_under_any_of_its_names(tmp_path, clock, journal, typed):
    (tmp_path / "moving.txt").write_text(COMET + MINOR)
    (tmp_path / "observer.toml").write_text("")
    (tmp_path / "plan.toml").write_text(f'{PLAN}[[target]]\nname = "C/2027 A1"\n[[target]]\nname = "Ceres"\n')
    loaded = load_night(tmp_path / "plan.toml", tmp_path / "observer.toml", None, 0.0)
    with opened(loaded.path, new_head(loaded, rehearsal=True), journal, 0.0) as (session, _):
        walker = Walker(loaded.night, session)
        said = find(walker, typed, Also(loaded), clock.now_s())
        assert said.text in {"this is C/2027 A1", "this is Ceres"}
        assert len(walker.night.targets) == 2
