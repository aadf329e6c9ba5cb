"""A light meter: runs a program in a pseudo-terminal and looks at every cell from its first byte to its last.

A cell leaks if its ink or ground has any green or blue in it. Default colours are unknown, so white on black,
until the program sets them (OSC 10, 11); colours 0-15 are unknown, so white, until it sets them (OSC 4,
ESC ] P); both are unknown again when it gives them back. Colours are looked at when a character is drawn,
when a default or palette colour changes, and in frames sampled in between.
"""

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
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

import pyte
from pyte.charsets import LAT1_MAP
from pyte.modes import IRM

WHITE, BLACK = (255, 255, 255), (0, 0, 0)
PHOTOPIC = (0.2126, 0.7152, 0.0722)  # IEC 61966-2-1, white = 1
#: Scotopic weights of the sRGB primaries, white = 1, from CIE 1951 V' and an LED back-light: red counts 1 %.
SCOTOPIC = (0.0105, 0.4282, 0.5613)
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
_STEPS = (0, 95, 135, 175, 215, 255)
_CUBE = [(r, g, b) for r in _STEPS for g in _STEPS for b in _STEPS] + [(8 + 10 * i,) * 3 for i in range(24)]
_SIXTEEN = ((30, "fg", 0), (40, "bg", 0), (90, "fg", 8), (100, "bg", 8))
_KEYS = {"space": " ", "enter": "\r", "esc": "\x1b", "tab": "\t", "down": "\x1b[B", "end": "\x1b[F"}
_ATTRIBUTES: dict[int, tuple[str, Any]] = {
    **{1: ("bold", True), 22: ("bold", False), 4: ("underscore", True), 24: ("underscore", False)},
    **{7: ("reverse", True), 27: ("reverse", False), 39: ("fg", "default"), 49: ("bg", "default")},
    **{first + n: (name, (n + bright,)) for n in range(8) for first, name, bright in _SIXTEEN},
}
_BLOCKS = {
    "█": 1.0,
    "▀": 0.5,
    "▄": 0.5,
    "▌": 0.5,
    "▐": 0.5,
    "▔": 0.125,
    "▁": 0.125,
    "▊": 0.75,
    "▎": 0.25,
    "●": 0.4,
}
_TOKEN = re.compile(
    r"\x1b\]P(?P<slot>[0-9a-fA-F]{7})|(?P<reset>\x1b\]R)|\x1b\](?P<osc>[0-9][^\x07\x1b]*)(?:\x07|\x1b\\)"
    r"|\x1b[PX^_](?:[^\x1b]|\x1b(?!\\))*\x1b\\|\x1b\[[<=>][0-9;]*[a-z]|\x1b\[\?[0-9;]*\$p|\x1b\[\?(?P<mode>[0-9]+)(?P<on>[hl])"
    r"|(?P<rest>\x1b\[[0-9;:?]*[ -/]*[@-~]|\x1b[^\[\]PX^_]|[^\x1b]+)"
)


def coverage(text: str) -> float:
    """Return the share of a cell that a glyph lights, by a rough table."""
    if text.isspace() or not text:
        return 0.0
    if text in _BLOCKS:
        return _BLOCKS[text]
    if 0 <= (dots := ord(text[0]) - 0x2800) <= 0xFF:  # braille: a disc in an eighth of the cell for each dot
        return dots.bit_count() * 0.35 / 8
    return 0.04 if text in ".,'`:;·" else 0.10 if text in '-_~^"!|/\\()[]{}<>=+*─│' else 0.22


@lru_cache(1000)
def light(rgb: tuple[int, ...], weights: tuple[float, ...]) -> float:
    """Return the light of a colour against white, for weights of the linear sRGB channels."""
    linear = [c / 3294.6 if c <= 10.3 else ((c / 255 + 0.055) / 1.055) ** 2.4 for c in rgb]
    return sum(weight * channel for weight, channel in zip(weights, linear, strict=True))


@lru_cache(10_000)
def _cell(attrs: pyte.screens.Char, character: str) -> pyte.screens.Char:
    return attrs._replace(data=character)


@dataclass
class Frame:
    """One look at the whole screen: its light against all white, and how many cells are lit."""

    photopic: float
    scotopic: float
    lit: int


@dataclass
class Reading:
    """What was seen from the first byte to the last."""

    leaks: list[str] = field(default_factory=list)
    frames: list[Frame] = field(default_factory=list)
    code: int | None = None
    first_byte_s: float | None = None
    first_paint_s: float | None = None
    cpu_s: float = 0.0
    bells: int = 0
    hung: bool = False
    text: str = ""
    given_back: bool = False
    in_full_screen: bool = False
    cursor_hidden: bool = False


class Glass(pyte.Screen):
    """The screen of a terminal, with its default and palette colours."""

    def __init__(self, columns: int, rows: int, keeps_cube: bool = False) -> None:
        self.keeps_cube = keeps_cube
        self.palette: dict[int, tuple[int, ...]] = {}
        self.defaults: dict[int, tuple[int, ...]] = {}
        self.leaks: dict[str, None] = {}
        self.main: dict[int, dict[int, pyte.screens.Char]] | None = None
        self.bells = 0
        super().__init__(columns, rows)

    def select_graphic_rendition(self, *codes: int, **_: object) -> None:
        """Keep colours as they were asked for: an index, three levels, or the default."""
        todo = list(codes or (0,))
        attrs = self.cursor.attrs
        while todo:
            code = todo.pop(0)
            if code in (38, 48):
                size = {2: 4, 5: 2}.get(todo[0] if todo else 0, 0)
                color: Any
                color, todo = tuple(todo[1:size]), todo[size:]
                attrs = attrs._replace(**{"fg" if code == 38 else "bg": color})
            elif code == 0:
                attrs = self.default_char
            elif code in _ATTRIBUTES:
                name, value = _ATTRIBUTES[code]
                attrs = attrs._replace(**{name: value})
        self.cursor.attrs = attrs

    def draw(self, data: str) -> None:
        """Draw, and look at what has been drawn."""
        attrs, start = self.cursor.attrs, self.cursor.x
        if data.isascii() and data.isprintable() and start + len(data) <= self.columns and self._is_plain():
            # As the class above does it, but without its questions about each character, which take long.
            line = self.buffer[self.cursor.y]
            for place, character in enumerate(data, start):
                line[place] = _cell(attrs, character)
            self.cursor.x += len(data)
            self.dirty.add(self.cursor.y)
        else:
            super().draw(data)
        self.examine(self.cursor.attrs._replace(data=data.strip()[:1] or " "), data)

    def _is_plain(self) -> bool:
        """Whether characters replace what stands there, in the usual set."""
        return not self.charset and self.g0_charset is LAT1_MAP and IRM not in self.mode

    def bell(self, *_: object) -> None:
        """Count: a visual bell is a flash."""
        self.bells += 1

    def colour(self, asked: Any, number: int, bold: bool = False) -> tuple[int, ...]:
        """Return what a cell's colour looks like; `number` 10 for ink, 11 for ground."""
        if asked == "default":
            return self.defaults.get(number, WHITE if number == 10 else BLACK)
        if len(asked) == 3:
            return asked
        index = asked[0] + (8 if bold and asked[0] < 8 else 0)
        return self.palette.get(index, WHITE if index < 16 else _CUBE[index - 16])

    def lights(self, cell: pyte.screens.Char) -> list[tuple[tuple[int, ...], float]]:
        """Return the colours a cell shows and the share of it that each takes."""
        ink, ground = self.colour(cell.fg, 10, cell.bold), self.colour(cell.bg, 11)
        if cell.reverse:
            ink, ground = ground, ink
        share = min(1.0, coverage(cell.data) + 0.06 * bool(cell.underscore))
        return [(ink, share)] * bool(share) + [(ground, 1 - share)]

    def examine(self, cell: pyte.screens.Char, where: str) -> bool:
        """Note a leak of this cell; return whether it is lit at all."""
        lit = False
        for rgb, _share in self.lights(cell):
            lit |= any(rgb)
            if rgb[1] or rgb[2]:
                self.leaks.setdefault(f"{rgb} asked as {cell.fg} on {cell.bg}: {where.strip()[:40]!r}")
        return lit

    def frame(self) -> Frame:
        """Look at the whole screen."""
        alike: Counter[int] = Counter()  # by identity: to compare every cell would take far longer
        blank = self.default_char
        cells_of: dict[int, pyte.screens.Char] = {id(blank): blank}
        for row in range(self.lines):
            self.buffer[row].pop(self.columns, None)  # the class above pushes one cell too far out
            drawn = self.buffer[row].values()
            alike.update(map(id, drawn))
            alike[id(blank)] += self.columns - len(drawn)
            cells_of.update(zip(map(id, drawn), drawn, strict=True))
        photopic = scotopic = 0.0
        lit = 0
        for cell, count in ((cells_of[name], count) for name, count in alike.items() if count):
            for rgb, share in self.lights(cell):
                photopic += count * share * light(rgb, PHOTOPIC)
                scotopic += count * share * light(rgb, SCOTOPIC)
            lit += count * self.examine(cell, f"on the screen: {cell.data}")
        cells = self.lines * self.columns
        return Frame(photopic / cells, scotopic / cells, lit)

    def full_screen(self, on: bool) -> None:
        """Enter or leave the alternate screen."""
        if on and self.main is None:
            self.main = {y: dict(line) for y, line in self.buffer.items()}
            self.buffer.clear()
        elif not on and self.main is not None:
            self.buffer.clear()
            for y, line in self.main.items():
                self.buffer[y].update(line)
            self.main = None
        self.frame()

    def osc(self, body: str) -> None:
        """Set or give back default and palette colours."""
        code, _, rest = body.partition(";")
        if code in {"10", "11", "12"}:
            self.defaults[int(code)] = _rgb(rest)
        elif code in {"110", "111", "112"}:
            self.defaults.pop(int(code) - 100, None)
        elif code == "4":
            parts = rest.split(";")
            pairs = zip(map(int, parts[::2]), parts[1::2], strict=True)
            self.palette.update({i: _rgb(c) for i, c in pairs if i < 16 or not self.keeps_cube})
        elif code == "104":
            self.palette.clear()
        if code != "104":
            self.frame()


def _rgb(text: str) -> tuple[int, ...]:
    return tuple(int(part[:2], 16) for part in text.removeprefix("rgb:").split("/"))


class Meter:
    """A program under the meter. Use as a context, or `read` for a whole script of events."""

    def __init__(
        self,
        command: list[str],
        mode: str,
        size: tuple[int, int] = (100, 30),
        glass: "Glass | None" = None,
        answers: bool = False,
        **env: str,
    ) -> None:
        self._answers = answers
        self.reading = Reading()
        self.glass = glass or Glass(*size)
        self._stream = pyte.Stream(self.glass)
        self._held = ""
        self.arrived = 0  # bytes so far
        self._decode = codecs.getincrementaldecoder("utf-8")("replace").decode
        kept = {name: value for name, value in os.environ.items() if name not in _SCRUBBED}
        self._began = time.monotonic()
        self.fd, inner = pty.openpty()
        self._set_size(*size)
        self.child = subprocess.Popen(
            command,
            env=kept | MODES[mode] | env,
            stdin=inner,
            stdout=inner,
            stderr=inner,
            start_new_session=True,
            preexec_fn=lambda: fcntl.ioctl(0, termios.TIOCSCTTY, 0),
        )
        os.close(inner)

    def _set_size(self, columns: int, rows: int) -> None:
        fcntl.ioctl(self.fd, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))

    def wait(self, seconds: float) -> Frame:
        """Let the program run; return the last frame of that time."""
        until = time.monotonic() + seconds
        while (left := until - time.monotonic()) > 0 and self._pump(left):
            pass
        self.reading.frames.append(self.glass.frame())
        return self.reading.frames[-1]

    def wait_for(self, text: str, seconds: float = 15) -> Frame:
        """Wait until a text stands on the screen."""
        until = time.monotonic() + seconds
        while not any(text in line for line in self.glass.display):
            assert time.monotonic() < until, f"{text!r} never came; the screen: {self.shown()}"
            alive = self._pump(0.05)
            assert alive or any(text in line for line in self.glass.display), (
                f"ended before {text!r}: {self.shown()!r} {self.end()}"
            )
        return self.wait(0.05)

    def wait_for_keys(self, seconds: float = 30) -> None:
        """Wait until the program answers keys: its first page stands before it reads any."""
        for key in ("j", "k"):
            before = ("", self.shown())
            self.press(key)
            until = time.monotonic() + seconds
            while self.shown() in before:
                assert time.monotonic() < until, f"{key} brought nothing: {self.shown()}"
                self.wait(0.05)

    def wait_until(self, is_so: Callable[[Frame], bool], seconds: float = 15) -> Frame:
        """Wait until a frame is as asked, and return it."""
        until = time.monotonic() + seconds
        while not is_so(frame := self.wait(0.05)):
            assert time.monotonic() < until, f"never came: {frame}, the screen: {self.shown()}"
        return frame

    def shown(self) -> str:
        """Return the text on the screen."""
        return "\n".join(line.rstrip() for line in self.glass.display if line.strip())

    def press(self, *keys: str) -> None:
        """Press keys, a short time apart."""
        for key in keys:
            name = chr(ord(key[5].upper()) & 31) if key.startswith("ctrl+") else _KEYS.get(key, key)
            os.write(self.fd, name.encode())
            self.wait(0.2 if key == "esc" else 0.05)  # a key soon after esc would be read with it

    def signal(self, number: int) -> None:
        """Send a signal to the program."""
        os.kill(self.child.pid, number)

    def resize(self, columns: int, rows: int) -> None:
        """Give the terminal another size."""
        self.glass.resize(rows, columns)
        self._set_size(columns, rows)
        self.wait(0.25)

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
        reading.code, reading.cpu_s = self._reap(until)
        reading.frames.append(glass.frame())
        reading.leaks, reading.bells, reading.text = list(glass.leaks), glass.bells, self.shown()
        reading.given_back = not glass.defaults and not glass.palette
        reading.in_full_screen, reading.cursor_hidden = glass.main is not None, glass.cursor.hidden
        return reading

    def _reap(self, until: float) -> tuple[int | None, float]:
        while True:
            pid, status, usage = os.wait4(self.child.pid, os.WNOHANG)
            if pid:
                break
            if time.monotonic() > until:
                self.reading.hung = True
                os.kill(self.child.pid, signal.SIGKILL)
            time.sleep(0.02)
        self.child.returncode = status
        self.hang_up() if self.fd >= 0 else None
        return os.waitstatus_to_exitcode(status), usage.ru_utime + usage.ru_stime

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
        now = time.monotonic() - self._began
        self.reading.first_byte_s = self.reading.first_byte_s or now
        self._feed(self._held + self._decode(data))
        if self.reading.first_paint_s is None and self.glass.main is not None and self.shown():
            self.reading.first_paint_s = now
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
                self.glass.palette[int(slot[0], 16)] = tuple(bytes.fromhex(slot[1:]))
                self.glass.frame()
            elif match["reset"]:
                self.glass.palette.clear()
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
