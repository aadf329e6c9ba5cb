"""The walk as the observer sees it: keys in, journal and screen out."""

import datetime as dt
import re

import pytest
from textual import events

from nightmode.history.earlier import Earlier
from nightmode.model.session import Event, Outcome
from nightmode.night.glow import is_glow
from nightmode.session.journal import read
from nightmode.walk.state import target_key


def screen_text(app):
    page = app.screen.page
    return "\n".join("".join(text for text, _ in row) for row in page.lines)


def shown_name(app):
    row = app.walker.shown(app.now_s())
    return app.walker.night.targets[row].subject.name


async def test_a_tick_is_on_disk_and_moves_on_at_once(walking, journal):
    ticks = {"space": "seen", "s": "suspected", "x": "not seen", "z": "set aside"}
    async with walking() as (app, pilot):
        for key, outcome in ticks.items():
            first = shown_name(app)
            await pilot.press(key)
            entry = read(journal).entries[-1]
            assert (entry.event, entry.target, entry.outcome) == (Event.TICK, first, Outcome(outcome))
            assert shown_name(app) != first
            assert f"{first}: {outcome}" in screen_text(app)


async def test_the_first_target_is_the_one_that_sets_first(walking, loaded):
    async with walking() as (app, _):
        now = app.now_s()
        up = [t for t in loaded.night.targets if t.usable and t.usable[0].start_s <= now < t.usable[0].end_s]
        assert shown_name(app) == min(up, key=lambda t: t.usable[0].end_s).subject.name


async def test_the_entry_holds_where_the_target_stood(walking, journal, loaded, clock):
    async with walking() as (app, pilot):
        row = app.walker.shown(app.now_s())
        await pilot.press("space")
    entry = read(journal).entries[0]
    assert entry.at.timestamp() == pytest.approx(clock.now_s(), abs=1)
    assert entry.altitude_deg == pytest.approx(loaded.night.altitude_at(row, clock.now_s()), abs=0.06)
    assert entry.at.utcoffset().total_seconds() == 3600


async def test_undo_takes_back_tick_after_tick(walking, journal):
    async with walking() as (app, pilot):
        first = shown_name(app)
        await pilot.press("space", "s", "x", "u", "u", "u")
        assert shown_name(app) == first
        assert not app.walker.state.ticks
        await pilot.press("u")
        assert "nothing left to undo" in screen_text(app)
    assert [entry.event for entry in read(journal).entries[:6]] == [Event.TICK] * 3 + [Event.UNDO] * 3


async def test_looking_ahead_and_coming_back(walking):
    async with walking() as (app, pilot):
        first = shown_name(app)
        await pilot.press("j", "down")
        assert shown_name(app) != first
        assert "esc: back" in screen_text(app)
        await pilot.press("up", "k")
        assert shown_name(app) == first
        assert "esc: back" not in screen_text(app)
        await pilot.press("j", "escape")
        assert shown_name(app) == first
        assert "esc: back" not in screen_text(app)


async def test_a_note_with_every_kind_of_quote_is_kept_word_for_word(walking, journal):
    async with walking() as (app, pilot):
        name = shown_name(app)
        await pilot.press("n", *'say "a"[b] \\', "enter")
        assert f"noted on {name}" in screen_text(app)
    entry = read(journal).entries[0]
    assert (entry.target, entry.note) == (name, 'say "a"[b] \\')


async def test_letters_typed_into_a_note_do_nothing_else(walking, journal):
    async with walking() as (app, pilot):
        await pilot.press("n", "q", "x", "space", "q", "u", "enter")
        assert app.is_running
    assert [entry.note for entry in read(journal).entries if entry.note] == ["qx qu"]


async def test_tab_puts_the_note_on_the_target_ticked_last(walking, journal):
    async with walking() as (app, pilot):
        first = shown_name(app)
        await pilot.press("space", "n", "tab", "h", "i", "enter")
    assert read(journal).entries[1].target == first


async def test_escape_drops_a_note(walking, journal):
    async with walking() as (_, pilot):
        await pilot.press("n", "a", "b", "escape", "space")
    assert [entry.event for entry in read(journal).entries[:1]] == [Event.TICK]


async def test_digits_enter_the_quick_phrases(walking, journal, loaded):
    async with walking() as (_, pilot):
        await pilot.press("3")
    assert read(journal).entries[0].note == loaded.night.person.phrases[2]


async def test_another_eyepiece_changes_the_look_and_is_recorded(walking, journal):
    async with walking() as (app, pilot):
        row = app.walker.shown(app.now_s())
        choices = app.walker.night.targets[row].choices
        assert len(choices) > 1
        await pilot.press("e", "space")
    assert read(journal).entries[0].eyepiece.startswith(choices[1].eyepiece)


async def test_leaving_asks_once_and_the_same_key_answers(walking, journal):
    async with walking() as (app, pilot):
        await pilot.press("q")
        assert "q again leaves" in screen_text(app)
        await pilot.press("space")
        assert "still here" in screen_text(app)
        assert not app.walker.state.ticks
        await pilot.press("q", "q")
        assert app._exit
    assert read(journal).entries[-1].event is Event.PAUSE


async def test_ctrl_c_asks_like_q(walking):
    async with walking() as (app, pilot):
        await pilot.press("l", "ctrl+c")
        assert "q again leaves" in screen_text(app)


async def test_going_on_says_what_was_done_and_offers_what_is_left(walking):
    async with walking() as (app, pilot):
        first = shown_name(app)
        await pilot.press("space", "s", "q", "q")
    async with walking() as (app, _):
        assert "going on: 2 done" in app.words
        assert target_key(first) in app.walker.state.ticks
        assert shown_name(app) != first


async def test_a_wrong_key_does_nothing(walking, journal):
    async with walking() as (app, pilot):
        before = screen_text(app)
        await pilot.press("y", "f5", "home", "tab", "ctrl+x", "A")
        assert screen_text(app) == before
    assert read(journal).entries == ()


@pytest.mark.parametrize("key", ["enter", "h", "f1"])
async def test_a_key_that_looks_for_help_is_told_which_key_lists_them(walking, journal, key):
    async with walking() as (app, pilot):
        await pilot.press(key)
        assert "the question mark lists all keys" in screen_text(app)
        await pilot.press("question_mark", "escape")
        assert "question mark" not in screen_text(app)
    assert read(journal).entries == ()


async def test_capitals_do_nothing_and_the_second_in_a_row_asks_about_caps_lock(walking, journal):
    async with walking() as (app, pilot):
        before = screen_text(app)
        await pilot.press("S")
        assert screen_text(app) == before
        await pilot.press("Y", "Q")
        assert screen_text(app) == before
        await pilot.press("X")
        assert "is caps lock on?" in screen_text(app)
        await pilot.press("j", "L")
        assert "caps lock" not in screen_text(app)
    assert read(journal).entries == ()


async def test_the_target_shown_is_not_swapped_when_another_rises(walking, loaded, clock):
    async with walking() as (app, pilot):
        await pilot.press("s")
        name = shown_name(app)
        row = app.walker.shown(app.now_s())
        end = loaded.night.targets[row].usable[0].end_s
        for step in range(10):
            clock.set_s += (end - clock.set_s) / 4
            app.screen.draw()
            assert shown_name(app) == name, step
        clock.set_s = end + 1
        assert shown_name(app) != name


async def test_the_walk_ends_by_saying_so(walking, loaded, clock):
    async with walking() as (app, _):
        clock.set_s = loaded.night.twilights.sunrise_s
        app.screen.draw()
        assert "the walk is done" in screen_text(app)


async def test_with_nothing_up_the_next_rising_is_named(walking, clock, loaded):
    async with walking() as (app, pilot):
        while app.walker.shown(app.now_s()) is not None:
            await pilot.press("space")
        _, row = app.walker.coming(app.now_s())[0]
        assert loaded.night.targets[row].subject.name in screen_text(app)
        assert "nothing to do just now" in screen_text(app)


async def test_clouds_leave_only_what_stands_in_the_clear(walking, loaded):
    async with walking() as (app, pilot):
        await pilot.press("c", "1", "enter")
        row = app.walker.shown(app.now_s())
        azimuth = loaded.night.azimuth_at(row, app.now_s()) if row is not None else 0.0
        assert min(azimuth, 360 - azimuth) <= 22.6
        await pilot.press("c", "0")
        assert len(app.walker.state.clear_octants) == 8


async def test_white_light_starts_dark_adaptation_again(walking, clock):
    async with walking() as (app, pilot):
        clock.set_s += 25 * 60
        app.screen.draw()
        assert "eyes 25 min" in screen_text(app)
        await pilot.press("w")
        assert "eyes 0 min" in screen_text(app)


async def test_a_sky_reading_or_naked_eye_limit_is_kept(walking, journal):
    # 6.1 mag: limit = 7.93 - 5 log10(10^(4.316 - mu/5) + 1), the relation printed with hand-held meters
    async with walking() as (_, pilot):
        for typed, value in (("21.3", 21.3), ("6,1", 20.97)):
            await pilot.press("m", *typed, "enter")
            assert read(journal).entries[-1].sky_brightness == pytest.approx(value, abs=0.01)


async def test_a_sky_reading_that_makes_no_sense_is_not_kept(walking, journal):
    async with walking() as (app, pilot):
        await pilot.press("m", *"99", "enter")
        assert "nothing noted" in screen_text(app)
        await pilot.press("m", *"dark", "enter")
        assert "write a number" in screen_text(app)
    assert read(journal).entries == ()


@pytest.mark.parametrize("size", [(60, 18), (80, 24), (120, 40)])
async def test_every_size_shows_what_matters(walking, size):
    async with walking(size=size) as (app, _):
        text = screen_text(app)
        for needed in (shown_name(app), "altitude", "°", "find", "look", "done", "to do", "next"):
            assert needed in text
        assert len(app.screen.page.lines) == size[1]


async def test_list_marks_and_opens_a_target(walking, loaded):
    async with walking() as (app, pilot):
        await pilot.press("l", "end", "enter")
        order = app.walker.order(app.now_s())
        assert shown_name(app) == loaded.night.targets[order[-1]].subject.name


async def test_help_lists_every_key(walking):
    from nightmode.app.keys import key_help

    async with walking(size=(80, 40)) as (app, pilot):
        await pilot.press("question_mark")
        text = screen_text(app)
        for label, words in key_help():
            assert label in text
            assert words in text
        await pilot.press("x")
        assert not app.walker.state.ticks


async def test_help_that_comes_in_parts_says_which_part_it_is(walking):
    async with walking() as (app, pilot):
        await pilot.press("question_mark")
        ends = []
        while "q      leave" not in screen_text(app):
            shown, whole = re.search(r"-(\d+) of (\d+)   j k: scroll", screen_text(app)).groups()
            ends.append(int(shown))
            assert ends[-1] < int(whole)
            await pilot.press("pagedown")
        assert ends
        assert ends == sorted(set(ends))


async def test_before_dusk_the_checklist_stands_before_the_walk(walking, clock, loaded):
    clock.set_s = loaded.night.twilights.sunset_s - 600
    async with walking() as (app, pilot):
        assert "THE SUN IS UP" in screen_text(app)
        await pilot.press("space")
        assert app.checked(loaded.night.person.before_dark) == [0]
        await pilot.press("escape")
        assert "nothing to do just now" in screen_text(app)


async def test_verdict_and_eyepiece_follow_a_reading_and_its_undoing(walking, loaded):
    async with walking() as (app, pilot):
        row = app.walker.night.row("ngc891")
        app.walker.show(row)
        before, look = app.walker.verdict(row, app.now_s()), app.walker.night.targets[row].look
        assert before.word != "out of reach"
        await pilot.press("m", *"18.0", "enter")
        assert app.walker.verdict(row, app.now_s()).word == "out of reach"
        assert app.walker.night.zenith_mag < 18.1
        await pilot.press("u")
        assert app.walker.verdict(row, app.now_s()) == before
        assert app.walker.night.targets[row].look == look
        assert app.walker.night is loaded.night


async def test_keys_pressed_at_speed_go_where_the_key_before_them_led(walking, journal):
    async with walking() as (app, pilot):
        for key in ("b", "space", "l", "down", "q", "n", "a", "b", "enter", "q", "y", "s"):
            app.post_message(events.Key(key, key if len(key) == 1 else None))
        await pilot.pause()
        assert not app.is_black
        assert app.is_running
    noted = [entry.note or entry.outcome for entry in read(journal).entries]
    assert noted == ["ab", Outcome.SUSPECTED]


@pytest.mark.parametrize(("away_min", "shown_min"), [(10, 35), (45, 5)])
async def test_minutes_in_the_dark_go_on_after_a_short_pause_only(walking, clock, away_min, shown_min):
    async with walking() as (app, pilot):
        clock.set_s += 5 * 60
        await pilot.press("space")
        clock.set_s += 20 * 60
        await pilot.press("q", "q")
    clock.set_s += away_min * 60
    async with walking() as (app, _):
        clock.set_s += 5 * 60
        app.screen.draw()
        assert f"eyes {shown_min}" in screen_text(app)


async def test_undo_takes_back_a_seeing_entry(walking, journal):
    async with walking() as (app, pilot):
        await pilot.press("i", "3", "u")
        assert app.walker.state.last_undoable is None
    assert [entry.event for entry in read(journal).entries[:2]] == [Event.CHECK, Event.UNDO]


async def test_a_tick_keeps_what_the_screen_said_of_the_target(walking, journal, loaded):
    async with walking() as (app, pilot):
        for _ in range(4):
            row = app.walker.shown(app.now_s())
            said = next(line for line in screen_text(app).splitlines() if "verdict" in line)
            shown = app.walker.verdict(row, app.now_s())
            await pilot.press("space")
            entry = read(journal).entries[-1]
            assert entry.verdict in said
            assert (entry.verdict, entry.margin_dex) == (shown.word.value, _rounded(shown.margin_dex))
            assert entry.contrast_dex == _rounded(shown.contrast_dex)
            counts = is_glow(loaded.night.targets[row].subject) and entry.margin_dex is not None
            assert entry.experience == (loaded.night.person.experience if counts else None)
        await pilot.press("1")
        assert read(journal).entries[-1].verdict is None


def _rounded(margin_dex):
    return None if margin_dex is None else round(float(margin_dex), 3)


async def test_a_black_screen_works_nothing_out_and_wakes_with_the_figures_of_now(walking, clock):
    async with walking() as (app, pilot):
        stood = app.screen.page.lines
        await pilot.press("b")
        clock.set_s += 1234.0
        app._walk.follow()
        assert app.screen.page.lines == stood
        await pilot.press("space")
        assert app.screen.page.lines != stood
        assert not app.walker.state.ticks


async def test_the_page_rests_until_a_figure_may_have_changed(walking, clock):
    async with walking() as (app, _):
        minute_s = clock.set_s // 60 * 60
        for second, pause_s in ((0.0, 5.0), (54.0, 5.0), (57.0, 3.0), (59.5, 0.5)):
            clock.set_s = minute_s + second
            assert app._walk._pause_s() == pytest.approx(pause_s, abs=0.05)
        clock.rate = 600.0
        assert app._walk._pause_s() == 1.0


async def test_what_was_seen_before_is_said_quietly(walking, loaded):
    async with walking() as (app, pilot):
        row = app.walker.shown(app.now_s())
        key = loaded.night.targets[row].chance.key
        before = loaded.night.date - dt.timedelta(days=60)
        assert "seen before" not in screen_text(app)
        app.walker.earlier = {key: Earlier(Outcome.SEEN, before, "small and round")}
        app.screen.draw()
        await pilot.pause()
        assert f"seen before, {before.day} {before:%b}: small and round" in screen_text(app)
        pieces = [piece for line in app.screen.page.lines for piece in line]
        assert [role for text, role in pieces if "seen before" in text] == ["faint"]
