"""A program begun warm (tests/warm_start.py) is as a cold one: to the system, on the screen, on the disk."""

import os
import re
import signal
import time
from pathlib import Path

import pytest
from program.pseudo import Program
from warm_start import Child

#: So slow that it stands still: the same time in both journals.
STILL = ("--at", "21:00", "--rate", "0.000001")


#: Where each of them is at home; as long as the other, so that lines break alike.
COLD, WARM = "cold", "warm"


@pytest.fixture
def both(start, tmp_path):
    """Return a function that starts the program cold, and warm."""

    def begin(*words, **more):
        for name in (COLD, WARM):
            (tmp_path / name).mkdir(exist_ok=True)
        programs = [start(*words, home=tmp_path / name, cold=name == COLD, **more) for name in (COLD, WARM)]
        assert [isinstance(program.child, Child) for program in programs] == [False, True]
        return programs

    return begin


def unnamed(text):
    """Return a text that does not tell whose home it speaks of."""
    return text.replace(f"/{WARM}/", f"/{COLD}/")


def wait_alike(programs, look):
    """Wait until a look at both finds the same, and return it."""
    until = time.monotonic() + 20
    while True:
        cold, warm = map(look, programs)
        if cold == warm:
            return cold
        assert time.monotonic() < until, f"{cold}\n\n{warm}"
        for program in programs:
            program.run(0.05)


def as_the_system_sees_it(program):
    """Return what Linux tells of a process that could be otherwise when it is forked."""
    of = Path(f"/proc/{program.child.pid}")
    told = dict(line.split(":\t", 1) for line in (of / "status").read_text().splitlines() if ":\t" in line)
    _, _, group, session, terminal, foreground, *_ = (of / "stat").read_text().rpartition(")")[2].split()
    # The catalogue's database is opened for what has not been read from it yet: warm, all of the demo's has.
    open_files = [path for path in (of / "fd").iterdir() if path.readlink().suffix != ".db"]
    return {
        "signals": [told[name] for name in ("SigBlk", "SigIgn", "SigCgt", "ShdPnd")],
        "umask": told["Umask"],
        "leads": {group, session, foreground} == {str(program.child.pid)},
        "terminal": terminal != "0",
        "folder": (of / "cwd").readlink(),
        "open": sorted(unnamed(re.sub(r"\d+", "N", str(file))) for file in map(Path.readlink, open_files)),
    }


def test_a_sitting_is_the_same(both, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    before = os.umask(0o027)
    programs = both("demo", *STILL)
    os.umask(before)
    for program in programs:
        program.wait_for("to do")
    first = wait_alike(programs, lambda program: unnamed(program.raw.partition("\x1b[?2004h")[0]))
    assert "\x1b[?1049h" in first
    assert wait_alike(programs, as_the_system_sees_it)["leads"]
    for keys, brings in (("space", ": seen"), ("nice [b]\r", "noted on"), ("u", "undone"), ("l", "setting")):
        for program in programs:
            program.press(keys, then=brings)
        wait_alike(programs, Program.shown)
    for program in programs:
        program.signal(signal.SIGTERM)
    assert [program.end() for program in programs] == [128 + signal.SIGTERM] * 2
    cold, warm = (unnamed(program.raw.rpartition("\x1b[?1049l")[2]) for program in programs)
    assert cold == warm
    assert "1 done" in cold
    cold, warm = (left_by(program) for program in programs)
    assert cold == warm
    assert "ice [b]" in "".join(cold.values())


def left_by(program):
    """Return the files at its home."""
    files = [path for path in program.home.rglob("*") if path.is_file() and path.suffix != ".sqlite"]
    return {str(path.relative_to(program.home)): unnamed(path.read_text()) for path in files}


@pytest.mark.parametrize(
    ("words", "env", "code"),
    [
        (["walk", "not there.toml"], {"TERM": "linux", "COLORTERM": ""}, 2),
        (["walk", "--help"], {"COLUMNS": "50", "NO_COLOR": "1"}, 0),
    ],
)
def test_every_byte_of_a_short_answer_is_the_same(both, tmp_path, monkeypatch, words, env, code):
    monkeypatch.chdir(tmp_path)
    cold, warm = ((program.end(), program.raw) for program in both(*words, **env))
    assert cold == warm
    assert cold[0] == code
    assert cold[1]


def test_a_warm_program_that_is_killed_is_gone_and_says_by_what(start):
    program = start("demo")
    program.wait_for("to do")
    assert program.child.poll() is None
    assert program.kill() == -signal.SIGKILL
    with pytest.raises(ProcessLookupError):
        os.kill(program.child.pid, 0)


@pytest.mark.parametrize("name", ["PYTHONPATH", "NEVER_HEARD_OF"])
def test_what_may_be_read_while_modules_are_loaded_starts_the_program_cold(start, tmp_path, name):
    program = start("--version", **{name: str(tmp_path)})
    assert program.end() == 0
    assert not isinstance(program.child, Child)
