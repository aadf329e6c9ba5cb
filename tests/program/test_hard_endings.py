"""What no well-behaved terminal brings: one that does not read, storms of signals, huge sizes."""

import contextlib
import os
import signal
import subprocess
import time
from pathlib import Path

import pytest

from nightmode.model.session import Event
from nightmode.session.journal import read


def opened(start, **options):
    program = start("demo", "--at", "21:00", **options)
    program.wait_for("to do")
    return program


def test_a_terminal_that_does_not_read_does_not_hold_up_an_ending(start, demo_journal):
    walking = opened(start, size=(300, 90))
    walking.press("space", then=": seen")
    for key in b"+-" * 5:  # each draws 60 kB, and nobody reads them
        os.write(walking.fd, bytes([key]))
        time.sleep(0.04)
    walking.signal(signal.SIGTERM)
    try:
        assert walking.child.wait(12) == 143
    except subprocess.TimeoutExpired:
        pytest.fail("it waits for the terminal")
    assert [entry.event for entry in read(demo_journal).entries] == [Event.TICK, Event.PAUSE]


def test_stops_and_starts_while_leaving_are_no_fault(start):
    walking = opened(start)
    walking.press("q", then="q again leaves")
    walking.press("q")
    for _ in range(400):
        if walking.child.poll() is not None:
            break
        with contextlib.suppress(ProcessLookupError):  # it has ended since it was looked at
            walking.signal(signal.SIGCONT)
        walking.run(0.003)
    assert walking.end() == 0


def peak_kb(program):
    status = Path(f"/proc/{program.child.pid}/status").read_text()
    return int(status.split("VmHWM:")[1].split()[0])


def test_sizes_that_cannot_be_meant_take_no_memory(start):
    program = opened(start, LINES="99999999", COLUMNS="9999999")
    drawn, until = len(program.raw), time.monotonic() + 40
    program.resize(60000, 60000)
    while len(program.raw) < drawn + 100_000:  # until it has drawn the largest screen that is meant
        assert time.monotonic() < until
        program.run(0.1)
        assert peak_kb(program) < 400_000


def test_a_pipe_in_place_of_the_log_holds_up_nobody(start, tmp_path):
    log = tmp_path / "XDG_STATE_HOME" / "nightmode" / "log" / "nightmode.log"
    log.parent.mkdir(parents=True)
    os.mkfifo(log)
    program = opened(start)
    program.press("q", then="q again leaves")
    program.press("q")
    assert program.end() == 0
