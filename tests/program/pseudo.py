"""The real program in a pseudo-terminal: keys in, everything it ever wrote out, and signals of any kind."""

import codecs
import fcntl
import os
import pty
import re
import select
import signal
import struct
import subprocess
import termios
import time
from pathlib import Path

import pyte
from warm_start import begin

import nightmode
from nightmode.app.hand import PAUSE_S

ROOT = Path(__file__).resolve().parents[2]
#: Where the program under test comes from: the checkout, or the environment it was installed in.
PACKAGE = Path(nightmode.__file__).resolve().parents[1]
HOMES = ("XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME")
#: Colours say nothing about what is shown; every other sequence ends a piece of text.
_COLOUR = re.compile(r"\x1b\[[0-9;:]*m")
_SEQUENCE = re.compile(r"\x1b\][^\x07\x1b]*(?:\x07|\x1b\\)|\x1b\[[<=>?]?[0-9;:]*[ -/]*[@-~]|\x1b[^\[\]]")
_WHOLE = re.compile(f"{_COLOUR.pattern}|{_SEQUENCE.pattern}")
#: What the screen of pyte does not know and would print.
_FOREIGN = re.compile(r"\x1b\][^\x07\x1b]*(?:\x07|\x1b\\)|\x1b\[[<=>][0-9;]*[a-z]|\x1b\[\?[0-9;]*\$p")
#: Keys that the program takes for held when they come again too soon.
_TOLD_APART = {"space", "s", "x", "z", "u"}
_KEYS = {"space": " ", "enter": "\r", "esc": "\x1b", "tab": "\t", "down": "\x1b[B", "ctrl+c": "\x03"}


class Program:
    """A run of the program; `said` is the text of every frame, one piece a line."""

    def __init__(self, arguments, home, size=(100, 30), cold=False, **env):
        self.home = home
        self.said = self.raw = self._held = ""
        self._screen = pyte.Screen(*size)
        self._fed = 0
        self._takes_keys = False
        self._pressed, self._unseen = {}, set()
        self._decode = codecs.getincrementaldecoder("utf-8")("replace").decode
        self.fd, inner = pty.openpty()
        self._set_size(*size)
        homes = {name: str(home / name) for name in HOMES} | {"HOME": str(home), "PYTHONPATH": str(PACKAGE)}
        kept = {name: value for name, value in os.environ.items() if name not in {"NO_COLOR", "TMUX", "STY"}}
        env = kept | {"TERM": "xterm-256color", "COLORTERM": "truecolor"} | homes | env
        self.child = begin(arguments, inner, env, cold=cold)
        os.close(inner)

    def _set_size(self, columns, rows):
        fcntl.ioctl(self.fd, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))

    def shown(self):
        """Return the lines on the screen now."""
        fed, self._fed = self._fed, len(self.raw)
        pyte.Stream(self._screen).feed(_FOREIGN.sub("", self.raw[fed:]))
        return "\n".join(line.rstrip() for line in self._screen.display)

    def run(self, seconds):
        """Let it run."""
        until = time.monotonic() + seconds
        while (left := until - time.monotonic()) > 0 and self._pump(left):
            pass

    def wait_for(self, text, seconds=40, since=0):
        """Wait until it has said a text, after so many characters that it had said before, and takes keys."""
        until = time.monotonic() + seconds
        while text not in self.said[since:] or self._only_shows():
            alive = self._pump(0.05)
            assert alive or text in self.said[since:], f"ended before {text!r}: {self.said[-2000:]}"
            assert time.monotonic() < until, f"{text!r} never came: {self.shown()}"
        self._have_arrived()

    def _only_shows(self):
        """Whether its first page stands there, and what takes the keys has not drawn it yet."""
        if not self._takes_keys:
            _, entered, after = self.raw.partition("\x1b[?1049h")
            self._takes_keys = "\x1b[1;1H" in after.partition("\x1b[?2004h")[2]
            return bool(entered) and not self._takes_keys
        return False

    def wait_shown(self, text, seconds=40):
        """Wait until a text stands on the screen."""
        until = time.monotonic() + seconds
        while text not in self.shown():
            assert time.monotonic() < until, f"{text!r} never stood there: {self.shown()}"
            self._pump(0.05)
        self._have_arrived()

    def press(self, *keys, then=None):
        """Press keys at once, and wait for what they must bring."""
        since = len(self.said)
        for key in keys:
            self._let_go_of(key)
            os.write(self.fd, _KEYS.get(key, key).encode())
        if then:
            self.wait_for(then, since=since)

    def _let_go_of(self, key):
        """Wait until a key that was pressed last does not look as if it were still held."""
        since = time.monotonic() - self._pressed.get(key, float("-inf"))
        if key in _TOLD_APART and since < PAUSE_S:
            self.run(PAUSE_S - since + 0.05)
        self._pressed[key] = time.monotonic()
        self._unseen.add(key)

    def _have_arrived(self):
        """Keys that brought something had arrived by now: on a busy machine that is long after the press."""
        self._pressed |= dict.fromkeys(self._unseen, time.monotonic())
        self._unseen.clear()

    def resize(self, columns, rows):
        self.shown()
        self._screen.resize(rows, columns)
        self._set_size(columns, rows)

    def signal(self, number):
        os.kill(self.child.pid, number)

    def hang_up(self):
        """Close the terminal."""
        os.close(self.fd)
        self.fd = -1

    def kill(self):
        """Kill it at once; what it wrote before is still read."""
        self.signal(signal.SIGKILL)
        return self.end()

    def end(self, seconds=20):
        """Wait for its end and return the exit code; a program that stays is killed and fails."""
        until = time.monotonic() + seconds
        while self.fd >= 0 and time.monotonic() < until and self._pump(0.1):
            pass
        try:
            code = self.child.wait(max(0.1, until - time.monotonic()))
        except subprocess.TimeoutExpired:
            self.child.kill()
            self.child.wait()
            raise AssertionError(f"it stayed: {self.shown()}") from None
        if self.fd >= 0:
            self.hang_up()
        return code

    def _pump(self, seconds):
        """Read once; return False when the program has closed its terminal."""
        if not select.select([self.fd], [], [], seconds)[0]:
            return True
        try:
            data = os.read(self.fd, 65536)
        except OSError:
            return False
        self._take(self._held + self._decode(data))
        return bool(data)

    def _take(self, text):
        """Add to what was said; a sequence that has not come whole waits for its rest."""
        last = text.rfind("\x1b")
        whole = last < 0 or _WHOLE.match(text, last)
        text, self._held = (text, "") if whole else (text[:last], text[last:])
        self.raw += text
        self.said += _SEQUENCE.sub("\n", _COLOUR.sub("", text))
