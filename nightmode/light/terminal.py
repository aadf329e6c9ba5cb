"""The terminal, taken over before Textual is imported and given back after the last line.

Imports only light modules of the standard library, so that a command can make the terminal red within a few
hundredths of a second of its start.
"""

import contextlib
import os
import signal
import stat
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from types import FrameType, TracebackType
from typing import Any, Self, TextIO

from nightmode.errors import LOG_LIMIT_BYTES, OLDER_LOG, NightmodeError, printable
from nightmode.light.charset import TAKE_BYTES, TAKE_UTF_8, shows_bytes
from nightmode.light.depth import Depth, depth_of, own_colours, set_palette, sgr, through_screen
from nightmode.light.keyboard import give_back_keys, silence, take_every_key
from nightmode.light.returning import give_back_colours, learn_colours, red_stays, returns, takes_palette
from nightmode.light.signs import plain_signs

START_LEVEL = 95  # ink before a theme is known: the darkest red that every terminal has
#: Ink of the terminal's own colours. Alacritty paints a cursor whose contrast to its ground is below 1.5 (the
#: ratio of WCAG 2.1) in the colours of its settings, which are light; from 98 on it does not.
OWN_LEVEL = 100
#: How long a terminal that does not read is waited for once the program is asked to end.
GRACE_S = 1.5
#: Larger than any window: a size that is not meant would take all memory.
WIDEST, TALLEST = 1000, 500
FAULT_CODE = 70
FAULT_LINE = "nightmode stopped on a fault; what was confirmed is on disk, the log tells more."
_ENDINGS = {name: getattr(signal, name, None) for name in ("SIGTERM", "SIGHUP", "SIGINT")}
#: Clicks and drags are sent to the program, which drops them: the terminal then neither marks text in colours
#: of its own nor opens its menu.
TAKE_MOUSE = "\x1b[?1002h\x1b[?1006h"
_GIVE_MOUSE = "\x1b[?1000l\x1b[?1002l\x1b[?1003l\x1b[?1006l"
_KEYS_AND_WRAP = f"\x1b[<u{_GIVE_MOUSE}\x1b[?1004l\x1b[?2004l\x1b[?2048l\x1b[?7h"
_LEAVE_FULL_SCREEN = _KEYS_AND_WRAP + "\x1b[?1049l"
#: The same for a screen that may not be full: 1047 leaves the cursor where it is, 1049 would move it.
_LEAVE_IF_FULL_SCREEN = _KEYS_AND_WRAP + "\x1b[?1047l\x1b[K"


def terminal_depth() -> Depth:
    """Return the depth of colour of this process's terminal."""
    return depth_of(os.environ, windows=os.name == "nt")


def end_code(number: int) -> int:
    """Return the exit code of a process ended by this signal (128 + number, as shells count)."""
    return 128 + number


class Terminal:
    """A terminal that shows only red while this context is open, and the user's own colours afterwards.

    with Terminal(log) as terminal:
        ... import Textual, run the app ...
        terminal.last_words = "12 seen, the log is night.toml"

    Descriptors 1 and 2 go to the log file meanwhile, so that a native library cannot write on the screen.
    SIGTERM, SIGHUP and SIGINT leave through the context (SystemExit 143, 129, 130). A fault inside is
    written to the log, answered with one red line, and ends with SystemExit 70; a NightmodeError passes.
    """

    def __init__(self, log: Path | None = None, stay_red: bool = False) -> None:
        """Write nothing yet: that begins when the context is entered."""
        self.log = log
        self.stay_red = stay_red
        self.takes_palette = True
        self.depth = terminal_depth()
        self.last_words = ""
        self.asked_to_end: int | None = None
        self.full_screen = False
        self.gone = False
        self.on_gone: Callable[[], None] | None = None
        self.fd = -1
        self.hurries_since_s: float | None = None
        self._saved_fds: dict[int, int] = {}
        self._saved_attributes: list[Any] | None = None
        self._saved_handlers: dict[int, Any] = {}
        self._told: dict[int, str] = {}
        self._shows_bytes = False

    def __enter__(self) -> Self:
        self.open()
        return self

    def open(self) -> None:
        """Take the terminal: red, cleared to black, cursor hidden. Raises NightmodeError if there is none."""
        if self.fd >= 0:
            return
        self.fd = _terminal_fd()
        try:
            self._told = learn_colours(self.fd, self.stay_red)
            self._shows_bytes = shows_bytes(self.fd, os.environ)
            self.takes_palette = takes_palette(self.fd, self.depth)
        except BaseException:
            os.close(self.fd)
            self.fd = -1
            raise
        os.environ["TEXTUAL_ANIMATIONS"] = "none"
        for said in ("LINES", "COLUMNS"):  # the terminal knows its size; these may say anything
            os.environ.pop(said, None)
        try:
            self._catch_endings()
            self._saved_attributes = silence(self.fd)
            self.write(TAKE_UTF_8 if self._shows_bytes else "")
            self.write(f"{self.own()}{TAKE_MOUSE}{self.red()}\x1b[?25l\x1b[2J\x1b[H")
            self._redirect()
        except BaseException:
            self.close()
            raise

    def red(self, level: int = START_LEVEL) -> str:
        """Return the sequence for text in this level of red on black."""
        return sgr(self.depth, level)

    def own(self) -> str:
        """Return the sequence that makes the terminal's default, cursor and first sixteen colours red."""
        return through_screen(own_colours(self.depth, OWN_LEVEL), os.environ)

    def paint(self, palette: dict[int, int]) -> str:
        """Return the sequence that gives palette colours these levels of red (index -> level)."""
        return through_screen(set_palette(self.depth, palette), os.environ)

    def write(self, text: str) -> None:
        """Write to the terminal; when it has gone, say so once through `on_gone` and write nothing more.

        A terminal that does not read is waited for, but not longer than GRACE_S once the program is to end.
        """
        data = text.encode("utf-8", "replace")
        since_s = time.monotonic()
        while data and not self.gone:
            try:
                data = data[os.write(self.fd, data) :]
                since_s = time.monotonic()
            except BlockingIOError:
                time.sleep(0.01)
                hurries = self.hurries_since_s
                if hurries is not None and time.monotonic() - max(since_s, hurries) > GRACE_S:
                    self.gone = True
            except OSError:
                self.gone = True
                if self.on_gone is not None:
                    self.on_gone()

    def take_full_screen(self, page: str) -> None:
        """Show a page before there is an app to draw it; keys pressed meanwhile wait for that app."""
        self.full_screen = True
        take_every_key(self.fd)
        self.write(f"\x1b[?1049h{self.red()}\x1b[?25l\x1b[?7l\x1b[2J{page}")

    def size(self) -> tuple[int, int]:
        """Return (columns, rows), 80 by 24 when unknown."""
        try:
            columns, rows = os.get_terminal_size(self.fd)
        except OSError:
            return 80, 24
        return min(columns, WIDEST) or 80, min(rows, TALLEST) or 24

    def close(self) -> None:
        """Give the terminal back: last words in red, the user's colours (unless stay_red), the cursor."""
        if self.fd < 0:
            return
        for number in self._saved_handlers:
            signal.signal(number, signal.SIG_IGN)
        if self.full_screen:
            self.write(_LEAVE_FULL_SCREEN)
            self.full_screen = False
        self.write(f"{_GIVE_MOUSE}{self.red()}\x1b[2J\x1b[H")
        if self.last_words:
            self.write(f"{said_in_red(self.last_words, self.depth)}\n")
        if not self.stay_red:
            back = give_back_colours(self.depth, returns(os.environ), self._told)
            self.write(through_screen(back, os.environ))
        self.write(f"\x1b[0m\x1b[?25h{TAKE_BYTES if self._shows_bytes else ''}")
        give_back_keys(self.fd, self._saved_attributes)
        self._saved_attributes = None
        self._restore_fds()
        for number, handler in self._saved_handlers.items():
            signal.signal(number, handler)
        self._saved_handlers.clear()

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        fault = isinstance(error, Exception) and not isinstance(error, NightmodeError)
        if fault and self.asked_to_end is not None:
            error, fault = None, False
        if fault and error is not None:
            write_log(error)
            self.last_words = FAULT_LINE
        self.close()
        if fault:
            raise SystemExit(FAULT_CODE) from None
        self.heed_ending()

    def heed_ending(self) -> None:
        """Leave if a signal asked for it: some libraries swallow the SystemExit in their imports."""
        if self.asked_to_end is not None:
            raise SystemExit(end_code(self.asked_to_end)) from None

    def _catch_endings(self) -> None:
        for number in _ENDINGS.values():
            if number is not None:
                self._saved_handlers[number] = signal.signal(number, self._leave)

    def _leave(self, number: int, frame: FrameType | None) -> None:
        self.asked_to_end = number
        self.hurries_since_s = time.monotonic()
        self.heed_ending()

    def _redirect(self) -> None:
        """Send descriptors 1 and 2 to the log; not on Windows, where Textual's driver needs them."""
        if os.name == "nt":
            return
        _flush()
        log = _open_log(self.log)
        for fd in (1, 2):
            self._saved_fds[fd] = os.dup(fd)
            os.dup2(log, fd)
        os.close(log)

    def bound_log(self) -> None:
        """Cut the log to half its limit if something floods it; the beginning is kept, as it tells most."""
        with contextlib.suppress(OSError):
            if 2 in self._saved_fds and os.fstat(2).st_size > LOG_LIMIT_BYTES:
                os.ftruncate(2, LOG_LIMIT_BYTES // 2)

    def _restore_fds(self) -> None:
        _flush()
        for fd, saved in self._saved_fds.items():
            os.dup2(saved, fd)
            os.close(saved)
        self._saved_fds.clear()
        os.close(self.fd)
        self.fd = -1


def _terminal_fd() -> int:
    """Return a private descriptor of the terminal; it is not inherited by children.

    If possible it is opened again, so that a terminal that does not read cannot block a write: a descriptor
    that is shared with the shell must not be made non-blocking.
    """
    for fd in (1, 2):
        if os.isatty(fd) and os.isatty(0):
            with contextlib.suppress(OSError, AttributeError):  # no such name, or no right to open it
                return os.open(os.ttyname(fd), os.O_RDWR | os.O_NOCTTY | os.O_NONBLOCK | os.O_CLOEXEC)
            return os.dup(fd)
    raise NightmodeError(
        "terminal", "the night screen needs a terminal for its keys and its light", "run it without pipes"
    )


def _open_log(path: Path | None) -> int:
    """Open the log for appending, private to the user; a log over the limit is renamed first.

    If the disk takes no log, nothing is logged: that must not keep anybody from observing.
    """
    if path is not None:
        with contextlib.suppress(OSError):
            path.parent.mkdir(parents=True, exist_ok=True)
            if path.exists() and path.stat().st_size > LOG_LIMIT_BYTES:
                path.replace(path.with_name(path.name + OLDER_LOG))
            log = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND | getattr(os, "O_NONBLOCK", 0), 0o600)
            if stat.S_ISREG(os.fstat(log).st_mode):
                return log
            os.close(log)  # a pipe or a device might block the writer
    return os.open(os.devnull, os.O_WRONLY)


def _flush() -> None:
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(OSError, ValueError):
            stream.flush()


def write_log(error: BaseException) -> None:
    """Write a traceback, without values of variables, to descriptor 2: the log while it is redirected."""
    import traceback  # only needed when something has gone wrong, and the start must be quick

    text = f"{time.strftime('%Y-%m-%dT%H:%M:%S%z')} fault\n" + "".join(traceback.format_exception(error))
    with contextlib.suppress(OSError):
        os.write(2, text.encode("utf-8", "backslashreplace"))


def said_in_red(text: str, depth: Depth | None = None, level: int = START_LEVEL) -> str:
    """Return lines of text in explicit red on black, ending in a reset: printable, whatever the text holds.

    Each line is coloured by itself, so that nothing between two lines can be lit. On the Linux console the
    reds of the cube are used, because the palette may be the user's; it shows colour 1.
    """
    depth = depth or terminal_depth()
    red = sgr(Depth.SIXTEEN if depth is Depth.CONSOLE else depth, level)
    return "\n".join(f"{red}{printable(plain_signs(line), 10_000)}\x1b[0m" for line in text.split("\n"))


def say_red(text: str, stream: TextIO | None = None) -> None:
    """Print text: explicit red on black if the stream (stderr unless told) is a terminal, plain otherwise."""
    stream = stream or sys.stderr
    shown = (
        said_in_red(text) if stream.isatty() else "\n".join(printable(x, 10_000) for x in text.split("\n"))
    )
    stream.write(shown + "\n")
    stream.flush()


class _RedStream:
    """A text stream that colours each line written through it; partial lines are held until they end."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._held = ""

    def write(self, text: str) -> int:
        *lines, self._held = (self._held + text).split("\n")
        for line in lines:
            self._stream.write(said_in_red(line) + "\n")
        return len(text)

    def flush(self) -> None:
        if self._held:
            self._stream.write(said_in_red(self._held))
            self._held = ""
        self._stream.flush()

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)


@contextlib.contextmanager
def red_stdout(wanted: bool = True) -> Iterator[None]:
    """Colour everything printed inside in explicit red, on stdout and stderr, where they are terminals."""
    before = sys.stdout, sys.stderr
    if wanted:
        sys.stdout, sys.stderr = (_RedStream(stream) if stream.isatty() else stream for stream in before)
    try:
        yield
    finally:
        if wanted:
            sys.stdout.flush()
            sys.stderr.flush()
        sys.stdout, sys.stderr = before


def daylight() -> bool:
    """Give the terminal its own colours, cursor and screen back, after a program that was killed.

    Return False where no terminal is attached.
    """
    for fd in (1, 2, 0):
        if os.isatty(fd):
            how = returns(os.environ)
            colours = through_screen(give_back_colours(terminal_depth(), how), os.environ)
            words = f"{red_stays(how)}\r\n" if red_stays(how) else ""
            os.write(fd, f"{_LEAVE_IF_FULL_SCREEN}{colours}\x1b[0m\x1b[?25h{words}".encode())
            return True
    return False
