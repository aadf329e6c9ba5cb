"""A night of twelve hours on a fast clock, keys and sizes as they come: memory stays flat, nothing fails."""

import itertools
import os
import random
import time
from pathlib import Path

import pytest
from program.pseudo import PACKAGE

from nightmode.model.session import Event
from nightmode.session.journal import read

NIGHT_S = 12 * 3600
SIZES = ((80, 24), (120, 40), (60, 18), (200, 60), (20, 6), (3, 2))
#: Keys pressed one after another, with what makes a whole of each. (A second b at once would be the first one
#: held, and the black screen would swallow the key that begins the next turn.)
TURNS = (
    *[["space"], ["s"], ["x"], ["z"], ["u"]] * 3,
    *[["3"], ["n", "cold [b]fingers[/b]", "enter"], ["m", "21.1", "enter"], ["c", "1", "enter"], ["c", "0"]],
    *[
        ["w"],
        ["i", "2"],
        ["j"],
        ["k"],
        ["e"],
        ["l", "down", "down", "enter"],
        ["?", "j", "q"],
        ["p", "space", "q"],
    ],
    *[["+"], ["-"], ["b", "j"], ["q", "y"]],
)


def resident_kb(program):
    status = Path(f"/proc/{program.child.pid}/status").read_text()
    return int(status.split("VmRSS:")[1].split()[0])


def noted_s(journal):
    """How much of the night is noted: on a busy machine the last entry may be hours old on this clock."""
    entries = read(journal).entries if journal.exists() else []
    return (entries[-1].at - entries[0].at).total_seconds() if entries else 0.0


@pytest.mark.parametrize(
    ("rate", "pause_s", "allowed_kb"),
    [(7200, 0.04, 4000), pytest.param(40, 0.3, 6000, marks=pytest.mark.long)],
    ids=["in 6 seconds", "in 18 minutes"],
)
def test_twelve_hours_with_everything_pressed(
    start, demo_journal, tmp_path, rate, pause_s, allowed_kb, record_property
):
    chance = random.Random(12)
    program = start("demo", "--at", "17:30", "--rate", str(rate))
    program.wait_for("to do")
    began_s, sampled_kb, presses = time.monotonic(), [], 0
    length_s = NIGHT_S / rate
    while (past := time.monotonic() - began_s) < length_s or noted_s(demo_journal) < 0.9 * NIGHT_S:
        assert past < 10 * length_s, "it takes too long"
        program.press(*chance.choice(TURNS))
        presses += 1
        if presses % 15 == 0:
            program.resize(*chance.choice(SIZES))
        program.run(pause_s)
        if past > length_s / 4:
            sampled_kb.append(resident_kb(program))
    program.resize(80, 24)
    program.run(0.5)
    entries = read(demo_journal).entries
    assert program.child.poll() is None
    program.signal(15)
    assert program.end() == 143
    ticks = [entry for entry in entries if entry.event is Event.TICK]
    assert len(ticks) > 5
    quarter = len(sampled_kb) // 4
    growth_kb = max(sampled_kb[-quarter:]) - max(sampled_kb[:quarter])
    record_property(
        "figures", f"{presses} turns, {len(entries)} entries, {len(ticks)} ticks, {growth_kb} kB more"
    )
    assert growth_kb < allowed_kb, (growth_kb, sampled_kb[:: quarter or 1])
    [log] = tmp_path.rglob("nightmode.log")
    assert log.read_text() == ""


#: What a library gone mad would do: write without end to where errors go, once that is no terminal any more.
FLOOD = """import os, threading, time

def flood():
    while os.isatty(2):
        time.sleep(0.01)
    os.write(2, b"the first word\\n")
    while True:
        os.write(2, b"and so on\\n" * 20_000)
        time.sleep(0.5)

threading.Thread(target=flood, daemon=True).start()
"""


def test_a_flood_of_errors_neither_fills_the_disk_nor_reaches_the_screen(start, tmp_path):
    folder = tmp_path / "flood"
    folder.mkdir()
    (folder / "sitecustomize.py").write_text(FLOOD)
    program = start("demo", "--at", "21:00", PYTHONPATH=os.pathsep.join([str(folder), str(PACKAGE)]))
    program.wait_for("to do")
    [log] = tmp_path.rglob("nightmode.log")
    keys, sizes = itertools.cycle("jk"), [0, 0]
    until = time.monotonic() + 40
    while sizes[-1] >= sizes[-2]:  # until it is cut
        assert time.monotonic() < until, sizes
        program.press(next(keys))
        program.run(0.1)
        sizes.append(log.stat().st_size)
    assert max(sizes) > 400_000
    program.press("space", then=": seen")
    assert log.read_text().startswith("the first word")
    assert "and so on" not in program.said
