"""Endings from outside, and sleep: session saved, terminal given back, process gone or going on."""

import os
import re
import signal
import stat
import time

import pytest

from nightmode.model.session import Event
from nightmode.session.journal import read
from nightmode.session.lock import hold


@pytest.fixture
def walking(start):
    """Return the demo after one tick and with a note half typed, begun where all may read what is written."""
    before = os.umask(0)
    program = start("demo", "--at", "21:00")
    os.umask(before)
    program.wait_for("to do")
    program.press("space", then=": seen")
    program.press("nhalf a thought", then="half a thought")
    return program


def is_gone(program):
    try:
        os.kill(program.child.pid, 0)
    except ProcessLookupError:
        return True
    return False


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_signal_saves_gives_the_terminal_back_and_ends(walking, tmp_path, demo_journal, number):
    walking.signal(number)
    assert walking.end() == 128 + number
    assert is_gone(walking)
    assert [entry.event for entry in read(demo_journal).entries] == [Event.TICK, Event.NOTE, Event.PAUSE]
    assert read(demo_journal).entries[1].note == "half a thought"
    assert "1 done on the night of 2026-12-13" in walking.shown()
    assert "\x1b[?1049l" in walking.raw
    assert_all_given_back(walking)
    assert_for_the_user_alone(tmp_path, demo_journal)


def assert_all_given_back(walking):
    """Fail unless every mode and colour that was taken has been given back."""
    modes, colours = {}, {}
    for number, switch in re.findall(r"\x1b\[\?(\d+)([hl])", walking.raw):
        modes[int(number)] = switch
    for back, number in re.findall(r"\x1b\](10(?=4)|1(?=1\d)|)(\d+)[;\x1b]", walking.raw):
        colours[int(number)] = "given back" if back else "taken"
    shown_before = {7: "h", 25: "h"}
    assert {number for number, switch in modes.items() if switch != shown_before.get(number, "l")} == set()
    assert {1002, 1006} <= set(modes)  # the mouse
    assert set(colours) == {4, 10, 11, 12, 13, 14, 17, 19}
    assert set(colours.values()) == {"given back"}


def assert_for_the_user_alone(home, journal):
    """Fail unless nobody else may read what holds the site."""
    files = [path for path in home.rglob("*") if path.is_file()]
    assert journal in files
    assert any(path.suffix == ".log" for path in files)
    assert {stat.S_IMODE(path.stat().st_mode) for path in files} == {0o600}


def test_a_terminal_that_is_closed_saves_and_ends(walking, demo_journal):
    walking.hang_up()
    assert walking.end() == 128 + signal.SIGHUP
    assert is_gone(walking)
    assert [entry.event for entry in read(demo_journal).entries] == [Event.TICK, Event.NOTE, Event.PAUSE]
    with hold(demo_journal):
        pass


def test_a_second_signal_while_the_first_is_answered_does_no_harm(walking, demo_journal):
    walking.signal(signal.SIGTERM)
    walking.signal(signal.SIGHUP)
    assert walking.end() in (143, 129)
    assert is_gone(walking)
    entries = read(demo_journal).entries
    assert entries[0].event is Event.TICK
    assert [entry.event for entry in entries].count(Event.PAUSE) <= 1


def test_sleep_in_the_middle_of_the_night_goes_on_with_the_right_time(start, demo_journal):
    rate, slept_s = 50, 0.6
    program = start("demo", "--at", "21:00", "--rate", str(rate))
    program.wait_for("to do")
    program.press("space", then=": seen")
    program.signal(signal.SIGSTOP)
    time.sleep(slept_s)
    program.signal(signal.SIGCONT)
    program.press("s", then=": suspected")
    program.press("q", then="q again leaves")
    program.press("q")
    assert program.end() == 0
    first, second, pause = read(demo_journal).entries
    assert (second.at - first.at).total_seconds() >= rate * slept_s - 2
    assert pause.event is Event.PAUSE
    assert "system clock" not in program.said


def test_typed_ahead_while_stopped_is_taken_in_order(start, demo_journal):
    program = start("demo", "--at", "21:00")
    program.wait_for("to do")
    program.signal(signal.SIGSTOP)
    program.press(*"nfirst", "enter", "space", "l", "down", "q")
    program.press(*"nsecond", "enter")
    program.signal(signal.SIGCONT)
    program.wait_for(": second")
    noted = [entry.note or entry.outcome.value for entry in read(demo_journal).entries]
    assert noted == ["first", "seen", "second"]
