"""What the pages say aloud, on a real night with a real journal: text alone, no sound."""

import re
from math import inf

import numpy as np
import pytest

from nightmode.app import heard
from nightmode.app.calls import Calls
from nightmode.app.pages.aim import ChartView
from nightmode.app.pages.main import main_page
from nightmode.app.say import Say
from nightmode.app.walker import Walker
from nightmode.files.places import shipped
from nightmode.model.session import Outcome
from nightmode.night.aiming import pointing_at
from nightmode.night.loading import load_night, new_head
from nightmode.night.telling import happenings, target_now
from nightmode.session.opening import opened
from nightmode.wording.spoken import target
from nightmode.wording.spoken.ear import for_ear

HILLSIDE = shipped("plans") / "hillside.toml"


@pytest.fixture
def walker(loaded, journal):
    with opened(loaded.path, new_head(loaded, rehearsal=True), journal, 0.0) as (session, _):
        yield Walker(loaded.night, session)


def row_of(walker, name):
    return next(row for row, one in enumerate(walker.night.targets) if one.subject.name == name)


def test_a_change_of_target_tells_name_kind_place_aim_eyepiece_and_what_to_look_for(walker, clock):
    walker.show(row_of(walker, "M 2"))
    words = " ".join(heard.change(walker, clock.now_s()).sentences)
    order = [
        "M 2. Globular cluster in Aquarius.",
        "fists up.",
        "From Sadalsuud, five degrees",
        "from Sadalsuud to Enif.",
        "Find it with the thirty millimetre eyepiece, forty times.",
        "A tight ball",
    ]
    places = [words.index(part) for part in order]
    assert places == sorted(places)


def test_a_tick_is_told_and_the_next_target_is_led_in(walker, clock):
    now_s = clock.now_s()
    walker.show(row_of(walker, "M 15"))
    assert heard.answer(walker.tick(Outcome.SEEN, now_s)) == ("M 15 seen.",)
    current = walker.night.targets[walker.shown(now_s)].subject.name
    assert heard.change(walker, now_s, "Next: ").sentences[0] == f"Next: {current}."


@pytest.mark.parametrize(
    ("outcome", "words"),
    [
        (Outcome.SUSPECTED, "N G C seventy-six sixty-two suspected."),
        (Outcome.NOT_SEEN, "N G C seventy-six sixty-two not seen."),
        (Outcome.SET_ASIDE, "N G C seventy-six sixty-two set aside."),
    ],
)
def test_every_outcome_is_told_and_undo_says_what_it_undid(walker, clock, outcome, words):
    now_s = clock.now_s()
    walker.show(row_of(walker, "NGC 7662"))
    assert heard.answer(walker.tick(outcome, now_s))[0] == words
    assert heard.answer(walker.undo(now_s)) == (f"Undone: {words}",)


def test_undo_names_what_it_takes_back(walker, clock):
    now_s = clock.now_s()
    walker.show(row_of(walker, "M 31"))
    walker.note("a dark lane", now_s, walker.shown(now_s))
    assert heard.answer(walker.undo(now_s)) == ("Undone: the note on M 31.",)
    walker.white_light(now_s)
    assert heard.answer(walker.undo(now_s)) == ("Undone: the white light.",)
    walker.seeing("III", now_s)
    assert heard.answer(walker.undo(now_s)) == ("Undone: the reading of the air.",)
    assert heard.answer(walker.undo(now_s)) == ("Nothing left to undo.",)


def test_what_is_not_saved_is_heard():
    said = Say("kept, any key tries again", alert="NOT SAVED, the disk is full")
    assert heard.answer(said) == ("Not saved, the disk is full: kept, any key tries again.",)


def test_height_time_and_way_are_told_when_asked_for(walker, clock):
    now_s, row = clock.now_s(), row_of(walker, "M 2")
    walker.show(row)
    told = heard.setting_circles(walker, now_s)
    assert told.named == 1
    high = " ".join(told.sentences)
    assert re.match(r"M 2 stands [\w-]+ point \w+ degrees high, (rising|sinking)\.", high)
    assert "fists up" in high
    assert re.search(r"M 2 sets at [\w\- ]+\. [\w\- ]*minutes left\.", high)
    assert "Hour angle: " in high
    way = " ".join(heard.where_it_is(walker, now_s).sentences)
    assert "Begin at Sadalsuud" in way
    assert "In the sight:" in way
    assert "Begin:" in " ".join(heard.in_view(walker, now_s, ChartView.FINDER))
    assert "Drift:" in " ".join(heard.in_view(walker, now_s, ChartView.EYEPIECE))
    assert "exit pupil" in " ".join(heard.eyepiece(walker, now_s))


def test_what_is_written_about_a_target_is_told_when_asked_for(walker, clock):
    now_s, row = clock.now_s(), row_of(walker, "M 2")
    walker.show(row)
    walker.note("grainy at the rim", now_s, row)
    told = heard.written(walker, now_s)
    assert told[0] == "Look for: A tight ball, slightly oval, the edge breaks into grains at high power."
    assert told[-1].endswith("grainy at the rim.")
    walker.show(row_of(walker, "Saturn"))
    assert " ".join(heard.written(walker, now_s)).startswith("Look for: The ring opening again")


def test_what_comes_next_is_told_by_name_with_the_counts(walker, clock):
    words = heard.what_next(walker, clock.now_s())
    assert re.fullmatch(r"Next: .+, then .+\.", words[0])
    assert words[1] == "None done, twenty-nine to do."


def test_a_target_that_is_not_up_yet_says_from_when(walker, clock):
    walker.show(row_of(walker, "Jupiter"))
    words = heard.change(walker, clock.now_s()).sentences
    assert "Below the horizon." in words
    assert any(re.match(r"It can be seen from twenty-\w+.*, in .+ hours .+ minutes\.", one) for one in words)


def test_when_the_walk_is_done_the_voice_says_so(walker, loaded):
    night = loaded.night
    assert heard.change(walker, float(night.time_s[-1])).sentences == ("The walk is done.",)
    early = heard.change(walker, float(night.time_s[0])).sentences
    assert early[0] == "Nothing to do just now."
    assert re.match(r"Moon from sixteen forty-eight, in .+ minutes\.", early[1])


def test_the_sun_is_warned_of_before_anything_else(walker, loaded):
    noon_s = float(loaded.night.time_s[0])
    walker.show(row_of(walker, "Moon"))
    told = heard.change(walker, noon_s)
    assert told.sentences[0] == "The Sun is up: never point telescope, finder or eye near it."
    assert told.sentences[: told.named][-1] == "Moon."


def test_what_happens_by_itself_comes_once_each_in_its_order(loaded):
    night = loaded.night
    whole = happenings(night, is_open=lambda row: False)
    assert [one.sentence for one in whole] == [
        "It is dark now.",
        "The Moon sets.",
        "Dawn in thirty minutes.",
        "Dawn: the dark is over.",
    ]
    lights = night.twilights
    assert [one.at_s for one in whole] == pytest.approx(
        [lights.dark_s[0], night.moon.sets_s[0], lights.dark_s[1] - 1800.0, lights.dark_s[1]]
    )
    middle_s = night.moon.sets_s[0]  # what comes true at an instant belongs to the time before it
    parts = (
        happenings(night, -inf, middle_s, lambda row: False),
        happenings(night, middle_s, inf, lambda row: False),
    )
    assert [len(part) for part in parts] == [2, 2]


def test_a_last_call_is_for_what_is_still_open(walker):
    row = row_of(walker, "M 30")
    call_s = walker.night.targets[row].usable[-1].end_s - 30 * 60.0
    calls = Calls(walker, call_s - 30.0)
    assert calls.due(call_s - 1.0) == ""
    assert calls.due(call_s) == "Last call: M 30 sets in thirty minutes."
    assert calls.due(call_s + 1.0) == ""
    walker.show(row)
    walker.tick(Outcome.SEEN, call_s - 60.0)
    assert Calls(walker, call_s - 30.0).due(call_s) == ""


def test_jupiter_is_called_ten_minutes_ahead(tmp_path):
    path = tmp_path / "plan.toml"
    text = HILLSIDE.read_text(encoding="utf-8").split("[[target]]")[0].replace("2026-12-13", "2027-03-15")
    path.write_text(text + '[[target]]\nname = "Jupiter"\n', encoding="utf-8")
    night = load_night(path, None, None, 0.0).night
    found = [one for one in happenings(night) if one.sentence.startswith("Jupiter, in ten minutes: ")]
    starts_s = sorted(start_s for moment in night.targets[0].moments for start_s, _ in moment.watch)
    starts_s = [start_s for start_s in starts_s if start_s > night.twilights.sunset_s]
    assert [one.at_s for one in found] == starts_s
    assert len(found) >= 2
    assert found[0].sentence == "Jupiter, in ten minutes: Europa goes behind Jupiter."


def test_the_ring_nebula_in_the_west_is_told_as_one_says_it(tmp_path):
    path = tmp_path / "plan.toml"
    text = HILLSIDE.read_text(encoding="utf-8").split("[[target]]")[0].replace("2026-12-13", "2026-10-10")
    path.write_text(text + '[[target]]\nname = "M 57"\n', encoding="utf-8")
    night = load_night(path, None, None, 0.0).night
    stretch = night.targets[0].usable[0]
    at_s = min(
        np.arange(stretch.start_s, stretch.end_s, 60.0),
        key=lambda now_s: abs(night.altitude_at(0, now_s) - 45),
    )
    look = night.targets[0].choices[0]
    words = target.change(target_now(night, 0, at_s, look, None, pointing_at(night, 0, at_s))).sentences
    assert " ".join(words).startswith(
        "M 57. Planetary nebula in Lyra. West, four and a half fists up. "
        "From Vega, six and a half degrees left. Between Sheliak and Sulafat. "
    )


def test_nothing_that_stands_on_a_page_is_unsayable(walker, clock):
    now_s = clock.now_s()
    for row in range(len(walker.night.targets)):
        walker.show(row)
        for line in main_page(walker, now_s, (80, 24), None, now_s):
            heard_words = for_ear("".join(text for text, _ in line))
            assert re.fullmatch(r"[A-Za-zÀ-ɏ0-9 .,:?!'\-]*", heard_words), heard_words


def test_a_row_of_the_list_is_told(walker, clock):
    words = " ".join(heard.listed(walker, row_of(walker, "M 31"), clock.now_s()))
    assert words.startswith("M 31. To do. M 31 ")
