"""What the pages say aloud, on a real night with a real journal: text alone, no sound."""

import re

import pytest

from nightmode.app import heard
from nightmode.app.pages.aim import ChartView
from nightmode.app.walker import Say, Walker
from nightmode.model.session import Outcome
from nightmode.night.loading import new_head
from nightmode.session.opening import opened


@pytest.fixture
def walker(loaded, journal):
    with opened(loaded.path, new_head(loaded, True), journal, False, 0.0) as (session, _):
        yield Walker(loaded.night, session)


def row_of(walker, name):
    return next(row for row, one in enumerate(walker.night.targets) if one.subject.name == name)


def test_a_change_of_target_tells_name_kind_place_aim_eyepiece_and_what_to_look_for(walker, clock):
    walker.show(row_of(walker, "M 2"))
    words = " ".join(heard.change(walker, clock.now_s()))
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


def test_a_tick_is_told_with_the_next_target(walker, clock):
    now_s = clock.now_s()
    walker.show(row_of(walker, "M 15"))
    words = heard.after_tick(walker, walker.tick(Outcome.SEEN, now_s), now_s)
    current = walker.night.targets[walker.shown(now_s)].subject.name
    assert words[0] == "M 15 seen."
    assert words[1] == f"Next: {current}."


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
    undone = heard.after_undo(walker, walker.undo(now_s), now_s)
    assert undone == (f"Undone: {words}", "N G C seventy-six sixty-two.")


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


def test_what_is_not_saved_is_heard(walker, clock):
    now_s = clock.now_s()
    said = Say("NOT SAVED, the disk is full: kept, any key tries again", alert=True)
    assert heard.answer(said) == ("Not saved, the disk is full: kept, any key tries again.",)
    assert heard.after_tick(walker, said, now_s) == heard.answer(said)  # and no next target


def test_height_time_and_way_are_told_when_asked_for(walker, clock):
    now_s, row = clock.now_s(), row_of(walker, "M 2")
    walker.show(row)
    high = " ".join(heard.how_high(walker, now_s))
    assert re.match(r"M 2 stands [\w-]+ point \w+ degrees high, (rising|sinking)\.", high)
    assert "fists up" in high
    assert re.match(r"M 2 sets at [\w\- ]+\. [\w\- ]*minutes left\.", " ".join(heard.how_long(walker, now_s)))
    way = " ".join(heard.where(walker, now_s))
    assert "Begin at Sadalsuud" in way
    assert "In the sight:" in way
    assert "Begin:" in " ".join(heard.where(walker, now_s, ChartView.FINDER))
    assert "Drift:" in " ".join(heard.where(walker, now_s, ChartView.EYEPIECE))
    assert "exit pupil" in " ".join(heard.eyepiece(walker, now_s))
    assert "Hour angle: " in " ".join(heard.setting_circles(walker, now_s))


def test_what_comes_next_is_told_by_name_with_the_counts(walker, clock):
    words = heard.what_next(walker, clock.now_s())
    assert re.fullmatch(r"Next: .+, then .+\.", words[0])
    assert words[1] == "None done, twenty-nine to do."


def test_a_target_that_is_not_up_yet_says_from_when(walker, clock):
    walker.show(row_of(walker, "Jupiter"))
    words = heard.change(walker, clock.now_s())
    assert "Below the horizon." in words
    assert any(
        re.match(r"Jupiter can be seen from twenty-\w+.*, in .+ hours .+ minutes\.", one) for one in words
    )


def test_when_the_walk_is_done_the_voice_says_so(walker, loaded):
    night = loaded.night
    assert heard.change(walker, float(night.time_s[-1])) == ("The walk is done.",)
    early = heard.change(walker, float(night.time_s[0]))
    assert early[0] == "Nothing to do just now."
    assert re.match(r"Moon from sixteen forty-eight, in .+ minutes\.", early[1])


def test_the_sun_is_warned_of_before_anything_else(walker, loaded):
    noon_s = float(loaded.night.time_s[0])
    walker.show(row_of(walker, "Moon"))
    assert heard.change(walker, noon_s)[0] == "The Sun is up: never point telescope, finder or eye near it."


def test_moments_come_once_each_in_their_order_and_calls_only_for_what_is_open(walker, loaded, clock):
    night = loaded.night
    first_s, last_s = float(night.time_s[0]), float(night.time_s[-1])
    whole = heard.moments(walker, first_s, last_s)
    assert [one for one in whole if "call" not in one] == [
        "It is dark now.",
        "The Moon sets.",
        "Dawn in thirty minutes.",
        "Dawn: the dark is over.",
    ]
    middle_s = night.moon.sets[0]
    parts = heard.moments(walker, first_s, middle_s) + heard.moments(walker, middle_s, last_s)
    assert [one for one in parts if "call" not in one] == [one for one in whole if "call" not in one]
    assert heard.moments(walker, middle_s - 1.0, middle_s)[-1] == "The Moon sets."


def test_a_last_call_is_for_what_is_still_open(walker):
    row = row_of(walker, "M 30")
    end_s = walker.night.targets[row].usable[-1].end
    call_s = end_s - 30 * 60.0
    walker.show(row)
    before = heard.moments(walker, call_s - 30.0, call_s)
    walker.tick(Outcome.SEEN, call_s - 60.0)
    assert "Last call: M 30 sets in thirty minutes." in before
    assert "Last call: M 30 sets in thirty minutes." not in heard.moments(walker, call_s - 30.0, call_s)


def test_the_list_and_the_keys_are_told_row_by_row(walker, clock):
    words = " ".join(heard.listed(walker, row_of(walker, "M 31"), clock.now_s()))
    assert words.startswith("M 31. To do. M 31 ")
    keys = heard.helped()
    assert "Space: seen, on to the next target." in keys
    assert "Plus: a little brighter." in keys
    assert "J or down: look at the next target in the order." in keys
