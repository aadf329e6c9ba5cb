"""How the system passes on keys from a terminal. POSIX only; on Windows nothing is changed."""

import contextlib
from typing import Any

try:
    import termios
except ImportError:  # Windows has no termios, and is guarded without it
    termios = None  # type: ignore[assignment]

#: Places in what `tcgetattr` returns.
_INPUT, _LOCAL = 0, 3


def silence(fd: int) -> list[Any] | None:
    """Switch off the echo of typed keys; return the earlier settings, None if they are not known."""
    if termios is None:
        return None
    with contextlib.suppress(termios.error):
        before = termios.tcgetattr(fd)
        _clear(fd, _LOCAL, termios.ECHO)
        return before
    return None


def take_every_key(fd: int) -> None:
    """Have every key passed on at once and unchanged, ctrl+c as well."""
    if termios is not None:
        with contextlib.suppress(termios.error):
            changed = termios.ICRNL | termios.INLCR | termios.IGNCR
            _clear(fd, _INPUT, termios.IXON | termios.IXOFF | changed)
            _clear(fd, _LOCAL, termios.ECHO | termios.ICANON | termios.IEXTEN | termios.ISIG)


def give_back_keys(fd: int, before: list[Any] | None) -> None:
    """Restore the earlier settings of the keyboard."""
    if termios is not None and before is not None:
        with contextlib.suppress(termios.error):
            termios.tcsetattr(fd, termios.TCSANOW, before)


def _clear(fd: int, place: int, flags: int) -> None:
    attributes = termios.tcgetattr(fd)
    attributes[place] &= ~flags
    termios.tcsetattr(fd, termios.TCSANOW, attributes)
