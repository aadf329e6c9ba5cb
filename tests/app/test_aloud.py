"""What is spoken on the walk: the real app driven by keys; words are heard when the test lets them be."""

import datetime as dt
import importlib.util
from contextlib import asynccontextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from app.conftest import SetClock
from hypothesis import given
from hypothesis import strategies as st
from turns import costly

from nightmode.app import aloud
from nightmode.app.app import WalkApp
from nightmode.app.finding import Also
from nightmode.app.keys import HEARD
from nightmode.app.say import Say
from nightmode.app.theme import EMBER
from nightmode.app.walker import Walker
from nightmode.errors import NightmodeError
from nightmode.model.session import Entry, Event, Outcome
from nightmode.night.loading import new_head
from nightmode.records import replace
from nightmode.session.journal import Journal
from nightmode.session.opening import opened, watched
from nightmode.wording.spoken.ear import name_for_ear


class Speaker:
    """Keeps what it is given; a sentence counts as spoken when the test says so."""

    def __init__(self, spoken, stopped, rate_wpm):
        self._spoken, self.stop, self.rate_wpm = spoken, stopped, rate_wpm
        self.waiting, self.given, self.said = [], [], []
        self.is_closed = False

    @property
    def is_speaking(self):
        return bool(self.waiting)

    def say(self, sentences):
        must = [one for one in self.waiting if one.must]
        self.given = [one.text for one in sentences]
        self.waiting = [*must, *sentences]

    def hear(self, count=None):
        """Let so many sentences be spoken, or all."""
        heard, self.waiting = self.waiting[:count], self.waiting[count:] if count else []
        for one in heard:
            self.said.append(one.text)
            if one.mark is not None:
                self._spoken(one.mark)
        return [one.text for one in heard]

    def slower(self):
        self.rate_wpm -= 1

    def faster(self):
        self.rate_wpm += 1

    def close(self):
        self.is_closed = True


@pytest.fixture
def speakers(monkeypatch, tmp_path):
    """Return the speakers that the app has started."""
    begun = []

    def begin(*options):
        begun.append(Speaker(*options))
        return begun[-1]

    monkeypatch.setattr(aloud, "Speaker", begin)
    monkeypatch.setattr(aloud, "LOOK_S", 0.0)
    program = tmp_path / "espeak-ng"
    program.touch()
    program.chmod(0o755)
    monkeypatch.setenv("PATH", str(tmp_path))
    return begun


@pytest.fixture
def dark(walking, speakers):
    """Return a context in which the voice is on, the screen black, and the first target has been told."""

    @asynccontextmanager
    async def run(**options):
        async with walking(**options) as (app, pilot):
            await pilot.press("v")
            speakers[-1].hear()
            await pilot.press("b")
            assert speakers[-1].hear() == ["Black.", "B lights the screen again."]
            yield app, pilot, speakers[-1]

    return run


def shown(app):
    return app.walker.night.targets[app.walker.shown(app.now_s())].subject.name


def ear(app):
    return name_for_ear(shown(app))


async def test_the_voice_tells_the_target_and_each_change_of_it(walking, speakers):
    async with walking() as (app, pilot):
        assert not speakers
        await pilot.press("v")
        said = speakers[0].hear()
        assert said[:2] == ["Voice on.", f"{ear(app)}."]
        assert any("fist" in text for text in said)
        await pilot.press("j")
        assert speakers[0].hear()[0] == f"{ear(app)}."


async def test_it_can_speak_from_the_start(loaded, journal, clock, speakers):
    with opened(loaded.path, new_head(loaded, rehearsal=True), journal, 0.0) as (session, _):
        app = WalkApp(
            Walker(loaded.night, session), clock, EMBER, None, first_words=Say("going on: 3 done"), voice=True
        )
        async with app.run_test() as pilot:
            await pilot.pause()
            assert speakers[0].hear()[:2] == ["Voice on.", "Going on: three done."]


async def test_a_tick_is_confirmed_and_the_next_target_named(dark):
    async with dark() as (app, pilot, speaker):
        first = ear(app)
        await pilot.press("space")
        assert speaker.hear()[:2] == [f"{first} seen.", f"Next: {ear(app)}."]
        assert ear(app) != first
        assert app.is_black


@pytest.mark.parametrize("heard", [0, 1])
async def test_a_doubled_key_on_a_black_screen_never_ticks_two(dark, heard):
    async with dark() as (app, pilot, speaker):
        await pilot.press("space")
        speaker.hear(heard) if heard else None
        await pilot.press("space", "s", "x", "z", "space")
        assert len(app.walker.state.ticks) == 1
        speaker.hear()
        await pilot.press("space")
        assert len(app.walker.state.ticks) == 2


#: What a hand and the night may do on a black screen: keys, sentences that end, time that passes.
ACTS = (
    "tick",
    "tick",
    "tick",
    "circles",
    "step",
    "back",
    "undo",
    "glow",
    "hear one",
    "hear all",
    "ten minutes",
)


@costly(2)
@given(acts=st.lists(st.sampled_from(ACTS), max_size=12))
def test_whatever_is_pressed_only_a_target_named_since_the_last_tick_is_ticked(loaded, acts):
    now = SetClock(loaded.night.twilights.dark_s[0] + 60)
    with (
        TemporaryDirectory() as folder,
        opened(loaded.path, new_head(loaded, rehearsal=True), Path(folder) / "s.toml", 0.0) as (session, _),
        pytest.MonkeyPatch.context() as patch,
    ):
        patch.setattr(aloud, "Speaker", Speaker)
        patch.setattr(aloud, "LOOK_S", 0.0)
        walker = Walker(loaded.night, session)
        voice = aloud.Aloud(walker, now.now_s, lambda: 0.0, print)
        voice.begin(None)
        speaker = voice._speaker
        for act in acts:
            if act == "ten minutes":
                now.set_s += 600.0
                voice.follow()
            elif act.startswith("hear"):
                speaker.hear(1 if act == "hear one" else None)
            elif not voice.takes(act, "1"):
                row = walker.shown(now.set_s)
                say = done(walker, act, now.set_s)
                if act == "tick" and row is not None:
                    name = name_for_ear(loaded.night.targets[row].subject.name)
                    assert any(text.removeprefix("Next: ").startswith(name) for text in speaker.said)
                    speaker.said.clear()
                voice.pressed(act, say)


def done(walker, act, now_s):
    """Do to the walk what a key stands for."""
    if act == "tick":
        return walker.tick(Outcome.SEEN, now_s)
    if act == "undo":
        return walker.undo(now_s)
    if act == "step":
        walker.step(1, now_s)
    elif act == "back":
        walker.back()
    return None


async def test_a_tick_too_soon_after_a_name_for_anyone_to_have_looked_does_nothing(dark, monkeypatch):
    async with dark() as (app, pilot, speaker):
        await pilot.press("space")
        speaker.hear()
        with monkeypatch.context() as soon:
            soon.setattr(aloud, "LOOK_S", 60.0)
            await pilot.press("space")
            assert (len(app.walker.state.ticks), speaker.hear()) == (1, [])
        await pilot.press("space")
        assert len(app.walker.state.ticks) == 2


async def test_what_was_meant_for_a_target_that_has_gone_is_not_noted_on_the_next(dark, clock):
    async with dark() as (app, pilot, speaker):
        before = ear(app)
        clock.set_s += 1800.0
        await pilot.press("1")
        assert speaker.hear()[:2] == [f"{before} can no longer be seen.", f"{ear(app)}."]
        assert not app.walker.state.notes(app.walker.night.targets[app.walker.shown(app.now_s())].chance.key)
        await pilot.press("1")
        assert speaker.hear() == [f"Noted on {ear(app)}: bright."]


async def test_the_answer_to_how_high_names_the_target_as_well(dark):
    async with dark() as (app, pilot, speaker):
        await pilot.press("space", "g")
        speaker.hear(2)
        await pilot.press("space")
        assert len(app.walker.state.ticks) == 2


async def test_a_target_that_came_by_itself_is_named_before_it_can_be_ticked(dark, clock):
    async with dark() as (app, pilot, speaker):
        before = shown(app)
        clock.set_s += 1800.0  # the first target has set meanwhile
        assert shown(app) != before
        await pilot.press("space")
        assert not app.walker.state.ticks
        assert f"{ear(app)}." in speaker.hear()
        after = app.walker.night.targets[app.walker.shown(app.now_s())].chance.key
        await pilot.press("space")
        assert list(app.walker.state.ticks) == [after]


async def test_a_target_that_goes_by_itself_is_told(dark, clock):
    async with dark() as (app, _, speaker):
        before = ear(app)
        clock.set_s += 1800.0
        app.screen.follow()
        assert speaker.hear()[:2] == [f"{before} can no longer be seen.", f"Next: {ear(app)}."]
        assert app.is_black


async def test_a_target_undone_where_the_session_is_held_gives_way_to_the_next_where_it_is_watched(
    loaded, clock, journal, speakers
):
    head, at = new_head(loaded, rehearsal=True), dt.datetime(2027, 1, 9, 21, tzinfo=dt.UTC)
    with (
        opened(loaded.path, head, journal, 0.0) as (held, _),
        watched(loaded.path, head, journal) as (seen, _),
    ):
        app = WalkApp(Walker(loaded.night, seen), clock, EMBER, None, also=Also(loaded))
        async with app.run_test() as pilot:
            held.do(Entry(at=at, event=Event.ADD, target="M 27"))
            app.screen.follow()
            app.walker.show(app.walker.night.row("m27"))
            await pilot.press("v")
            assert "M 27." in speakers[0].hear()
            held.do(Entry(at=at, event=Event.UNDO, target="M 27"))
            app.screen.follow()
            assert f"{ear(app)}." in " ".join(speakers[0].hear())
            assert "M 27" not in ear(app)


async def test_a_name_that_was_cut_off_comes_again(dark):
    async with dark() as (app, pilot, speaker):
        await pilot.press("space", "minus")
        assert f"Next: {ear(app)}." in speaker.given or f"{ear(app)}." in speaker.given
        speaker.hear()
        await pilot.press("space")
        assert len(app.walker.state.ticks) == 2


async def test_what_was_saved_is_heard_whatever_is_asked_next(dark):
    async with dark() as (app, pilot, speaker):
        first = ear(app)
        await pilot.press("space", "g")
        assert speaker.hear()[0] == f"{first} seen."


async def test_what_was_not_saved_is_heard(dark, monkeypatch, journal):
    def refuse(*_):
        raise NightmodeError("session", "not saved, the disk is full", cause="the disk is full")

    async with dark() as (app, pilot, speaker):
        first = ear(app)
        with monkeypatch.context() as full:
            full.setattr(Journal, "append", refuse)
            await pilot.press("space")
            assert "not saved, the disk is full" in speaker.hear()[0].casefold()
            await pilot.press("space")
            assert "still not saved" in speaker.hear()[0].casefold()
        await pilot.press("g")
        said = speaker.hear()
        assert said[0] == "Saved now: one entry."
        assert f"{ear(app)}." in said
        assert ear(app) != first


async def test_undo_says_what_it_undid_and_which_target_is_back(dark):
    async with dark() as (app, pilot, speaker):
        first = ear(app)
        await pilot.press("x")
        speaker.hear()
        await pilot.press("u")
        assert speaker.hear()[:2] == [f"Undone: {first} not seen.", f"{first}."]


async def test_a_key_says_what_its_page_shows_and_lights_nothing(dark):
    shows = {
        "a": ["Begin at"],
        "g": ["degrees high", "left.", "Hour angle:"],
        "l": ["Next:", "to do"],
        "e": ["exit pupil"],
        "question_mark": ["Minus: slower."],
    }
    async with dark() as (app, pilot, speaker):
        for key, words in shows.items():
            await pilot.press(key)
            told = " ".join(speaker.hear())
            assert [word for word in words if word not in told] == []
            assert app.is_black
        await pilot.press("space")  # no page took it
        assert len(app.walker.state.ticks) == 1


async def test_the_views_of_the_chart_are_told_one_after_the_other(dark):
    async with dark() as (app, pilot, speaker):
        told = []
        for _ in range(3):
            await pilot.press("a")
            told.append(" ".join(speaker.hear()))
        assert told[0].startswith(f"{ear(app)}.")
        assert "Begin at" in told[0]
        assert "Begin at" in told[1]
        assert "Begin:" in told[2]
        await pilot.press("space")
        assert len(app.walker.state.ticks) == 1


async def test_r_tells_what_is_written_about_the_target(dark):
    async with dark() as (app, pilot, speaker):
        await pilot.press("n", *"cold", "enter")
        speaker.hear()
        await pilot.press("r")
        assert speaker.hear()[-1].endswith(": cold.")
        assert app.is_black


async def test_escape_says_the_last_words_again_and_then_the_whole_target(dark):
    async with dark() as (app, pilot, speaker):
        await pilot.press("l")
        last = speaker.hear()
        await pilot.press("escape")
        assert speaker.hear() == last
        await pilot.press("escape")
        assert speaker.hear()[0] == f"{ear(app)}."


async def test_escape_goes_back_to_the_current_target_and_names_it(dark):
    async with dark() as (app, pilot, speaker):
        first = ear(app)
        await pilot.press("j")
        assert speaker.hear()[0] == f"{ear(app)}." != f"{first}."
        await pilot.press("escape")
        assert speaker.hear()[0] == f"{first}."


async def test_slower_and_faster_say_the_last_words_again_and_leave_the_glow_alone(dark):
    async with dark() as (app, pilot, speaker):
        glow, pace = app.glow, speaker.rate_wpm
        await pilot.press("l")
        last = speaker.hear()
        await pilot.press("minus")
        assert speaker.hear() == ["Slower.", *last]
        await pilot.press("minus", "plus")
        assert speaker.hear() == ["Faster.", *last]
        assert (app.glow, speaker.rate_wpm) == (glow, pace - 1)


async def test_what_stood_on_the_lit_screen_can_be_ticked_on_the_black_one_before_it_is_heard(
    walking, speakers
):
    async with walking() as (app, pilot):
        await pilot.press("v", "b", "space", "space", "s")
        assert app.is_black
        assert len(app.walker.state.ticks) == 1


async def test_b_lights_the_screen_again_and_other_keys_do_not(dark):
    async with dark() as (app, pilot, _):
        await pilot.press("j", "k", "w", "1", "up", "f")
        assert app.is_black
        await pilot.press("b")
        assert not app.is_black


async def test_a_note_is_typed_blind_and_read_back_word_by_word(dark):
    async with dark() as (app, pilot, speaker):
        await pilot.press("n")
        assert speaker.hear()[0] == f"Note on {ear(app)}."
        await pilot.press(*"round", "space", *"space", "up")
        assert speaker.hear() == ["Round.", "Space."]
        await pilot.press("enter")
        assert speaker.hear() == [f"Noted on {ear(app)}: round space."]
        assert app.walker.state.live[-1].note == "round space"
        assert not app.walker.state.ticks


async def test_a_target_is_found_blind_and_named_before_it_can_be_ticked(dark):
    async with dark() as (app, pilot, speaker):
        await pilot.press("slash")
        assert speaker.hear()[0] == "Which target?"
        await pilot.press(*"m31", "enter", "space")
        assert not app.walker.state.ticks
        assert speaker.hear()[:2] == ["This is M 31.", "M 31."]
        await pilot.press("space")
        assert list(app.walker.state.ticks) == ["m31"]


async def test_a_phrase_is_spoken_back(dark, loaded):
    async with dark() as (app, pilot, speaker):
        await pilot.press("2")
        assert speaker.hear() == [f"Noted on {ear(app)}: faint, averted vision."]


async def test_questions_are_asked_and_answered_blind(dark):
    answers = [
        ("i2", "Seeing?", "Seeing two noted."),
        ("th", "Air?", "Heavy dew noted."),
        ("tx", "Air?", "As it was."),
        ("m21\r", "Sky reading.", "Sky twenty-one"),
        ("m2\x1b", "Sky reading.", "Dropped."),
        ("qx", "Everything is saved.", "Still here."),
    ]
    names = {"\r": "enter", "\x1b": "escape"}
    async with dark() as (app, pilot, speaker):
        for (key, *rest), asked, told in answers:
            await pilot.press(key)
            assert speaker.hear()[0] == asked
            await pilot.press(*(names.get(one, one) for one in rest))
            assert speaker.hear()[0].startswith(told)
            assert app.is_black


async def test_clouds_are_told_point_by_point(dark):
    async with dark() as (app, pilot, speaker):
        await pilot.press("c")
        assert speaker.hear()[0] == "Where is it clear?"
        await pilot.press("1", "2")
        assert speaker.hear()[0] == "Clear: north, north-east."
        await pilot.press("1")
        assert speaker.hear()[0] == "Clear: north-east."
        await pilot.press("enter")
        assert speaker.hear()[0] == "Clouds, clear only: north-east."
        assert app.walker.state.clear_octants == {"NE"}


async def test_the_checklist_is_heard_and_ticked_blind(dark, loaded):
    async with dark() as (app, pilot, speaker):
        await pilot.press("p")
        items = loaded.night.person.before_dark
        said = speaker.hear()
        assert said[0].startswith("Before dark:")
        assert any(text.endswith("open.") for text in said)
        await pilot.press("space")
        assert app.checked(items) == [0]
        assert speaker.hear()[0].endswith("open.")
        await pilot.press("escape")
        assert speaker.hear()[0] == f"{ear(app)}."
        await pilot.press("space")
        assert len(app.walker.state.ticks) == 1


async def test_before_dusk_the_caution_about_the_sun_is_heard_first(walking, clock, loaded, speakers):
    clock.set_s = loaded.night.twilights.sunset_s - 600
    async with walking() as (_, pilot):
        await pilot.press("escape", "v", "p")
        first, second, *_ = speakers[0].hear()
        assert (first, "never point" in second) == ("Voice on.", True)


async def test_what_happens_by_itself_waits_until_nothing_else_is_spoken(dark, clock, loaded):
    async with dark() as (app, pilot, speaker):
        app.walker.show(app.walker.order(app.now_s())[-1])
        await pilot.press("l")
        speaker.hear()
        await pilot.press("j", "k")
        dawn_s = loaded.night.twilights.dark_s[1]
        clock.set_s = dawn_s - 60
        app.screen.follow()
        speaker.hear()
        clock.set_s = dawn_s + 10
        await pilot.press("l")
        app.screen.follow()
        assert not any("Dawn" in text for text in speaker.hear())
        app.screen.follow()
        said = speaker.hear()
        while said and not any("Dawn" in text for text in said):
            app.screen.follow()
            said = speaker.hear()
        assert "Dawn: the dark is over." in said
        app.screen.follow()
        assert "Dawn: the dark is over." not in speaker.hear()


async def test_the_quiet_setting_turns_off_what_happens_by_itself(dark, clock, loaded):
    person = loaded.night.person.model_copy(update={"voice": "answers"})
    async with dark(night=replace(loaded.night, person=person)) as (app, _, speaker):
        clock.set_s = loaded.night.twilights.dark_s[1] + 10
        for _ in range(5):
            app.screen.follow()
            assert not any("Dawn" in text for text in speaker.hear())


async def test_a_voice_that_stops_is_told_in_one_line_and_any_key_lights_the_screen(dark):
    async with dark() as (app, pilot, speaker):
        speaker.stop("espeak-ng: no sound")
        await pilot.pause()
        assert app.is_black
        await pilot.press("space")
        assert not app.is_black
        assert not app.walker.state.ticks
        text = "\n".join("".join(piece for piece, _ in row) for row in app.screen.page.lines)
        assert "the voice has stopped: espeak-ng: no sound; v starts it again" in text
        await pilot.press("v", "space")
        assert len(app.walker.state.ticks) == 1


async def test_a_key_on_a_dimmed_screen_that_is_heard_does_what_it_does(walking, speakers):
    async with walking() as (app, pilot):
        await pilot.press("v")
        speakers[0].hear()
        app.is_dimmed = True
        await pilot.press("space")
        assert len(app.walker.state.ticks) == 1
        assert not app.is_dimmed


async def test_v_says_that_the_voice_goes_off_and_ends_it_then(dark):
    async with dark() as (app, pilot, speaker):
        await pilot.press("v")
        assert not speaker.is_closed
        assert speaker.hear()[0] == "Voice off."
        assert speaker.is_closed
        assert app.is_black
        await pilot.press("space")
        assert not app.is_black
        assert not app.walker.state.ticks


async def test_without_an_engine_v_says_what_to_install(walking, monkeypatch, tmp_path):
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None)
    async with walking(size=(120, 30)) as (app, pilot):
        await pilot.press("v")
        text = "\n".join("".join(piece for piece, _ in row) for row in app.screen.page.lines)
        assert "nothing to speak with" in text
        await pilot.press("space")
        assert len(app.walker.state.ticks) == 1


async def test_leaving_ends_the_voice(dark):
    async with dark() as (_, pilot, speaker):
        await pilot.press("q")
        assert speaker.hear()[0] == "Everything is saved."
        await pilot.press("q")
        assert speaker.is_closed


def test_every_key_of_the_black_screen_is_told_in_a_sentence():
    assert all(label[0].isupper() and not does.endswith(".") for label, does in HEARD)
