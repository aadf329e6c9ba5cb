"""Corrects, for the night, a terminal that shows each byte as a character: `°` is two bytes."""

import contextlib
import re
from collections.abc import Mapping

from nightmode.light.returning import ask

#: Switch to UTF-8, and back (ECMA-35, as registered for ISO 10646: ESC % G, ESC % @).
TAKE_UTF_8, TAKE_BYTES = "\x1b%G", "\x1b%@"
ANSWER_S = 0.3
_CURSOR = re.compile(rb"\x1b\[\d+;(\d+)R")


def is_utf_8(env: Mapping[str, str]) -> bool:
    """Return whether the environment's locale is UTF-8 (POSIX: LC_ALL, then LC_CTYPE, then LANG)."""
    named = env.get("LC_ALL") or env.get("LC_CTYPE") or env.get("LANG") or ""
    return "utf8" in named.lower().replace("-", "")


def shows_bytes(fd: int, env: Mapping[str, str]) -> bool:
    """Return whether a terminal shows each byte by itself; asks only where the locale makes that likely."""
    if is_utf_8(env) or "TMUX" in env or "STY" in env:
        return False
    question = "\r\x1b[8m°\x1b[6n\r\x1b[0m\x1b[K"
    with contextlib.suppress(OSError):
        cursor = _CURSOR.search(ask(fd, question, lambda heard: bool(_CURSOR.search(heard)), ANSWER_S))
        return cursor is not None and int(cursor[1]) == 3
    return False
