"""The real program, in a pseudo-terminal, under the light meter: one cell that is not red fails."""

import os
import signal
import sys
from pathlib import Path

import pytest
from light.meter import MODES, Meter

ROOT = Path(__file__).resolve().parents[2]
SPECIMEN = [sys.executable, str(ROOT / "tests/light/specimen.py")]
ENV = {"PYTHONPATH": f"{ROOT}{os.pathsep}{ROOT / 'tests'}"}


@pytest.fixture
def start(tmp_path):
    meters = []

    def begin(*arguments, mode="truecolor", wait="NGC 7789", script=None):
        log = tmp_path / "log"
        command = [sys.executable, str(script)] if script else SPECIMEN
        meter = Meter([*command, "--log", str(log), *arguments], mode, **ENV)
        meter.log = log
        meters.append(meter)
        if wait:
            meter.wait_for(wait)
        return meter

    yield begin
    for meter in meters:
        if meter.child.returncode is None:
            meter.signal(signal.SIGKILL)
            meter.end()


def assert_dark(reading, code=0):
    assert reading.leaks == []
    assert not reading.hung
    assert reading.code == code
    assert reading.bells == 0
    assert not reading.in_full_screen
    assert not reading.cursor_hidden


@pytest.mark.parametrize("mode", MODES)
def test_a_whole_sitting_is_red_and_gives_the_terminal_back(start, mode):
    meter = start(mode=mode)
    meter.press("space", "+", "+", "-", "down", "b")
    assert meter.wait(0.3).lit == 0
    meter.press("space")
    assert meter.wait(0.2).lit > 100
    assert "counter 1" in meter.shown()
    meter.press("n")
    meter.resize(60, 18)
    meter.resize(100, 30)
    meter.press("i", "a", "ctrl+c")
    reading = meter.end()
    assert_dark(reading)
    assert reading.given_back
    assert "native library" in meter.log.read_text()


EVENTS = {
    "SIGTERM": (lambda meter: meter.signal(signal.SIGTERM), 143),
    "SIGINT": (lambda meter: meter.signal(signal.SIGINT), 130),
    "SIGHUP": (lambda meter: meter.signal(signal.SIGHUP), 129),
    "ctrl+q": (lambda meter: meter.press("ctrl+q"), 0),
    "crash in a widget": (lambda meter: meter.press("w"), 70),
    "crash in a thread": (lambda meter: meter.press("t"), 70),
    "crash in a worker": (lambda meter: meter.press("r"), 70),
    "crash in a timer": (lambda meter: meter.press("y"), 70),
    "crash in the loop": (lambda meter: meter.press("o"), 70),
}


@pytest.mark.parametrize("event", EVENTS)
@pytest.mark.parametrize("mode", ["truecolor", "16"])
def test_every_ending_is_red_and_gives_the_terminal_back(start, event, mode):
    meter = start(mode=mode)
    act, code = EVENTS[event]
    act(meter)
    reading = meter.end()
    assert_dark(reading, code)
    assert reading.given_back
    if code == 70:
        assert "ZeroDivisionError" in meter.log.read_text()
        assert reading.text.count("\n") == 0
        assert "stopped on a fault" in reading.text
