"""Second thoughts: what is dropped, taken back, set aside or found changed is not lost without a word."""

import pytest
from textual import events

from nightmode.app.say import Say
from nightmode.errors import NightmodeError
from nightmode.model.session import Event
from nightmode.night.loading import check_tonight, new_head
from nightmode.session.journal import read
from nightmode.session.opening import opened


def screen_text(app):
    page = app.screen.page
    return "\n".join("".join(text for text, _ in row) for row in page.lines)


def shown_name(app):
    return app.walker.name(app.walker.shown(app.now_s()))


async def test_a_note_that_was_dropped_can_be_brought_back_and_is_only_then_on_disk(walking, journal):
    async with walking() as (app, pilot):
        await pilot.press("n", *"round", "space", *"core", "escape")
        assert "up key brings it back" in screen_text(app)
        assert read(journal).entries == ()
        await pilot.press("n", "up", *"!", "up", "enter")
    assert [entry.note for entry in read(journal).entries if entry.note] == ["round core!"]


async def test_a_reading_dropped_is_not_brought_back_into_a_note(walking, journal):
    async with walking() as (app, pilot):
        await pilot.press("m", *"21", "escape")
        assert "brings it back" not in screen_text(app)
        await pilot.press("n", "up", "enter", "space")
    assert [entry.event for entry in read(journal).entries[:1]] == [Event.TICK]


async def test_a_note_that_is_full_says_so_and_keeps_what_fits(walking, journal):
    async with walking() as (app, pilot):
        await pilot.press("n")
        app.post_message(events.Paste("a" * 1999))
        await pilot.pause()
        assert "no room" not in screen_text(app)
        app.post_message(events.Paste("bcd"))
        await pilot.pause()
        assert "no room for more: enter keeps it" in screen_text(app)
        await pilot.press("e", "enter")
    assert [entry.note for entry in read(journal).entries if entry.note] == ["a" * 1999 + "b"]


async def test_the_note_names_the_other_target_that_tab_puts_it_on(walking):
    async with walking() as (app, pilot):
        first = shown_name(app)
        await pilot.press("n")
        assert "tab: on the night" in screen_text(app)
        await pilot.press("escape", "space", "n")
        assert f"note on {shown_name(app)}: " in screen_text(app)
        assert f"tab: on {first}" in screen_text(app)
        await pilot.press("tab")
        assert f"note on {first}: " in screen_text(app)
        assert "tab: on the night" in screen_text(app)
        await pilot.press("tab", *"fox", "enter")
        assert "noted on the night: fox" in screen_text(app)
        await pilot.press("n", "tab", "tab", "tab")
        assert f"note on {shown_name(app)}: " in screen_text(app)


async def test_with_nothing_up_tab_puts_the_note_on_the_target_ticked_last(walking, journal, clock, loaded):
    async with walking() as (app, pilot):
        first = shown_name(app)
        await pilot.press("space")
        clock.set_s = loaded.night.twilights.sunrise_s
        await pilot.press("n")
        assert "note on the night: " in screen_text(app)
        await pilot.press("tab", *"late", "enter")
    assert [entry.target for entry in read(journal).entries if entry.note] == [first]


async def test_set_aside_again_and_again_shows_every_target_set_aside(walking, clock, loaded):
    """Where nothing else is left, a target set aside once more makes room for the next one."""
    async with walking() as (app, pilot):
        up = app.walker.queue(clock.set_s)
        await pilot.press(*["z"] * len(up))
        seen = set()
        for _ in up:
            seen.add(app.walker.shown(clock.set_s))
            await pilot.press("z")
        assert seen == set(up)


async def test_a_target_below_the_horizon_called_seen_is_recorded_and_questioned(walking, journal, clock):
    async with walking() as (app, pilot):
        night = app.walker.night
        below = min(range(len(night.targets)), key=lambda row: night.altitude_at(row, clock.set_s))
        name = app.walker.name(below)
        assert night.altitude_at(below, clock.set_s) < 0.0
        for key, outcome in (("space", "seen"), ("s", "suspected")):
            app.walker.show(below)
            await pilot.press(key)
            assert f"{name}: {outcome}, though it is below the horizon: u undoes" in screen_text(app)
        app.walker.show(below)
        await pilot.press("z")
        assert "horizon" not in screen_text(app).splitlines()[-2]
    assert [entry.outcome.value for entry in read(journal).entries[:3]] == ["seen", "suspected", "set aside"]


UNDONE = [
    (["c", "4", "6", "enter"], "clouds; clear only: SE SW"),
    (["c", "0"], "clear all round"),
    (["w"], "white light"),
    (["m", *"21,5", "enter"], "sky 21.50 mag/arcsec²"),
    (["i", "2"], "seeing II"),
    (["t", "4"], "transparency 4 of 5"),
    (["t", "h"], "heavy dew"),
]


async def test_undo_says_what_it_took_back(walking):
    async with walking() as (app, pilot):
        for keys, words in UNDONE:
            await pilot.press(*keys)
            assert words in screen_text(app)
            await pilot.press("u")
            assert f" undone: {words}\n" in screen_text(app).replace(" \n", "\n")
        assert app.walker.state.last_undoable is None


async def test_going_on_says_what_has_changed_since(walking, loaded, journal):
    async with walking() as (_, pilot):
        await pilot.press("space")
    head = new_head(loaded, rehearsal=True)
    elsewhere = {"site": "Quartz ridge", "telescope": "80 mm refractor", "digest": "0" * 16}
    for changed, words in (
        ({}, ()),
        ({"latitude_deg": head.latitude_deg + 0.001}, ()),
        ({"longitude_deg": head.longitude_deg + 1.0}, ("Larkfell hillside has another position since",)),
        (
            elsewhere,
            (
                "the plan has changed since",
                "the site was Larkfell hillside, now Quartz ridge",
                "the telescope was 200 mm reflector, now 80 mm refractor",
            ),
        ),
    ):
        now = head.model_copy(update=changed)
        with opened(loaded.path, now, journal, 0.0) as (_, said):
            assert said.split("; ")[1:] == list(words)


async def test_a_telescope_that_the_head_does_not_name_is_noted_with_the_tick(walking, loaded, journal):
    other = new_head(loaded, rehearsal=True).model_copy(update={"telescope": "80 mm refractor"})
    with opened(loaded.path, other, journal, 0.0):
        pass
    async with walking() as (_, pilot):
        await pilot.press("space")
    assert read(journal).entries[0].telescope == loaded.night.kit.telescope.name


def first_to_set(app, clock):
    """Move the clock to a minute before the target shown sets; return its row and when it sets."""
    row = app.walker.shown(clock.set_s)
    ends_s = app.walker.night.targets[row].chance.stretch(clock.set_s).end_s
    clock.set_s = ends_s - 60.0
    return row, ends_s


async def test_a_target_that_sets_under_the_observer_s_hand_is_not_ticked_as_the_next_one(
    walking, journal, clock
):
    async with walking() as (app, pilot):
        first, ends_s = first_to_set(app, clock)
        await pilot.press("f5")
        app.screen.draw()
        assert shown_name(app) == app.walker.name(first)
        clock.set_s = ends_s + 1.0
        for key in ("space", "3"):
            await pilot.press(key)
            message = screen_text(app).splitlines()[-2]
            if key == "space":
                assert f"{app.walker.name(first)} has set; this is {shown_name(app)}" in message
                assert read(journal).entries == ()
        assert [entry.target for entry in read(journal).entries[:1]] == [shown_name(app)]
        name = shown_name(app)
        await pilot.press("space")
        assert read(journal).entries[1].target == name
    assert len([entry for entry in read(journal).entries if entry.outcome]) == 1


async def test_the_page_says_that_a_target_has_set_when_it_goes_on_by_itself(walking, clock):
    async with walking() as (app, pilot):
        first, ends_s = first_to_set(app, clock)
        clock.set_s = ends_s + 1.0
        app.screen.follow()
        await pilot.pause()
        assert f"{app.walker.name(first)} has set; this is {shown_name(app)}" in screen_text(app)
        await pilot.press("s")
        assert app.walker.state.ticks
        assert "has set" not in screen_text(app)


async def test_what_a_key_changes_is_not_told_as_gone_by_itself(walking, clock):
    async with walking() as (app, pilot):
        await pilot.press("z", "j", "escape", "c", "1", "enter", "c", "0", "k", "space")
        app.screen.follow()
        await pilot.pause()
        assert "has set" not in screen_text(app)


async def test_the_key_that_lights_a_dimmed_screen_says_that_it_did_nothing_else(walking, journal):
    async with walking() as (app, pilot):
        app.is_dimmed = True
        await pilot.press("space")
        assert not app.is_dimmed
        assert "lit again; that key did nothing else" in screen_text(app)
        assert read(journal).entries == ()
        await pilot.press("space")
        assert len(app.walker.state.ticks) == 1


async def test_the_list_shows_what_its_cursor_stood_on_also_when_the_order_has_changed(walking, clock):
    async with walking() as (app, pilot):
        await pilot.press("l", "j", "j", "j")
        before = app.walker.order(app.now_s())
        chosen = app.walker.name(before[3])
        clock.set_s += 2 * 3600.0
        assert app.walker.order(app.now_s()) != before
        await pilot.press("enter")
        assert shown_name(app) == chosen


async def test_an_alert_outlasts_the_dark(walking):
    async with walking() as (app, pilot):
        for darken in ("b", ""):
            await pilot.press(*darken)
            app.screen.tell(Say("any key tries again", alert="NOT SAVED"))
            app.is_dimmed = not darken
            await pilot.press("space")
            assert not app.is_dark
            assert "NOT SAVED" in screen_text(app)


@pytest.mark.parametrize("key", ["space", "s", "x", "z", "u", "1", "w"])
async def test_a_key_that_records_says_that_it_has_only_lit_a_black_screen(walking, journal, key):
    async with walking() as (app, pilot):
        await pilot.press("b", key)
        assert "lit again; that key did nothing else" in screen_text(app)
        for other in ("b", "j", "escape", "l"):
            await pilot.press("b", other)
            assert "lit again" not in screen_text(app)
    assert read(journal).entries == ()


async def test_a_screen_that_dims_under_a_note_loses_no_letter_of_it(walking, journal):
    async with walking() as (app, pilot):
        await pilot.press("n", *"two", "space")
        app.is_dimmed = True
        await pilot.press(*"arms")
        assert not app.is_dimmed
        app.is_dimmed = True
        app.post_message(events.Paste(", one long"))
        await pilot.pause()
        app.is_dimmed = True
        await pilot.press("enter")
    assert [entry.note for entry in read(journal).entries if entry.note] == ["two arms, one long"]


async def test_a_note_entered_or_dropped_leaves_nothing_beside_the_journal(walking, journal):
    beside = journal.with_name(f"{journal.name}.note")
    for last, notes in (("enter", ["half"]), ("escape", ["half"])):
        async with walking() as (app, pilot):
            await pilot.press("n", *"half")
            app.screen.keep_so_far()
            assert "half" in beside.read_text()
            await pilot.press(last)
            assert not beside.exists()
        assert [entry.note for entry in read(journal).entries if entry.note] == notes


async def test_a_note_is_kept_while_the_hand_does_not_rest(walking, journal, monkeypatch):
    beside = journal.with_name(f"{journal.name}.note")
    async with walking() as (app, pilot):
        await pilot.press("n", "a")
        since_s = app.steady_s()
        for later_s, kept in ((4.0, ""), (6.0, "abc"), (8.0, "abc"), (12.0, "abcde")):
            monkeypatch.setattr(app, "steady_s", lambda later_s=later_s: since_s + later_s)
            await pilot.press({4.0: "b", 6.0: "c", 8.0: "d", 12.0: "e"}[later_s])
            assert (f'note = "{kept}"' in beside.read_text()) if kept else not beside.exists()


async def test_answers_that_do_not_fit_on_one_row_stay_apart(walking):
    async with walking(size=(50, 20)) as (app, pilot):
        await pilot.press("n")
        assert "enter keeps  esc: drop  tab:" in screen_text(app)
        await pilot.press("escape", "c")
        assert "8NW  0 all" in screen_text(app)
        assert "enter keeps  esc drops" in screen_text(app)


@pytest.mark.parametrize(("days", "may_be_the_clock"), [(1, False), (364, True), (-365, True)])
def test_a_plan_walked_a_year_too_early_or_late_asks_about_the_clock(loaded, days, may_be_the_clock):
    with pytest.raises(NightmodeError, match="walk it tonight with --night") as refused:
        check_tonight(loaded.path, loaded.night, loaded.night.begins_s + days * 86400)
    assert ("set the computer's clock right" in str(refused.value)) == may_be_the_clock
