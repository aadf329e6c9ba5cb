"""What the child processes of the tests in this folder do. They are real processes, and most get killed."""

import contextlib
import multiprocessing as mp
import os
import time
from multiprocessing.connection import Connection
from pathlib import Path

from session.samples import HEAD, Spy, entry

from nightmode.errors import NightmodeError
from nightmode.files.replace import safe_replace
from nightmode.session import journal
from nightmode.session.lock import hold

#: A forked process has everything imported already, so that hundreds of them take seconds.
CONTEXT = mp.get_context("fork")


def start(work, *args: object):
    """Start a child on `work`, giving it one end of a pipe first; return the child and the other end."""
    ours, theirs = CONTEXT.Pipe(duplex=False)
    child = CONTEXT.Process(target=work, args=(theirs, *args), daemon=True)
    child.start()
    theirs.close()
    return child, ours


def heard(ours: Connection) -> list:
    """Return all that a dead child had said."""
    said = []
    with contextlib.suppress(EOFError, OSError):
        while True:
            said.append(ours.recv())
    return said


def tick_without_end(say: Connection, path: Path) -> None:
    """Resume the session or begin it, then add entries at speed, telling each when it is on the disk."""
    with hold(path):
        book = journal.resume(path, HEAD) if path.exists() else journal.create(path, HEAD)
        number = len(book.entries)
        while True:
            book.append(entry(number, note='"ok = true"\n[[entry]]'))
            say.send(number)
            number += 1


def replace_without_end(say: Connection, path: Path, contents: list[bytes]) -> None:
    """Replace a file with one content after another."""
    while True:
        for content in contents:
            safe_replace(path, content, force=True)
            say.send(True)


def hold_without_end(say: Connection, path: Path) -> None:
    """Take the session and keep it; tell whether it was free."""
    try:
        with hold(path):
            say.send("held")
            while True:
                time.sleep(1)
    except NightmodeError as error:
        say.send(str(error))


def add_some(say: Connection, path: Path, first: int, count: int) -> None:
    """Add entries as soon as the session is free, and let go of it."""
    added = 0
    while added < count:
        with contextlib.suppress(NightmodeError), hold(path):
            journal.resume(path).append(entry(first + added))
            added += 1
    say.send(added)


def die_at_step(say: Connection, step: int, work, *args: object) -> None:
    """Do some work and die at its step-th system call that touches the disk; tell if it was over before."""
    spy = Spy()
    for name in ("open", "write", "fsync", "link", "ftruncate", "replace", "unlink", "rename"):
        spy.wrap(os, name)
    spy.die_at = step
    work(*args)
    spy.die_at = None
    say.send(len(spy.calls))


def add_without_permission(say: Connection, path: Path) -> None:
    """Add an entry as a user who may not write there."""
    book = journal.resume(path)
    if os.getuid() == 0:
        os.setgid(65534)
        os.setuid(65534)
    else:
        path.chmod(0o400)
    try:
        book.append(entry(99))
    except NightmodeError as error:
        say.send((str(error), len(book.entries)))
    else:
        say.send(("saved", len(book.entries)))
