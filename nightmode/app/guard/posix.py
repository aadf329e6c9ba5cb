"""The guarded driver for Linux, macOS and BSD."""

import os
import termios
import time
from codecs import getincrementaldecoder
from io import TextIOWrapper
from selectors import EVENT_READ, SelectSelector
from threading import Event
from typing import Any, cast

from textual import events
from textual._xterm_parser import XTermParser
from textual.app import App
from textual.drivers.linux_driver import LinuxDriver

from nightmode.app.guard.driver import Guard
from nightmode.app.guard.sieve import ESC, Sieve, Token, TokenKind
from nightmode.light.terminal import Terminal, write_log

#: How often to check whether an incomplete sequence is over.
_STEP_S = 0.05
_ENTER = "\x1b[?1049h"


class _TerminalFile:
    """The private terminal handle in the form of the file that Textual's writer thread expects."""

    def __init__(self, terminal: Terminal) -> None:
        self.write = terminal.write
        self.fileno = lambda: terminal.fd

    def flush(self) -> None:
        """Do nothing: every write has gone out."""


class _WakingEvent(Event):
    """An event for which a thread can also wait in `select`, like for a file."""

    def __init__(self) -> None:
        super().__init__()
        self._read_end, self._write_end = os.pipe()

    def fileno(self) -> int:
        """Return the descriptor that becomes readable when the event is set."""
        return self._read_end

    def set(self) -> None:
        """Set the event, and wake the threads that wait for it."""
        super().set()
        os.write(self._write_end, b"!")

    def clear(self) -> None:
        """Clear the event and its descriptor."""
        super().clear()
        os.read(self._read_end, 4096)


class RedLinuxDriver(Guard, LinuxDriver):
    """A terminal on Linux, macOS or BSD, guarded, that survives hang-ups and stops."""

    def __init__(self, app: App[Any], **options: Any) -> None:
        super().__init__(app, **options)
        self._terminal = self._guarded.terminal
        self._raw_attributes: list[Any] | None = None
        self._has_page = False
        self.exit_event: _WakingEvent = _WakingEvent()
        if self._terminal is not None:
            self._file = cast(TextIOWrapper, _TerminalFile(self._terminal))

    def stop_reading(self) -> None:
        """Wake the thread that reads keys and have it end."""
        self.exit_event.set()

    def _get_terminal_size(self) -> tuple[int, int]:
        return self._terminal.size() if self._terminal is not None else super()._get_terminal_size()

    def start_application_mode(self) -> None:
        """Take the screen, with its palette and a black background; a page shown already stays."""
        if self._terminal is not None:
            self._has_page, self._terminal.full_screen = self._terminal.full_screen, True
        super().start_application_mode()  # type: ignore[no-untyped-call]  # Textual gives it no types
        try:
            self._raw_attributes = termios.tcgetattr(self.fileno)
        except termios.error:
            self._raw_attributes = None
        if not self._has_page:
            self.write_palette(self._guarded.palette_sequence())
            self.write("\x1b[m\x1b[2J")

    def write(self, data: str) -> None:
        """Write; a full screen that has a page already is not entered anew, which would clear it."""
        if not (self._has_page and data == _ENTER):
            super().write(data)

    def stop_application_mode(self) -> None:
        """Leave the full screen."""
        super().stop_application_mode()
        if self._terminal is not None:
            self._terminal.full_screen = False

    def _sigtstp_application(self, *_: object) -> None:
        """Refuse: the shell would take the screen, lit, in the middle of the night."""

    def _sigcont_application(self, *_: object) -> None:
        """Go on after a stop: take the terminal again from the shell, without a second input thread."""
        self._guarded.call_on_loop(self._take_again)

    def _take_again(self) -> None:
        if self._raw_attributes is None or self._terminal is None or not self._terminal.full_screen:
            return
        try:
            termios.tcsetattr(self.fileno, termios.TCSANOW, self._raw_attributes)
        except termios.error:
            return
        self._guarded.take_screen_again()

    def _run_input_thread(self) -> None:
        try:
            self.run_input_thread()
        except OSError:
            self._guarded.terminal_gone()

    def run_input_thread(self) -> None:
        """Read keys until told to stop; the end of input means that the terminal has gone.

        While no key is pressed this thread sleeps; it wakes at intervals only while a sequence is incomplete.
        """
        sieve = self._sieve()
        decode = getincrementaldecoder("utf-8")("replace").decode
        with SelectSelector() as selector:
            selector.register(self.fileno, EVENT_READ)
            selector.register(self.exit_event, EVENT_READ)
            while not self.exit_event.is_set():
                data: bytes | None = None
                ready = [key.fd for key, _ in selector.select(_STEP_S if sieve.waits else None)]
                if self.fileno in ready and (data := self._read()) == b"":
                    raise OSError("end of input")
                try:
                    for token in sieve.feed(decode(data or b""), time.monotonic()):
                        self._take(token)
                except Exception as error:  # noqa: BLE001  nothing that arrives may end the night
                    write_log(error)
                    sieve = self._sieve()

    def _read(self) -> bytes | None:
        """Return what has arrived, b"" at the end of input, None if another reader was faster."""
        try:
            return os.read(self.fileno, 4096)
        except BlockingIOError:
            return None

    def _sieve(self) -> Sieve:
        term = os.environ.get("TERM", "")
        return Sieve(joins_escape="TMUX" in os.environ or term.startswith(("tmux", "screen")))

    def _take(self, token: Token) -> None:
        """Pass on a token as Textual's event."""
        if token.kind is TokenKind.ESCAPE:
            self.process_message(events.Key("escape", ESC))
        elif token.kind is TokenKind.PASTE:
            self.process_message(events.Paste(token.text.replace("\0", "")))
        else:
            # A parser for each, so that nothing of one can be taken for the beginning of the next.
            for event in XTermParser().feed(token.text):
                if token.kind is TokenKind.REPORT or isinstance(event, events.Key):
                    self.process_message(event)

    def _query_in_band_window_resize(self) -> None:
        """Do not ask the terminal to send its size among the keys.

        The system tells the size, so a damaged byte among the keys cannot change it.
        """
