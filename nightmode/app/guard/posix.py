"""The guarded driver for Linux, macOS and BSD."""

import os
import termios
from codecs import getincrementaldecoder
from selectors import EVENT_READ, SelectSelector
from typing import TYPE_CHECKING, Any

from textual._parser import ParseError
from textual._xterm_parser import XTermParser
from textual.drivers.linux_driver import LinuxDriver

from nightmode.app.guard.driver import Guard
from nightmode.light.terminal import Terminal

if TYPE_CHECKING:
    from nightmode.app.guard.red_app import RedApp


class _TerminalFile:
    """The private handle on the terminal, as the file that Textual's writer thread expects."""

    def __init__(self, terminal: Terminal) -> None:
        self.write = terminal.write
        self.fileno = lambda: terminal.fd

    def flush(self) -> None:
        """Do nothing: every write has gone out."""


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
        """Take the screen, with its palette and a black ground."""
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
        """Leave the screen, which the terminal then need not do."""
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
