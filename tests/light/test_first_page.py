"""The page that stands before Textual is loaded: cell for cell the one that Textual then draws."""

import os
import signal

import pytest
from light.glass import Glass
from turns import rarely

#: The real program, but its clock stands still, and between the first page and the app it waits for a key.
HELD = """
import os
from nightmode.app import app
from nightmode.app.clock import Clock
Clock.now_s = lambda clock: clock._began_s
walk = app.walk
def later(*rest, **more):
    os.read(0, 1)
    return walk(*rest, **more)
app.walk = later
from nightmode.cli.main import entry
entry()
"""
#: A terminal, its size, an hour, and words that stand on the page then.
PAGES = [
    ("truecolor", (80, 24), "21:00", "to do"),
    ("16", (120, 40), "23:59", "to do"),
    ("linux", (50, 16), "03:00", "to do"),
    rarely("256", (80, 24), "15:00", "before dark"),
]


class Watched(Glass):
    """A glass that counts how often it was cleared."""

    cleared = 0

    def erase_in_display(self, *how, **options):
        """Count, and clear."""
        self.cleared += 1
        super().erase_in_display(*how, **options)

    def full_screen(self, on):
        """Count: who enters a full screen anew has it cleared."""
        self.cleared += 1
        super().full_screen(on)


@pytest.fixture
def held(measured):
    def begin(mode="truecolor", size=(80, 24), at="21:00"):
        return measured("demo", "--at", at, mode=mode, size=size, glass=Watched(*size), code=HELD)

    return begin


def cells(glass):
    """Return every cell as it is seen: its sign and what lights there."""
    rows = [[glass.buffer[row][column] for column in range(glass.columns)] for row in range(glass.lines)]
    return [[(cell.data, glass.lights(cell)) for cell in row] for row in rows]


@pytest.mark.parametrize(("mode", "size", "at", "words"), PAGES)
def test_the_first_page_is_the_one_that_the_app_draws(held, mode, size, at, words):
    meter = held(mode, size, at)
    meter.wait_for(words)
    first, text, cleared = cells(meter.glass), meter.shown(), meter.glass.cleared
    meter.glass.buffer.clear()  # what stands there from now on is the app's
    os.write(meter.fd, b".")
    meter.wait_until(lambda _: meter.shown() == text)
    assert cells(meter.glass) == first
    assert meter.glass.cleared == cleared
    assert meter.glass.leaks == {}


def test_a_program_that_is_ended_before_the_app_is_there_gives_the_terminal_back(held):
    meter = held()
    meter.wait_for("0 done")
    meter.signal(signal.SIGTERM)
    reading = meter.end()
    assert (reading.code, reading.leaks) == (143, [])
    assert reading.given_back
    assert not reading.in_full_screen
    assert not reading.cursor_hidden


def test_the_keys_that_leave_wait_for_the_app_too(held):
    meter = held()
    meter.wait_for("0 done")
    os.write(meter.fd, b".\x03")
    meter.wait_for("again leaves")
    assert meter.child.poll() is None


def test_a_key_pressed_before_the_app_is_there_waits_for_it_and_does_not_swallow_the_next(held):
    meter = held()
    meter.wait_for("0 done")
    os.write(meter.fd, b". ")
    meter.wait_for("1 done")
    os.write(meter.fd, b" ")  # pressed half a second after the first, of which the app has seen no part
    meter.wait_for("2 done")


def test_a_key_held_before_the_app_is_there_counts_once(held):
    meter = held()
    meter.wait_for("0 done")
    os.write(meter.fd, b"." + b" " * 20)
    meter.wait_for("1 done")
    meter.wait(0.3)
    assert "1 done" in meter.shown()
