"""--red, or red = true in observer.toml: what the day commands print, ask and echo is red, nothing else."""

import itertools
import json
import os
import pty
import select
import subprocess
import sys
import termios
from pathlib import Path

import pyte
import pytest
from cli.garden import GARDEN
from turns import by_turns, rarely

import nightmode

PACKAGE = Path(nightmode.__file__).resolve().parents[1]
OBSERVER = "[observer]\nred = {red}\n" + GARDEN
PLAN = '[[target]]\nname = "M 42"\n[[target]]\nname = "M 31"\n'
COMMANDS = {
    "nights": ["nights", "--from", "2026-12-01", "--days", "3"],
    "draft": ["draft", "--night", "2026-12-12", "--from-list", "{home}/p.toml"],
    "check": ["check", "{home}/p.toml", "--night", "2026-12-12"],
    "kit": ["kit"],
    "sheet": ["sheet", "{home}/p.toml", "--night", "2026-12-12"],
}
ASKING = {
    "enter": (["enter", "{home}/p.toml", "--night", "2025-12-12", "--session", "{home}/s.toml"], "\nq\n"),
    "setup": (["setup"], "Garden\n\x04"),
}
#: Between what one command of a process printed and the next.
BREAK = "\x1e"
MANY = f"""
import json, sys
from nightmode.cli.main import main
for words in json.loads(sys.argv[1]):
    main(words)
    print({BREAK!r}, end="", flush=True)
"""


def printed(words, home, keys=""):
    """Run Python on a terminal of its own; return all that it sent there."""
    master, inner = pty.openpty()
    mode = termios.tcgetattr(inner)
    child = subprocess.Popen(
        [sys.executable, *words],
        stdin=inner,
        stdout=inner,
        stderr=inner,
        env={"PATH": os.environ["PATH"], "HOME": str(home), "PYTHONPATH": str(PACKAGE)}
        | {"TERM": "xterm-256color", "COLORTERM": "truecolor", "XDG_CONFIG_HOME": str(home)},
    )
    assert mode[3] & termios.ECHO
    os.close(inner)
    said, waiting = b"", keys
    while True:
        ready, _, _ = select.select([master], [], [], 20)
        try:
            part = os.read(master, 65536) if ready else b""
        except OSError:  # the other end has gone
            break
        if not part:
            break
        said += part
        # One line an answer, each only once its question is there.
        if waiting and said.rstrip(b"\x1b[0123456789;m").endswith(b": "):
            line, waiting = waiting[: (waiting.find("\n") + 1) or None], waiting[waiting.find("\n") + 1 :]
            os.write(master, line.encode())
            waiting = "" if "\x04" in line else waiting
    child.wait()
    os.close(master)
    return said


def lit_cells(said):
    """Return every cell that shows something, with its colours."""
    screen = pyte.Screen(160, 400)
    pyte.ByteStream(screen).feed(said)
    rows = [screen.buffer[row][column] for row in range(400) for column in range(160)]
    return [cell for cell in rows if cell.data.strip()]


def is_red(cell):
    """True for pure red on black. A name or a default would be the terminal's own colour."""
    return len(cell.fg) == 6 and cell.fg[2:] == "0000" and cell.bg == "000000"


def asked(words, home, by):
    """Return the words of a command that asks for red by its flag or by the file; for neither."""
    path = home / f"{by}.toml"
    path.write_text(OBSERVER.format(red="true" if by == "file" else "false"))
    (home / "p.toml").write_text(PLAN)
    flags = ["--observer", str(path), *(["--red"] if by == "flag" else [])]
    return [*(word.format(home=home) for word in words), *flags]


@pytest.mark.parametrize("ways", [("flag", "file"), rarely(("file", "flag"))])
def test_every_day_command_prints_in_red_when_asked(ways, tmp_path):
    """One process for them all: each asks for itself, and gives the terminal back."""
    told = list(zip(COMMANDS, itertools.cycle(ways), strict=False))
    words = [asked(COMMANDS[name], tmp_path, by) for name, by in told]
    *parts, rest = printed(["-c", MANY, json.dumps(words)], tmp_path).split(BREAK.encode())
    assert rest == b""
    for (name, by), said in zip(told, parts, strict=True):
        cells = lit_cells(said)
        assert len(cells) > 40, name
        assert [cell for cell in cells if not is_red(cell)] == [], (name, by)


@pytest.mark.parametrize(("name", "by"), by_turns(ASKING, ("flag", "file")))
def test_what_is_asked_and_answered_is_red_too(name, by, tmp_path):
    words, keys = ASKING[name]
    cells = lit_cells(printed(["-m", "nightmode", *asked(words, tmp_path, by)], tmp_path, keys))
    assert len(cells) > 40
    assert [cell for cell in cells if not is_red(cell)] == []


def test_without_being_asked_the_terminal_keeps_its_own_colours(tmp_path):
    cells = lit_cells(printed(["-m", "nightmode", *asked(["kit"], tmp_path, "neither")], tmp_path))
    assert len(cells) > 40
    assert {cell.fg for cell in cells} == {"default"}
