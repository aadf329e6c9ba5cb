"""A screen with every widget and every way to crash, under the light meter; and the guard taken away."""

import signal
from pathlib import Path

import pytest
from light.modes import MOST_MODES
from turns import rarely

#: The specimen as a program of its own; and with some of the guard taken away.
SPECIMEN = f"""
import sys
sys.path.insert(0, {str(Path(__file__).parents[1])!r})
from light import specimen
from nightmode.cli.main import _leave
_leave(specimen.main(sys.argv[1:]))
"""
MUTANT = SPECIMEN.replace("specimen", "mutant")


@pytest.fixture
def start(measured, tmp_path):
    """Return a function that begins the specimen and waits until it stands there."""

    def begin(*arguments, mode="truecolor", wait="NGC 7789", code=SPECIMEN, **options):
        meter = measured("--log", str(tmp_path / "log"), *arguments, mode=mode, code=code, **options)
        if wait:
            meter.wait_for(wait)
        return meter

    return begin


@pytest.fixture
def log(tmp_path):
    return tmp_path / "log"


def assert_dark(reading, code=0):
    assert reading.leaks == []
    assert not reading.hung
    assert reading.code == code
    assert reading.bells == 0
    assert not reading.in_full_screen
    assert not reading.cursor_hidden


@pytest.mark.parametrize("mode", ["256", rarely("truecolor"), rarely("linux")])
def test_a_whole_sitting_is_red_and_gives_the_terminal_back(start, log, mode):
    meter = start(mode=mode)
    meter.press("space", "+", "+", "-", "down", "b")
    meter.wait_until(lambda frame: frame.lit == 0)
    meter.press("space")  # it only wakes the screen
    meter.wait_until(lambda frame: frame.lit > 100)
    assert "counter 1" in meter.shown()
    meter.press("n")
    meter.resize(60, 18)
    meter.resize(100, 30)
    meter.press("i", "a", "ctrl+c")
    reading = meter.end()
    assert_dark(reading)
    assert reading.given_back
    assert "native library" in log.read_text()


EVENTS = {
    "SIGTERM": ("truecolor", lambda meter: meter.signal(signal.SIGTERM), 143),
    "SIGINT": ("256", lambda meter: meter.signal(signal.SIGINT), 130),
    "SIGHUP": ("16", lambda meter: meter.signal(signal.SIGHUP), 129),
    "ctrl+q": ("linux", lambda meter: meter.press("ctrl+q"), 0),
    "crash in a widget": ("16", lambda meter: meter.press("w"), 70),
    "crash in a thread": ("truecolor", lambda meter: meter.press("t"), 70),
    "crash in a worker": ("tmux", lambda meter: meter.press("r"), 70),
    "crash in a timer": ("dumb", lambda meter: meter.press("y"), 70),
    "crash in the loop": ("no-color", lambda meter: meter.press("o"), 70),
}


#: Endings that the real program shows every day as well (`test_program_light`), and the rarer crashes.
TOLD_ELSEWHERE = {"SIGTERM", "SIGHUP", "crash in a worker", "crash in a timer"}


@pytest.mark.parametrize(
    "event",
    [rarely(name) if name in TOLD_ELSEWHERE else name for name in EVENTS],
)
def test_every_ending_is_red_and_gives_the_terminal_back(start, log, event):
    mode, act, code = EVENTS[event]
    meter = start(mode=mode)
    act(meter)
    reading = meter.end()
    assert_dark(reading, code)
    assert reading.given_back
    if code == 70:
        assert "ZeroDivisionError" in log.read_text()
        assert "stopped on a fault" in reading.text
        assert "\n" not in reading.text


def test_a_stopped_program_is_repainted_when_it_goes_on_and_the_shell_cannot_stop_it(start):
    meter = start()
    meter.signal(signal.SIGSTOP)
    meter.wait(0.1)
    meter.glass.erase_in_display(2)  # the shell had the screen meanwhile
    meter.signal(signal.SIGCONT)
    meter.wait_for("NGC 7789")
    meter.press("space")
    meter.wait_for("counter 1")
    meter.signal(signal.SIGTSTP)
    meter.press("space")
    meter.wait_for("counter 2")
    meter.press("q")
    assert_dark(meter.end())


def test_a_closed_terminal_ends_the_program(start):
    meter = start()
    meter.hang_up()
    reading = meter.end()
    assert not reading.hung
    assert reading.code == 129
    assert 0 < reading.cpu_s < 3


@pytest.mark.parametrize("mode", [rarely("truecolor"), "linux"])
def test_a_fault_before_the_screen_is_one_red_line(start, log, mode):
    meter = start("--fault", mode=mode, wait="")
    reading = meter.end()
    assert_dark(reading, 70)
    assert reading.given_back
    assert "stopped on a fault" in reading.text
    assert "RuntimeError: a fault before the screen" in log.read_text()


@pytest.mark.parametrize("delay_s", [rarely(0.05), 0.15, rarely(0.3)])
def test_a_signal_while_starting_gives_the_terminal_back(start, delay_s):
    meter = start(wait="", cold=True)
    while not meter.arrived:
        meter.wait(0.005)
    meter.wait(delay_s)
    meter.signal(signal.SIGTERM)
    reading = meter.end()
    assert_dark(reading, 143)
    assert reading.given_back


@pytest.mark.parametrize("mode", MOST_MODES)
def test_an_error_before_the_screen_is_one_red_line(start, mode):
    meter = start("--bad-start", mode=mode, wait="")
    reading = meter.end()
    assert reading.leaks == []
    assert reading.code == 2
    assert "there is no such file" in reading.text


@pytest.mark.parametrize(
    ("layer", "mode", "key"),
    [
        rarely("filter_and_driver", "truecolor", "q"),
        ("filter_and_driver", "256", "q"),
        ("own_colours", "linux", "q"),
        ("anything", "16", "q"),
        rarely("anything", "truecolor", "q"),
        rarely("anything", "16", "w"),
    ],
)
def test_the_meter_sees_a_guard_that_is_taken_away(start, layer, mode, key):
    meter = start(layer, mode=mode, code=MUTANT)
    meter.press(key)
    assert meter.end().leaks
