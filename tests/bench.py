"""Speeds beside named baselines of the same run: python tests/bench.py

Start and idling of the night screen beside a bare Textual app with a clock, both in a pseudo-terminal; whole
commands beside a process that only loads their libraries. What counts is the ratio. Linux only (/proc).
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

import pexpect

RUNS, IDLE_S = 5, 20.0
BARE = """
import datetime
from textual.app import App
from textual.widgets import Static
class Bare(App):
    def compose(self):
        yield Static("ready", id="clock")
    def on_mount(self):
        self.set_interval(1.0, self.tick)
    def tick(self):
        self.query_one("#clock", Static).update(datetime.datetime.now().strftime("%H:%M:%S"))
Bare().run(mouse=False)
"""
SUBJECTS = {
    "bare Textual, 1 Hz clock": ([sys.executable, "-c", BARE], "ready"),
    "nightmode demo": ([sys.executable, "-m", "nightmode", "demo", "--afresh"], "altitude"),
}
LIBRARIES = [sys.executable, "-c", "import numpy, pydantic, skyfield.api, skyfield.almanac"]
PLANS = Path(__file__).parent.parent / "plans"
SITE = ["--observer", "observer.toml"]
SETUP_KIT = [
    "--telescope",
    "200 mm",
    "--aperture",
    "200",
    "--focal-length",
    "1200",
    "--eyepieces",
    "25/60,10/60",
]
WHOLE: dict[str, list[Any]] = {
    "loading the libraries": LIBRARIES,
    "nightmode check, 30 targets": ["check", PLANS / "hillside.toml"],
    "nightmode nights, 40 nights": ["nights", "--from", "2026-12-01", *SITE],
    "nightmode draft, 13,000 objects": [
        "draft",
        "--night",
        "2026-12-05",
        "--force",
        "-o",
        "plan.toml",
        *SITE,
    ],
    "nightmode sheet, 30 targets": ["sheet", PLANS / "hillside.toml"],
}


def cpu_s(pid):
    """Return the processor seconds that a process has used."""
    fields = Path(f"/proc/{pid}/stat").read_text(encoding="ascii").rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def measure(command, awaited, env):
    """Return seconds to the first readable screen, and processor seconds a minute when idle."""
    began = time.perf_counter()
    child = pexpect.spawn(command[0], command[1:], env=env, dimensions=(30, 100), timeout=30)
    child.expect(awaited)
    readable_s = time.perf_counter() - began
    pexpect_read(child, 3.0)
    before, start = cpu_s(child.pid), time.perf_counter()
    pexpect_read(child, IDLE_S)
    idle = (cpu_s(child.pid) - before) / (time.perf_counter() - start) * 60
    child.close(force=True)
    return readable_s, idle


def pexpect_read(child, seconds):
    """Keep reading, as a terminal does, for so long."""
    end = time.perf_counter() + seconds
    while (left := end - time.perf_counter()) > 0:
        try:
            child.read_nonblocking(4096, timeout=left)
        except pexpect.TIMEOUT:
            return


def whole_commands():
    """Print the wall seconds of whole commands, medians of several runs in turn, and their ratios."""
    took: dict[str, list[float]] = {name: [] for name in WHOLE}
    with tempfile.TemporaryDirectory() as folder:
        env = os.environ | {f"XDG_{name}_HOME": folder for name in ("CONFIG", "DATA", "STATE")}
        nightmode = [sys.executable, "-m", "nightmode"]
        setup = [*nightmode, "setup", "--site", "hill", "--latitude", "47", "--longitude", "11", *SETUP_KIT]
        subprocess.run([*setup, *SITE], env=env, cwd=folder, check=True, capture_output=True)
        for _ in range(RUNS):
            for name, words in WHOLE.items():
                command = words if words is LIBRARIES else [*nightmode, *map(str, words)]
                began = time.perf_counter()
                subprocess.run(command, env=env, cwd=folder, check=True, capture_output=True)
                took[name].append(time.perf_counter() - began)
    base = statistics.median(took["loading the libraries"])
    for name, seconds in took.items():
        middle = statistics.median(seconds)
        print(f"{name:34} {middle:.2f} s   {middle / base:.1f} x")


def main():
    """Measure in turn and print medians and ratios."""
    found: dict[str, list[tuple[float, ...]]] = {name: [] for name in SUBJECTS}
    with tempfile.TemporaryDirectory() as folder:
        places = {f"XDG_{name}_HOME": folder for name in ("CONFIG", "DATA", "STATE")}
        env = os.environ | places | {"TERM": "xterm-256color", "COLORTERM": "truecolor"}
        for _ in range(RUNS):
            for name, (command, awaited) in SUBJECTS.items():
                found[name].append(measure(command, awaited, env))
    base, ours = (
        [statistics.median(column) for column in zip(*rows, strict=True)] for rows in found.values()
    )
    for name, (start, idle) in zip(SUBJECTS, (base, ours), strict=True):
        print(f"{name:26} first readable screen {start:.2f} s   idle {idle:.2f} CPU s a minute")
    print(f"{'ratio':26} first readable screen {ours[0] / base[0]:.2f}     idle {ours[1] / base[1]:.2f}")


if __name__ == "__main__":
    main()
    whole_commands()
