"""Whole command lines, run in this process or in a forked one on a terminal, and what each must keep to."""

import contextlib
import io
import os
import pty
import select
import signal
import sys
import time
import unicodedata
import warnings
from dataclasses import dataclass
from pathlib import Path

from nightmode.cli.main import main

FULL_SCREEN = b"\x1b[?1049h"


@dataclass
class Answer:
    """An exit code and what was printed."""

    code: int
    out: str
    error: str


def answer(argv):
    """Run a command line in this process, with no terminal and nobody to answer its questions."""
    out, error, typed = io.StringIO(), io.StringIO(), sys.stdin
    sys.stdin = io.StringIO("")
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(error), warnings.catch_warnings():
            warnings.simplefilter("error")  # a sign of sums gone wrong; the program itself prints none
            warnings.simplefilter("ignore", ResourceWarning)  # the ephemeris stays open to the end
            try:
                code = main(argv)
            except SystemExit as end:
                code = int(end.code or 0)
    finally:
        sys.stdin = typed
    return Answer(code, out.getvalue(), error.getvalue())


def on_terminal(argv, before=lambda: None, until=FULL_SCREEN, seconds=20):
    """Run a command line in a forked process on a terminal; once it shows `until`, end it by a signal."""
    pid, fd = pty.fork()
    if pid == 0:
        code = 71
        with contextlib.suppress(BaseException):
            # A terminal of fewer colours would be asked what it shows, and nothing here answers.
            os.environ.update(TERM="xterm-256color", COLORTERM="truecolor")
            sys.stdin = io.TextIOWrapper(io.FileIO(0, closefd=False))
            sys.stdout, sys.stderr = (
                io.TextIOWrapper(io.FileIO(fd, "w", closefd=False), line_buffering=True) for fd in (1, 2)
            )
            before()
            try:
                code = main(argv)
            except SystemExit as end:
                code = int(end.code or 0)
            sys.stdout.flush()
        os._exit(code)
    return _watched(pid, fd, until, time.monotonic() + seconds)


def _watched(pid, fd, text, until_s):
    data, asked = b"", False
    while time.monotonic() < until_s:
        if not select.select([fd], [], [], 0.05)[0]:
            continue
        try:
            more = os.read(fd, 65536)
        except OSError:
            more = b""
        if not more:
            break
        data += more
        if text in data and not asked:
            asked = True
            time.sleep(0.1)
            os.kill(pid, signal.SIGTERM)
    else:
        os.kill(pid, signal.SIGKILL)
    os.close(fd)
    code = os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1])
    return Answer(code, data.decode(errors="replace"), "")


def is_shown_safely(text):
    """True if no character but the line break could steer a terminal."""
    return all(
        character == "\n" or unicodedata.category(character) not in {"Cc", "Cf", "Cs", "Zl", "Zp"}
        for character in text.replace("\u200d", "").replace("\u200c", "")
    )


def assert_proper(got, argv):
    """Fail unless the answer is what every command promises, whatever it was given."""
    told = f"{argv!r:.300}: {got.code} {got.error[:600]!r} {got.out[-300:]!r}"
    assert got.code in (0, 2), told
    assert is_shown_safely(got.out), told
    assert is_shown_safely(got.error), told
    if got.code == 2:
        assert got.error.count("\n") == 1, told
        assert got.error.rstrip().endswith((".", "?", "…")), told
        assert "; " in got.error, told  # what to write instead
        assert len(got.error) <= 700, told


def on_disk(folder):
    """Return what is in a folder: names, kinds, sizes, times, and the bytes of what is not too large."""
    found = {}
    for path in sorted(Path(folder).rglob("*")):
        status = path.lstat()
        small = path.is_file() and not path.is_symlink() and status.st_size < 3_000_000
        found[path] = status.st_mode, status.st_size, status.st_mtime_ns, path.read_bytes() if small else b""
    return found
