"""Finds what can speak on this machine.

An engine is a command that speaks the text on its standard input, and then ends. Each sentence has a process
of its own: a sentence is stopped by ending its process, and a process that hangs stops nothing else.
"""

import importlib.util
import shutil
import sys
from pathlib import Path

from nightmode.errors import NightmodeError, printable
from nightmode.records import Record

#: Words a minute: the usual rate, and the lowest and highest that can be asked for.
USUAL_WPM, SLOWEST_WPM, FASTEST_WPM = 160, 80, 300
_PROGRAM, _LIBRARY = "espeak-ng", "pyttsx3"
_OURS = (sys.executable, "-P", "-m", "nightmode.voice.system_voices")


class Engine(Record):
    """A voice: its name, and the command that starts it."""

    name: str
    command: tuple[str, ...]

    def speaking(self, rate_wpm: int) -> list[str]:
        """Return the command that speaks its input aloud, at rate_wpm words a minute."""
        return [*self.command, "-s", str(rate_wpm)]

    def writing(self, rate_wpm: int, path: Path) -> list[str]:
        """Return the command that speaks its input into a WAV file, at rate_wpm words a minute."""
        return [*self.speaking(rate_wpm), "-w", str(path)]


def engine() -> Engine:
    """Return the engine of this machine. NightmodeError, which says what to install, if there is none.

    On macOS and Windows the voices of the system come first: they are better than espeak-ng. Elsewhere
    espeak-ng comes first: there the library would only call it in a slower way.
    """
    program, library = shutil.which(_PROGRAM), importlib.util.find_spec(_LIBRARY)
    espeak = Engine(_PROGRAM, (program, "-v", "en", "-b", "1", "--stdin")) if program else None
    system = Engine(_LIBRARY, _OURS) if library else None
    by_choice = (system, espeak) if sys.platform in {"darwin", "win32"} else (espeak, system)
    for choice in by_choice:
        if choice is not None:
            return choice
    raise NightmodeError("voice", "this machine has nothing to speak with", how_to_get_one())


def how_to_get_one() -> str:
    """Return what to install to have a voice on this system."""
    library = "pip install 'nightmode[voice]'"
    if sys.platform in {"darwin", "win32"}:
        return f"install the system's own voices for it: {library}"
    return f"install espeak-ng (on Debian and Ubuntu: sudo apt install espeak-ng) or {library}"


def clean(sentence: str) -> str:
    """Return a sentence as one printable line, without characters that espeak-ng takes for commands."""
    return printable(sentence).replace("[[", "[ [").replace("]]", "] ]")


def last_line(told: bytes) -> str:
    """Return the last line of an engine's error output, the line that says most."""
    lines = [line.strip() for line in told.decode("utf-8", "replace").splitlines() if line.strip()]
    return printable(lines[-1], 120) if lines else ""
