"""A light meter: runs a program in a pseudo-terminal and looks at every cell from first byte to last."""

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
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

import pyte
from light.glass import Frame, Glass
from warm_start import begin

import nightmode
from nightmode.app.hand import PAUSE_S
from nightmode.app.keys import ASKED_TWICE, REPEATING

#: Where the program under the meter comes from: the checkout, or the environment it was installed in.
PACKAGE = Path(nightmode.__file__).resolve().parents[1]
MODES = {
    "truecolor": {"TERM": "xterm-256color", "COLORTERM": "truecolor"},
    "256": {"TERM": "xterm-256color"},
    "16": {"TERM": "xterm"},
    "linux": {"TERM": "linux"},
    "tmux": {"TERM": "tmux-256color", "TMUX": "/nowhere,1,0", "COLORTERM": "truecolor"},
    "no-color": {"TERM": "xterm-256color", "COLORTERM": "truecolor", "NO_COLOR": "1"},
    "dumb": {"TERM": "dumb"},
}
_SCRUBBED = {
    "COLORTERM",
    "NO_COLOR",
    "FORCE_COLOR",
    "COLUMNS",
    "LINES",
    "TERM_PROGRAM",
    "WT_SESSION",
    "TMUX",
    "STY",
}
#: A program that writes nothing for so long has written all it had to: a page comes in one piece or two.
QUIET_S = 0.015
#: A program that was busy may read a key so much later than it was pressed.
LATE_S = 0.25
#: A key sooner after the escape key would be read with it.
ALONE_S = 0.16
_KEYS = {"space": " ", "enter": "\r", "esc": "\x1b", "tab": "\t", "down": "\x1b[B", "end": "\x1b[F"}
_TOKEN = re.compile(
    r"\x1b\]P(?P<slot>[0-9a-fA-F]{7})|(?P<reset>\x1b\]R)|\x1b\](?P<osc>[0-9][^\x07\x1b]*)(?:\x07|\x1b\\)"
    r"|\x1b[PX^_](?:[^\x1b]|\x1b(?!\\))*\x1b\\|\x1b\[[<=>][0-9;]*[a-z]|\x1b\[\?[0-9;]*\$p|\x1b\[\?(?P<mode>[0-9]+)(?P<on>[hl])"
    r"|(?P<rest>\x1b\[[0-9;:?]*[ -/]*[@-~]|\x1b[^\[\]PX^_]|[^\x1b]+)"
)


@dataclass
class Reading:
    """What was seen from the first byte to the last."""

    leaks: list[str] = field(default_factory=list)
    frames: list[Frame] = field(default_factory=list)
    code: int | None = None
    cpu_s: float = 0.0
    bells: int = 0
    hung: bool = False
    text: str = ""
    given_back: bool = False
    in_full_screen: bool = False
    cursor_hidden: bool = False


class Meter:
    """A program under the meter: keys and signals in, frames and a reading out."""

    def __init__(
        self,
        words: Sequence[str],
        mode: str,
        size: tuple[int, int] = (100, 30),
        *,
        code: str = "",
        cold: bool = False,
        glass: "Glass | None" = None,
        answers: bool = False,
    ) -> None:
        """Begin `nightmode WORDS` in a mode of MODES; for `code` and `cold` see `warm_start.begin`.

        glass    what it writes on, if not a new one of this size
        answers  whether this terminal answers what its colours are
        """
        self._answers = answers
        self.reading = Reading()
        self.glass = glass or Glass(*size)
        self._stream = pyte.Stream(self.glass)
        self._held = ""
        self.arrived = 0  # bytes so far
        self._looked_at = -1
        self._pressed_s: dict[str, float] = {}
        self._decode = codecs.getincrementaldecoder("utf-8")("replace").decode
        kept = {name: value for name, value in os.environ.items() if name not in _SCRUBBED}
        self.fd, inner = pty.openpty()
        self._set_size(*size)
        env = kept | MODES[mode] | {"PYTHONPATH": str(PACKAGE)}
        self.child = begin(words, inner, env, code=code, cold=cold)
        os.close(inner)

    def _set_size(self, columns: int, rows: int) -> None:
        fcntl.ioctl(self.fd, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))

    def wait(self, seconds: float) -> Frame:
        """Let the program run; return the last frame of that time."""
        until = time.monotonic() + seconds
        while (left := until - time.monotonic()) > 0 and self._pump(left):
            pass
        return self.look()

    def look(self) -> Frame:
        """Return the frame that stands there now: the last one, if nothing has come since."""
        if self._looked_at != self.arrived:
            self._looked_at = self.arrived
            self.reading.frames.append(self.glass.frame())
        return self.reading.frames[-1]

    def rest(self, quiet_s: float = QUIET_S, seconds: float = 0.25) -> Frame:
        """Wait until nothing more comes, and not much longer; return the frame."""
        until = time.monotonic() + seconds
        before = -1
        while before != self.arrived and time.monotonic() < until:
            before = self.arrived
            self._pump(quiet_s)
        return self.look()

    def answered(self, seconds: float = 0.05) -> Frame:
        """Wait for what the program answers, if it does; return the frame with all of it."""
        until = time.monotonic() + seconds
        before = self.arrived
        while before == self.arrived and (left := until - time.monotonic()) > 0 and self._pump(left):
            pass
        return self.rest()

    def wait_for(self, text: str, seconds: float = 15) -> Frame:
        """Wait until a text stands on the screen."""
        until = time.monotonic() + seconds
        while not any(text in line for line in self.glass.display):
            assert time.monotonic() < until, f"{text!r} never came; the screen: {self.shown()}"
            alive = self._pump(0.05)
            assert alive or any(text in line for line in self.glass.display), (
                f"ended before {text!r}: {self.shown()!r} {self.end()}"
            )
        return self.rest()

    def wait_for_keys(self, seconds: float = 30) -> None:
        """Wait until the program answers keys: its first page stands before it reads any."""
        for key in ("j", "k"):
            self.press_and_see(key, seconds)

    def wait_until(self, is_so: Callable[[Frame], bool], seconds: float = 15) -> Frame:
        """Wait until a frame is as asked, and return it."""
        until = time.monotonic() + seconds
        while not is_so(frame := self.look()):
            assert time.monotonic() < until, f"never came: {frame}, the screen: {self.shown()}"
            self.answered()
        return frame

    def shown(self) -> str:
        """Return the text on the screen."""
        return "\n".join(line.rstrip() for line in self.glass.display if line.strip())

    def press(self, *keys: str) -> None:
        """Press keys, each after the answer to the one before, and none so soon that it seems to be held."""
        for key in keys:
            self._let_go_of(key)
            name = chr(ord(key[5].upper()) & 31) if key.startswith("ctrl+") else _KEYS.get(key, key)
            os.write(self.fd, name.encode())
            self.wait(ALONE_S) if key == "esc" else self.answered()

    def type(self, text: str) -> None:
        """Type a text at once."""
        os.write(self.fd, text.encode())
        self.answered()

    def _let_go_of(self, key: str) -> None:
        since_s = time.monotonic() - self._pressed_s.get(key, float("-inf"))
        if key not in {*REPEATING, *ASKED_TWICE, "+", "-"} and since_s < PAUSE_S:
            self.wait(PAUSE_S + LATE_S - since_s)
        self._pressed_s[key] = time.monotonic()

    def press_and_see(self, key: str, seconds: float = 15) -> Frame:
        """Press a key and wait for another page to stand there."""
        before = self.shown()
        self.press(key)
        frame = self.wait_until(lambda _: self.shown() not in ("", before), seconds)
        self._pressed_s[key] = time.monotonic()  # on a busy machine it arrives long after it was pressed
        return frame

    def signal(self, number: int) -> None:
        """Send a signal to the program."""
        os.kill(self.child.pid, number)

    def resize(self, columns: int, rows: int) -> None:
        """Give the terminal another size."""
        self.glass.resize(rows, columns)
        self._looked_at = -1
        self._set_size(columns, rows)
        self.answered(0.25)

    def hang_up(self) -> None:
        """Close the terminal."""
        os.close(self.fd)
        self.fd = -1

    def end(self, seconds: float = 10) -> Reading:
        """Wait for the program to end and return the reading."""
        until = time.monotonic() + seconds
        while self.fd >= 0 and time.monotonic() < until and self._pump(0.1):
            pass
        reading, glass = self.reading, self.glass
        reading.code = self._ended(until)
        reading.cpu_s = getattr(self.child, "cpu_s", 0.0)
        if self.fd >= 0:
            self.hang_up()
        reading.frames.append(glass.frame())
        reading.leaks, reading.bells, reading.text = list(glass.leaks), glass.bells, self.shown()
        reading.given_back = not glass.defaults and not glass.palette
        reading.in_full_screen, reading.cursor_hidden = glass.main is not None, glass.cursor.hidden
        return reading

    def _ended(self, until: float) -> int:
        try:
            return self.child.wait(max(0.1, until - time.monotonic()))
        except subprocess.TimeoutExpired:
            self.reading.hung = True
            self.child.kill()
            return self.child.wait()

    def kill(self) -> None:
        """End it, if it has not ended."""
        if self.child.poll() is None:
            self.signal(signal.SIGKILL)
            self.end()

    def _pump(self, seconds: float) -> bool:
        """Read once; return False when the program has closed its terminal."""
        if not select.select([self.fd], [], [], seconds)[0]:
            return True
        try:
            data = os.read(self.fd, 65536)
        except OSError:
            data = b""
        if not data:
            return False
        self.arrived += len(data)
        self._feed(self._held + self._decode(data))
        return True

    def _feed(self, text: str) -> None:
        position = 0
        while match := _TOKEN.match(text, position):
            position = match.end()
            if rest := match["rest"]:
                self._stream.feed(rest)
                if rest == "\x1b[c" and self._answers:
                    os.write(self.fd, b"\x1b[?62;c")
            elif slot := match["slot"]:
                self.glass.set_palette({int(slot[0], 16): tuple(bytes.fromhex(slot[1:]))})
            elif match["reset"]:
                self.glass.give_back_palette()
            elif (osc := match["osc"]) and osc.endswith("?"):
                self._tell(osc)
            elif osc:
                self.glass.osc(osc)
            elif mode := match["mode"]:
                self._mode(int(mode), match["on"] == "h")
        self._held = text[position:]

    def _tell(self, asked: str) -> None:
        """Answer what colour of the palette there is, if this terminal answers."""
        code, _, number = asked.removesuffix(";?").partition(";")
        if self._answers and code == "4":
            red, green, blue = self.glass.colour((int(number),), 10)
            os.write(self.fd, f"\x1b]4;{number};rgb:{red:02x}/{green:02x}/{blue:02x}\x1b\\".encode())

    def _mode(self, number: int, on: bool) -> None:
        if number in (47, 1047, 1049):
            self.glass.full_screen(on)
        elif number == 25:
            self.glass.cursor.hidden = not on
        elif number == 7:
            (self.glass.set_mode if on else self.glass.reset_mode)(7, private=True)
        elif number == 5:
            self.glass.leaks.setdefault("the whole screen turned (DECSCNM)")
