"""Nothing ever reaches for the network: a process that does is killed on the spot, or its command fails."""

import itertools
import os
import subprocess
import sys
from pathlib import Path

import pytest
from program.answers import answer
from program.pseudo import PACKAGE

PLAN = """night = 2026-12-13
site = { name = "Hill", latitude_deg = 47.1, longitude_deg = 15.4, timezone = "Europe/Vienna" }
telescope = { name = "Tube", aperture_mm = 200, focal_length_mm = 1200 }
eyepiece = [{ name = "Wide 25", focal_length_mm = 25 }]
target = [{ name = "M 42" }, { name = "Albireo" }, { name = "Moon" }, { name = "Jupiter" }]
"""
REACHED_OUT = 99
#: Loaded by the interpreter before anything else; hears of every attempt, whatever library makes it.
TRAP = f"""import os, sys

def hear(event, args):
    kind, _, what = event.partition(".")
    if kind == "socket" and what in ("connect", "getaddrinfo", "gethostbyname", "sendto", "bind"):
        os._exit({REACHED_OUT})

sys.addaudithook(hear)
"""


@pytest.fixture
def trap(tmp_path):
    folder = tmp_path / "trap"
    folder.mkdir()
    (folder / "sitecustomize.py").write_text(TRAP)
    return os.pathsep.join([str(folder), str(PACKAGE)])


def test_the_trap_catches(trap):
    code = "import urllib.request; urllib.request.urlopen('http://localhost:9/')"
    run = subprocess.run([sys.executable, "-c", code], env=os.environ | {"PYTHONPATH": trap}, check=False)
    assert run.returncode == REACHED_OUT


def test_a_whole_rehearsal_without_network(start, trap):
    program = start("demo", "orchard", "--rate", "6000", PYTHONPATH=trap)
    program.wait_for("to do")
    program.press("n", "clear", "enter", then="noted on")
    keys = itertools.cycle(("space", "s", "x"))  # one after another, so that none is a key held down
    while "the walk is done" not in program.shown():
        assert program.child.poll() is None
        program.press(next(keys))
        program.run(0.1)
    for key, page in (("l", "in order of setting"), ("?", "as often as you like"), ("p", "space: tick")):
        program.press(key)
        program.wait_shown(page)
        program.press("q")
        program.wait_shown("the walk is done")
    program.press("u", then="undone")
    program.press("q", then="q again leaves")
    program.press("q")
    assert program.end() == 0
    assert "done on the night of" in program.shown()


def test_every_command_of_the_day_without_network(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    plan = str(tmp_path / "plan.toml")
    Path(plan).write_text(PLAN)
    lines = (
        ["check", plan],
        ["check", plan, "--json", "--at", "21:00"],
        ["kit", plan],
        ["sheet", plan, "--output", "sheet.html"],
        [
            "setup",
            "--site=Hill",
            "--latitude=47.1",
            "--longitude=15.4",
            "--aperture=200",
            "--focal-length=1200",
            "--eyepieces=25/50,10/60",
        ],
        ["nights", "--days", "3"],
        ["draft", "--night", "2026-12-13", "--count", "5"],
        ["log"],
        ["tally", "first-light", "--html", "--output", "tally.html"],
        ["learn"],
        ["--version"],
    )
    for argv in lines:
        got = answer(argv)
        assert got.code == 0, (argv, got)
