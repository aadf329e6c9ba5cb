"""Corrects, for the night, a terminal that shows each byte as a character: `°` is two bytes."""

import contextlib
import os
import re
import select
import time
from collections.abc import Mapping

from nightmode.light.returning import unbuffered

#: Switch to UTF-8, and back (ECMA-35, as registered for ISO 10646: ESC % G, ESC % @).
TAKE_UTF_8, TAKE_BYTES = "\x1b%G", "\x1b%@"
ANSWER_S = 0.3
_PLACE = re.compile(rb"\x1b\[\d+;(\d+)R")


def is_utf_8(env: Mapping[str, str]) -> bool:
    """Return whether the environment's locale is UTF-8 (POSIX: LC_ALL, then LC_CTYPE, then LANG)."""
    named = env.get("LC_ALL") or env.get("LC_CTYPE") or env.get("LANG") or ""
    return "utf8" in named.lower().replace("-", "")


def shows_bytes(fd: int, env: Mapping[str, str]) -> bool:
    """Return whether a terminal shows each byte by itself; asks only where the locale makes that likely."""
    if is_utf_8(env) or "TMUX" in env or "STY" in env:
        return False
    heard, until_s = b"", time.monotonic() + ANSWER_S
    with contextlib.suppress(OSError), unbuffered(fd):
        os.write(fd, "\r\x1b[8m°\x1b[6n\r\x1b[0m\x1b[K".encode())
        while select.select([fd], [], [], max(0.0, until_s - time.monotonic()))[0]:
            heard += os.read(fd, 256)
            if (place := _PLACE.search(heard)) is not None:
                return int(place[1]) == 3
    return False
