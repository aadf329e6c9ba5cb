"""A camera before real terminals: each runs on a screen of its own (Xvfb), is driven by real keys and a real
pointer (xdotool), and every pixel of what it shows is looked at.

A pixel leaks if it has any green or blue in it. Light is the linear-light sRGB value, weighted for the
day-adapted eye (IEC 61966-2-1), as a share of the window all in white.
"""

import contextlib
import os
import shutil
import signal
import subprocess
import time
from dataclasses import dataclass
from pathlib import Path

import numpy as np

WIDTH, HEIGHT = 1400, 1000
NEEDED = ("Xvfb", "xdotool", "import", "sh")
WEIGHTS = np.array([0.2126, 0.7152, 0.0722])
_LINEAR = np.where(
    np.arange(256) <= 10, np.arange(256) / 255 / 12.92, ((np.arange(256) / 255 + 0.055) / 1.055) ** 2.4
)


@dataclass(frozen=True)
class Picture:
    """A photograph: `rgb` is rows by columns by 3, 0 to 255; `box` is the window's x, y, width, height."""

    rgb: np.ndarray
    box: tuple[int, int, int, int]

    @property
    def inside(self):
        """The pixels of the window."""
        x, y, width, height = self.box
        return self.rgb[y : y + height, x : x + width]

    @property
    def light(self):
        """Light of the whole screen, as a share of the window all in white."""
        return float((_LINEAR[self.rgb] @ WEIGHTS).sum()) / (self.box[2] * self.box[3])

    @property
    def leaks(self):
        """Return how many pixels have green or blue in them."""
        return int((self.rgb[:, :, 1:] > 0).any(axis=2).sum())

    @property
    def lit(self):
        """Return how many pixels are not black."""
        return int((self.rgb > 0).any(axis=2).sum())

    def save(self, path):
        """Write it as a PNG, to look at."""
        height, width, _ = self.rgb.shape
        command = ["convert", "-size", f"{width}x{height}", "-depth", "8", "rgb:-", str(path)]
        subprocess.run(command, input=self.rgb.tobytes(), check=True)


def missing(*programs):
    """Return which of the programs that the camera needs, and of these, are not installed."""
    return [name for name in (*NEEDED, *programs) if shutil.which(name) is None]


class Screen:
    """A screen with nothing on it but black. Use as a context."""

    def __init__(self):
        read, write = os.pipe()
        size = f"{WIDTH}x{HEIGHT}x24"
        self._server = subprocess.Popen(
            ["Xvfb", "-displayfd", str(write), "-screen", "0", size, "-br", "-nolisten", "tcp", "-noreset"],
            pass_fds=[write],
            stderr=subprocess.DEVNULL,
        )
        os.close(write)
        with os.fdopen(read) as told:
            self.display = f":{told.readline().strip()}"
        self.env = {**os.environ, "DISPLAY": self.display}

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self._server.terminate()
        self._server.wait()

    def do(self, *arguments):
        """Do something with keyboard and pointer, by xdotool; return what it says."""
        done = subprocess.run(
            ["xdotool", *map(str, arguments)], env=self.env, capture_output=True, text=True, check=False
        )
        return done.stdout

    def photograph(self):
        """Return all pixels of the screen."""
        command = ["import", "-silent", "-window", "root", "-depth", "8", "rgb:-"]
        data = subprocess.run(command, env=self.env, stdout=subprocess.PIPE, check=True).stdout
        return np.frombuffer(data, np.uint8).reshape(HEIGHT, WIDTH, 3)


class Window:
    """A terminal with a command in it, on a screen. Use as a context."""

    def __init__(self, screen, command, home, **env):
        self.screen, self._command = screen, command
        scrubbed = {"COLORTERM", "NO_COLOR", "TMUX", "STY", "TERM", "TERM_PROGRAM", "LINES", "COLUMNS"}
        kept = {name: value for name, value in screen.env.items() if name not in scrubbed}
        self._child = subprocess.Popen(
            command,
            env=kept | {"HOME": str(home), "LIBGL_ALWAYS_SOFTWARE": "1", "LANG": "C.UTF-8"} | env,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
        self.box = (0, 0, 1, 1)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        with contextlib.suppress(ProcessLookupError):
            os.killpg(self._child.pid, signal.SIGTERM)
        try:
            self._child.wait(5)
        except subprocess.TimeoutExpired:
            os.killpg(self._child.pid, signal.SIGKILL)
            self._child.wait()

    def picture(self):
        """Photograph it now."""
        return Picture(self.screen.photograph(), self.box)

    def watch(self, seconds):
        """Return pictures taken as fast as the camera can for so long."""
        taken: list[Picture] = []
        until = time.monotonic() + seconds
        while time.monotonic() < until or not taken:
            taken.append(self.picture())
        return taken

    def settle(self, seconds=20, still_s=0.6):
        """Wait until nothing has changed for a while; return that picture."""
        until, before, since = time.monotonic() + seconds, None, time.monotonic()
        while time.monotonic() < until:
            picture = self.picture()
            if before is None or (picture.rgb != before.rgb).any():
                before, since = picture, time.monotonic()
            elif time.monotonic() - since >= still_s:
                return picture
            time.sleep(0.05)
        return before

    def answer(self, key, is_there=lambda picture: True, seconds=40):
        """Press a key that must change what is shown; return what stands there once it is what is awaited."""
        before, until = self.settle(), time.monotonic() + seconds
        self.press(key)
        while ((now := self.picture()).rgb == before.rgb).all() or not is_there(now):
            assert time.monotonic() < until, f"{key} did not bring it: {self._command[0]}"
            time.sleep(0.1)
        return self.settle(still_s=1.2)

    def find(self, seconds=20):
        """Wait for the window, learn where it is, and put the pointer into it, so that it gets the keys."""
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            found = self.screen.do("search", "--onlyvisible", "--name", "").split()
            boxes = [
                box for window in found if (box := self._box(window)) and box[2] > 200 and box[2] < WIDTH
            ]
            if boxes:
                self.box = max(boxes, key=lambda box: box[2] * box[3])
                self.screen.do("mousemove", self.box[0] + self.box[2] // 2, self.box[1] + self.box[3] - 30)
                return
            time.sleep(0.1)
        raise AssertionError(f"no window came: {self._command[0]}")

    def _box(self, window):
        told = dict(
            line.split("=")
            for line in self.screen.do("getwindowgeometry", "--shell", window).split()
            if "=" in line
        )
        return tuple(int(told[name]) for name in ("X", "Y", "WIDTH", "HEIGHT")) if "WIDTH" in told else None

    def press(self, *keys, gap_s=0.15):
        """Press keys by their X names."""
        for key in keys:
            self.screen.do("key", key)
            time.sleep(gap_s)

    def hold(self, key, seconds):
        """Hold a key down."""
        self.screen.do("keydown", key)
        time.sleep(seconds)
        self.screen.do("keyup", key)

    def drag(self, *modifiers):
        """Draw the pointer over the text with its first button down."""
        x, y, width, height = self.box
        for modifier in modifiers:
            self.screen.do("keydown", modifier)
        self.screen.do("mousemove", x + 40, y + height // 4, "mousedown", 1)
        for step in range(1, 9):
            right, down = (width - 120) * step // 8, height // 2 * step // 8
            self.screen.do("mousemove", x + 40 + right, y + height // 4 + down)
        pictures = self.watch(0.3)
        self.screen.do("mouseup", 1)
        for modifier in modifiers:
            self.screen.do("keyup", modifier)
        return [*pictures, *self.watch(0.2)]

    def click(self, button):
        """Press a button of the mouse in the middle of the window, and let it go."""
        x, y, width, height = self.box
        self.screen.do("mousemove", x + width // 2, y + height // 2, "mousedown", button)
        pictures = self.watch(0.4)
        self.screen.do("mouseup", button)
        return [*pictures, *self.watch(0.3)]


#: Terminals and how to start each with a command in it, 100 columns by 30 rows where it can be told.
TERMINALS = {
    "xterm": ["xterm", "-geometry", "100x30", "-e"],
    "xterm-white": ["xterm", "-geometry", "100x30", "-bg", "white", "-fg", "black", "-e"],
    "st": ["stterm", "-g", "100x30", "-e"],
    "urxvt": ["urxvt", "-geometry", "100x30", "-e"],
    "lxterminal": ["lxterminal", "--no-remote", "--geometry=100x30", "-e"],
    "sakura": ["sakura", "-c", "100", "-r", "30", "-x"],
    "mlterm": ["mlterm", "-g", "100x30", "-e"],
    "pterm": ["pterm", "-geometry", "100x30", "-e"],
    "konsole": ["konsole", "-p", "TerminalColumns=100", "-p", "TerminalRows=30", "-e"],
    "kitty": ["kitty", "-o", "initial_window_width=100c", "-o", "initial_window_height=30c",
              "-o", "remember_window_size=no"],
    "alacritty": ["alacritty", "-o", "window.dimensions.columns=100",
                  "-o", "window.dimensions.lines=30", "-e"],
    "zutty": ["zutty", "-font", "DejaVuSansMono", "-geometry", "100x30", "-e"],
    "xfce4-terminal": ["dbus-run-session", "--", "xfce4-terminal", "--disable-server", "--hide-menubar",
                       "--hide-toolbar", "--hide-scrollbar", "--hide-borders", "--geometry=100x30", "-x"],
    "mate-terminal": ["dbus-run-session", "--", "mate-terminal", "--disable-factory", "--hide-menubar",
                      "--geometry=100x30", "-x"],
}  # fmt: skip


def program(name):
    """Return the name of the terminal's own program."""
    return next(word for word in TERMINALS[name] if word not in {"dbus-run-session", "--"})


def command(name, script: Path):
    """Return how to start this terminal with this script in it."""
    if name in {"lxterminal", "sakura"}:
        return [*TERMINALS[name], f"sh {script}"]
    return [*TERMINALS[name], "sh", str(script)]
