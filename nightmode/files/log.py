"""The program's own log, for bug reports: limited in size, and never a reason to stop."""

import logging
import os
import stat
from io import TextIOWrapper
from logging.handlers import RotatingFileHandler
from pathlib import Path

from nightmode.errors import LOG_LIMIT_BYTES, printable
from nightmode.files.replace import PRIVATE, make_folder

NAME = "nightmode"
LONGEST_RECORD = 20_000
LONGEST_LINE = 1_000


def open_log(path: Path) -> logging.Logger:
    """Return the logger `nightmode`, writing to path and to nowhere else.

    There are two files of up to 500 kB, the older one with `.1` at its end. If the disk refuses, no log is
    kept: that must neither stop a night nor write on its screen.
    """
    logger = logging.getLogger(NAME)
    for handler in logger.handlers[:]:
        logger.removeHandler(handler)
        handler.close()
    logger.propagate = False
    logger.setLevel(logging.INFO)
    logger.addHandler(_handler(path))
    return logger


def _handler(path: Path) -> logging.Handler:
    try:
        make_folder(path.parent)
        handler = _QuietHandler(path, maxBytes=LOG_LIMIT_BYTES, backupCount=1, encoding="utf-8")
    except (OSError, ValueError):
        return logging.NullHandler()
    handler.setFormatter(_Lines("{asctime} {levelname} {name}: {message}", style="{"))
    return handler


class _QuietHandler(RotatingFileHandler):
    """Keeps quiet when the disk refuses; the file is for the user alone, as tracebacks may hold a site."""

    def handleError(self, record: logging.LogRecord) -> None:  # noqa: N802
        """Drop the record."""

    def _open(self) -> TextIOWrapper:
        flags = os.O_WRONLY | os.O_CREAT | os.O_APPEND | getattr(os, "O_NONBLOCK", 0)
        handle = os.open(self.baseFilename, flags, PRIVATE)
        if not stat.S_ISREG(os.fstat(handle).st_mode):  # a pipe might block the writer
            os.close(handle)
            raise OSError("not an ordinary file")
        return os.fdopen(handle, "a", encoding="utf-8", errors="backslashreplace")


class _Lines(logging.Formatter):
    """Bounded records whose lines hold no control characters, so that the log is safe to look at."""

    def format(self, record: logging.LogRecord) -> str:
        """Return the record as lines of printable text."""
        text = super().format(record)
        if len(text) > LONGEST_RECORD:
            text = text[: LONGEST_RECORD // 2] + "\n…\n" + text[-LONGEST_RECORD // 2 :]
        return "\n".join(printable(line, LONGEST_LINE) for line in text.split("\n"))
