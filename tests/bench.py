"""Start and idling of the night screen beside a bare Textual app with a clock: python tests/bench.py

Both run in a pseudo-terminal, in turn, in the same run; what counts is the ratio. Linux only (/proc).
"""

import os
import statistics
import sys
import tempfile
import time
from pathlib import Path

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


def main():
    """Measure in turn and print medians and ratios."""
    found = {name: [] for name in SUBJECTS}
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
