"""The guarded driver for Linux, macOS and BSD."""

import os
import termios
import time
from codecs import getincrementaldecoder
from selectors import EVENT_READ, SelectSelector
from typing import TYPE_CHECKING, Any

from textual import events
from textual._xterm_parser import XTermParser
from textual.drivers.linux_driver import LinuxDriver

from nightmode.app.guard.driver import Guard
from nightmode.app.guard.sieve import ESC, Kind, Sieve, Token
from nightmode.light.terminal import Terminal, write_log

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
        sieve = self._sieve()
        decode = getincrementaldecoder("utf-8")("replace").decode
        with SelectSelector() as selector:
            selector.register(self.fileno, EVENT_READ)
            while not self.exit_event.is_set():
                data = b""
                if selector.select(0.05):
                    data = os.read(self.fileno, 4096)
                    if not data:
                        raise OSError("end of input")
                try:
                    for token in sieve.feed(decode(data), time.monotonic()):
                        self._take(token)
                except Exception as error:  # noqa: BLE001  nothing that arrives may end the night
                    write_log(error)
                    sieve = self._sieve()

    def _sieve(self) -> Sieve:
        term = os.environ.get("TERM", "")
        return Sieve(joins_escape="TMUX" in os.environ or term.startswith(("tmux", "screen")))

    def _take(self, token: Token) -> None:
        """Hand on what a token stands for, in Textual's words."""
        if token.kind is Kind.ESCAPE:
            self.process_message(events.Key("escape", ESC))
        elif token.kind is Kind.PASTE:
            self.process_message(events.Paste(token.text.replace("\0", "")))
        else:
            # A parser for each, so that nothing of one can be taken for the beginning of the next.
            for event in XTermParser().feed(token.text):
                if token.kind is Kind.REPORT or isinstance(event, events.Key):
                    self.process_message(event)

    def _query_in_band_window_resize(self) -> None:
        """Do not ask for sizes among the keys: the system tells them, and no stray byte can."""
