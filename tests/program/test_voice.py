"""The real program with a voice that blocks, dies, or is not there: nothing is lost and nothing waits."""

import os
import signal
import time

import pytest

from nightmode.model.session import Event
from nightmode.session.journal import read

LONG_S = 20.0


def ticks(journal):
    return [entry for entry in read(journal).entries if entry.event is Event.TICK]


def gone(number):
    """Wait until no process has this number."""
    until = time.monotonic() + LONG_S
    while time.monotonic() < until:
        try:
            os.kill(number, 0)
        except ProcessLookupError:
            return True
        time.sleep(0.05)
    return False


@pytest.fixture
def numbers(stand_in, tmp_path):
    """Have the engine sleep for a minute; return a function that waits for the processes that speak."""
    kept = tmp_path / "numbers"
    stand_in.does(
        f"import os\nprint(os.getpid(), os.getppid(), file=open({str(kept)!r}, 'w'), flush=True)\n"
        "time.sleep(60)"
    )

    def wait():
        until = time.monotonic() + LONG_S
        while not (kept.exists() and len(kept.read_text().split()) == 2):
            assert time.monotonic() < until
            time.sleep(0.02)
        return [int(number) for number in kept.read_text().split()]

    return wait


def test_an_engine_that_blocks_for_a_minute_costs_no_tick(start, demo_journal, numbers):
    program = start("demo", "--afresh", "--voice")
    program.wait_for("to do")
    running = numbers()
    began_s = time.monotonic()
    for count, key in enumerate(("space", "s", "x"), 1):
        program.press(key, then=f"{count} done")
    assert time.monotonic() - began_s < 60
    assert len(ticks(demo_journal)) == 3
    program.press("q", "q")
    assert program.end() == 0
    assert all(gone(number) for number in running)


@pytest.mark.parametrize("how", [signal.SIGTERM, signal.SIGKILL])
def test_no_voice_outlives_the_program(start, numbers, how):
    program = start("demo", "--afresh", "--voice")
    program.wait_for("to do")
    running = numbers()
    program.signal(how)
    program.end()
    assert all(gone(number) for number in running)


def test_a_voice_that_dies_is_told_in_one_line_and_the_walk_goes_on(start, demo_journal, numbers):
    program = start("demo", "--afresh", "--voice")
    program.wait_for("to do")
    engine, mouth = numbers()
    os.kill(mouth, signal.SIGKILL)
    program.wait_shown("the voice has stopped")
    assert gone(engine)
    program.press("space", then="1 done")
    assert len(ticks(demo_journal)) == 1
    program.press("q", "q")
    assert program.end() == 0


@pytest.mark.long
def test_a_voice_that_freezes_is_dropped(start, demo_journal, numbers):
    program = start("demo", "--afresh", "--voice")
    program.wait_for("to do")
    engine, mouth = numbers()
    os.kill(mouth, signal.SIGSTOP)
    for count in range(1, 4):
        program.press("space", then=f"{count} done")
    program.wait_shown("the voice has stopped: the process that speaks does not answer")
    assert gone(mouth)
    assert gone(engine)
    assert len(ticks(demo_journal)) == 3
