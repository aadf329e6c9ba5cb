"""Drivers that let nothing but red on black through, whatever Textual writes past its filters."""

import os
import re
from codecs import getincrementaldecoder
from functools import lru_cache
from selectors import EVENT_READ, SelectSelector
from typing import TYPE_CHECKING, Any

from textual._parser import ParseError
from textual._xterm_parser import XTermParser
from textual.driver import Driver

from nightmode.app.guard.depth import Depth, sgr
from nightmode.app.guard.terminal import START_LEVEL, Terminal

if TYPE_CHECKING:
    from nightmode.app.guard.red_app import RedApp

_SGR_RUN = re.compile(r"(?:\x1b\[[0-9;:]*m)+")
# Bells, titles, links, clipboard, pointer shapes; the cursor is shown again by the terminal's own closing.
_DROPPED = re.compile(r"\x1b\][^\x07\x1b]*(?:\x07|\x1b\\)|\x07|\x1b\[\?25h")


@lru_cache(4096)
def red_sgr(run: str, depth: Depth) -> str:
    """Return one sequence, red on black, for a run of SGR sequences, read as if nothing had been set before.

    Ink that is not a true-colour pure red (a palette index, the default, grey) becomes the darkest red that
    every terminal has, so that a colour from anywhere still cannot be other than red.
    """
    level, marked = START_LEVEL, False
    codes = [int(code or 0) for code in re.findall(r"[0-9]+|(?<=\[)(?=m)", run)]
    while codes:
        code = codes.pop(0)
        if code == 0:
            level, marked = START_LEVEL, False
        elif code in (4, 24):
            marked = code == 4
        elif code in (38, 48, 58):
            size = {2: 4, 5: 2}.get(codes[0] if codes else 0, 0)
            color, codes = codes[:size], codes[size:]
            if code == 38:
                level = color[1] if len(color) == 4 and color[2:] == [0, 0] else START_LEVEL
    return sgr(depth, min(level, 255), marked)


def guarded(data: str, depth: Depth) -> str:
    """Return what may be written: every SGR red on black, a sequence equal to the one in force left out."""
    in_force = ""

    def replace(match: re.Match[str]) -> str:
        nonlocal in_force
        red = red_sgr(match.group(), depth)
        if red == in_force:
            return ""
        in_force = red
        return red

    return _SGR_RUN.sub(replace, _DROPPED.sub("", data))


class _TerminalFile:
    """The private handle on the terminal, as the file that Textual's writer thread expects."""

    def __init__(self, terminal: Terminal) -> None:
        self.write = terminal.write
        self.fileno = lambda: terminal.fd

    def flush(self) -> None:
        """Do nothing: every write has gone out."""


class Guard(Driver):
    """Mixin for a driver: rewrites everything that is written."""

    _app: "RedApp[Any]"

    def write(self, data: str) -> None:
        """Write data with its colours made red."""
        super().write(guarded(data, self._app.depth))  # type: ignore[safe-super]

    def write_palette(self, sequence: str) -> None:
        """Write a palette sequence made by the guard itself, in order with the frames around it."""
        super().write(sequence)  # type: ignore[safe-super]


def _make_windows() -> type[Driver]:
    from textual.drivers.windows_driver import WindowsDriver

    class RedWindowsDriver(Guard, WindowsDriver):
        """The Windows console, guarded."""

    return RedWindowsDriver


def _make_posix() -> type[Driver]:
    import termios

    from textual.drivers.linux_driver import LinuxDriver

    class RedLinuxDriver(Guard, LinuxDriver):
        """A terminal on Linux, macOS or BSD, guarded, that survives hang-ups and stops."""

        def __init__(self, app: "RedApp[Any]", **options: Any) -> None:
            super().__init__(app, **options)
            self._terminal = app.terminal
            self._raw_attributes: list[Any] | None = None
            if self._terminal is not None:
                self._file = _TerminalFile(self._terminal)

        def _get_terminal_size(self) -> tuple[int, int]:
            return self._terminal.size() if self._terminal is not None else super()._get_terminal_size()

        def start_application_mode(self) -> None:
            if self._terminal is not None:
                self._terminal.full_screen = True
            super().start_application_mode()
            try:
                self._raw_attributes = termios.tcgetattr(self.fileno)
            except termios.error:
                self._raw_attributes = None
            self.write_palette(self._app.palette_sequence())
            self.write("\x1b[m\x1b[2J")

        def stop_application_mode(self) -> None:
            super().stop_application_mode()
            if self._terminal is not None:
                self._terminal.full_screen = False

        def _sigtstp_application(self, *_: object) -> None:
            """Refuse: the shell would take the screen, lit, in the middle of the night."""

        def _sigcont_application(self, *_: object) -> None:
            """Go on after a stop: take the terminal again from the shell, without a second input thread."""
            self._loop.call_soon_threadsafe(self._take_again)

        def _take_again(self) -> None:
            if self._raw_attributes is None:
                return
            try:
                termios.tcsetattr(self.fileno, termios.TCSANOW, self._raw_attributes)
            except termios.error:
                return
            self._app.take_screen_again()

        def _run_input_thread(self) -> None:
            try:
                self.run_input_thread()
            except OSError:
                self._app.terminal_gone()

        def run_input_thread(self) -> None:
            """Read keys until told to stop; the end of input means that the terminal has gone."""
            parser = XTermParser(self._debug)
            decode = getincrementaldecoder("utf-8")("replace").decode
            with SelectSelector() as selector:
                selector.register(self.fileno, EVENT_READ)
                while not self.exit_event.is_set():
                    if selector.select(0.1):
                        data = os.read(self.fileno, 4096)
                        if not data:
                            raise OSError("end of input")
                        for event in parser.feed(decode(data)):
                            self.process_message(event)
                    for event in parser.tick():
                        self.process_message(event)
            try:
                for _ in parser.feed(""):
                    pass
            except (EOFError, ParseError):
                pass

    return RedLinuxDriver


RedDriver: type[Driver] = _make_windows() if os.name == "nt" else _make_posix()
