"""A note that is half typed when the battery dies is there on the next start."""

import signal
import time

from nightmode.model.session import Event
from nightmode.session.journal import read


def test_a_note_half_typed_outlives_a_kill(start, demo_journal):
    walking = start("demo", "--at", "21:00")
    walking.wait_for("to do")
    walking.press("n", *"low and faint", then="low and faint")
    beside, until = demo_journal.with_name(f"{demo_journal.name}.note"), time.monotonic() + 40
    while not beside.exists() or "low and faint" not in beside.read_text():
        assert time.monotonic() < until, "it was never kept"
        walking.run(0.1)
    walking.signal(signal.SIGKILL)
    walking.child.wait(10)
    assert read(demo_journal).entries == ()
    again = start("demo")
    again.wait_for("the note half typed on")
    again.press("u", then="undone: ")
    again.press("q", then="q again leaves")
    again.press("q")
    assert again.end() == 0
    entries = read(demo_journal).entries
    assert [entry.event for entry in entries] == [Event.NOTE, Event.RESUME, Event.UNDO, Event.PAUSE]
    assert entries[0].note == "low and faint"
    assert entries[0].target == entries[2].target


def test_the_end_of_a_note_stays_in_sight_when_the_window_gets_narrow(start):
    walking = start("demo", "--at", "21:00", size=(100, 30))
    walking.wait_for("to do")
    walking.press("n", *"w" * 70, *"end", then="wend")
    walking.resize(40, 15)
    walking.wait_shown("note on")
    walking.wait_shown("wend", seconds=10)
    assert len(walking.shown().splitlines()) == 15
