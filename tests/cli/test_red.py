"""--red, or red = true in observer.toml: what the day commands print, ask and echo is red, nothing else."""

import os
import pty
import select
import subprocess
import sys
import termios
from pathlib import Path

import pyte
import pytest
from turns import by_turns

import nightmode

PACKAGE = Path(nightmode.__file__).resolve().parents[1]
OBSERVER = """
[observer]
red = {red}
[[site]]
name = "Hill"
latitude_deg = 47.0
longitude_deg = 11.0
timezone = "Europe/Vienna"
sky_brightness = 21.0
[[telescope]]
name = "150 mm"
aperture_mm = 150
focal_length_mm = 750
[[eyepiece]]
name = "25 mm"
focal_length_mm = 25
apparent_field_deg = 50
"""
PLAN = '[[target]]\nname = "M 42"\n[[target]]\nname = "M 31"\n'
COMMANDS = {
    "nights": (["nights", "--from", "2026-12-01", "--days", "3"], ""),
    "draft": (["draft", "--night", "2026-12-12", "--from-list", "{home}/p.toml"], ""),
    "check": (["check", "{home}/p.toml", "--night", "2026-12-12"], ""),
    "kit": (["kit"], ""),
    "sheet": (["sheet", "{home}/p.toml", "--night", "2026-12-12"], ""),
    "enter": (["enter", "{home}/p.toml", "--night", "2025-12-12", "--session", "{home}/s.toml"], "\nq\n"),
    "setup": (["setup"], "Garden\n\x04"),
}


def lit_cells(words, keys, home):
    """Run the program on a terminal of its own; return the colours of every cell that shows something."""
    master, inner = pty.openpty()
    mode = termios.tcgetattr(inner)
    child = subprocess.Popen(
        [sys.executable, "-m", "nightmode", *(word.format(home=home) for word in words)],
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
    screen = pyte.Screen(160, 400)
    pyte.ByteStream(screen).feed(said)
    rows = [screen.buffer[row][column] for row in range(400) for column in range(160)]
    return [cell for cell in rows if cell.data.strip()]


def is_red(cell):
    """True for pure red on black. A name or a default would be the terminal's own colour."""
    return len(cell.fg) == 6 and cell.fg[2:] == "0000" and cell.bg == "000000"


@pytest.mark.parametrize(("name", "by"), by_turns(COMMANDS, ("flag", "file")))
def test_every_day_command_prints_in_red_when_asked(name, by, tmp_path):
    words, keys = COMMANDS[name]
    (tmp_path / "p.toml").write_text(PLAN)
    path = tmp_path / "observer.toml"
    path.write_text(OBSERVER.format(red="true" if by == "file" else "false"))
    flags = ["--observer", str(path), *(["--red"] if by == "flag" else [])]
    cells = lit_cells([*words, *flags], keys, tmp_path)
    assert len(cells) > 40
    wrong = [cell for cell in cells if not is_red(cell)]
    assert wrong == []


def test_without_being_asked_the_terminal_keeps_its_own_colours(tmp_path):
    path = tmp_path / "observer.toml"
    path.write_text(OBSERVER.format(red="false"))
    cells = lit_cells(["kit", "--observer", str(path)], "", tmp_path)
    assert len(cells) > 40
    assert {cell.fg for cell in cells} == {"default"}
