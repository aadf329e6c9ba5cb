"""Opening the session of a night for the screen: begun, gone on with, or watched."""

import contextlib
import os
from collections.abc import Iterator
from pathlib import Path

from nightmode.errors import NightmodeError
from nightmode.files.places import journal_name, prepare, sessions_folder
from nightmode.files.text import trouble
from nightmode.model.session import Head
from nightmode.session.journal import create, read, resume
from nightmode.session.last import last_plan, remember_plan
from nightmode.session.lock import HeldError, hold
from nightmode.session.record import Session, Watched
from nightmode.session.unfinished import forget
from nightmode.wording.going_on import (
    FIRST_NIGHT,
    REHEARSAL,
    WATCHING,
    clock_behind_text,
    going_on_text,
    half_note_text,
)

#: A smaller difference between two clocks is not mentioned.
CLOCK_BEHIND_S = 60.0


@contextlib.contextmanager
def opened(
    plan: Path,
    head: Head,
    path: Path | None,
    now_s: float,
    *,
    observer: Path | None = None,
    afresh: bool = False,
    drops_empty: bool = False,
) -> Iterator[tuple[Session, str]]:
    """Open or begin a session and lock it for this process; yield it, and what to say about it first.

    Without a path it is in the folder of sessions, or where the last one of this plan and night was put.
    now_s is what the computer's clock shows (Unix seconds). observer is the file to go on with next time.
    afresh begins a rehearsal anew. drops_empty takes a session that was begun here away again if nothing was
    recorded in it.

    NightmodeError if another process holds it, if it is of another night, or if the disk refuses.
    """
    path = _place(plan, head, path)
    with _held(path):
        if afresh:
            _remove(path)
        is_new = not os.path.lexists(path)
        session, words = _begin(path, head, now_s, is_walked=not drops_empty)
        if not drops_empty:
            _remember(plan, path, head, observer)
        try:
            yield session, words
        finally:
            if drops_empty and is_new and session.is_empty:
                _remove(path)
            elif drops_empty:
                _remember(plan, path, head, observer)


@contextlib.contextmanager
def watched(plan: Path, head: Head, path: Path | None) -> Iterator[tuple[Session, str]]:
    """Look on at a session that another process holds; yield it, and what to say about it first.

    NightmodeError if it cannot be read, or is of another night.
    """
    path = _place(plan, head, path)
    session = Watched(path)
    _check_same(path, session.head, head)
    yield session, WATCHING


def _place(plan: Path, head: Head, path: Path | None) -> Path:
    return path or _last_put(plan, head) or _usual(head)


def _remember(plan: Path, path: Path, head: Head, observer: Path | None) -> None:
    if not head.rehearsal:
        with contextlib.suppress(NightmodeError):
            remember_plan(plan, path, observer)


def _usual(head: Head) -> Path:
    return prepare(sessions_folder(head.rehearsal) / journal_name(head.plan, head.night, head.site))


def _last_put(plan: Path, head: Head) -> Path | None:
    """Return where --session put the journal of this plan and night, if that was the last one walked.

    NightmodeError if its folder is not there: a new session elsewhere would be gone on with from then on.
    """
    last = last_plan()
    if last is None or head.rehearsal or Path(last.plan) != plan.absolute():
        return None
    folder = Path(last.session).parent
    if folder != sessions_folder() and not folder.is_dir():
        what = "the session walked last is on a disk that is not there"
        raise NightmodeError(last.session, what, "put it back, or name another with --session")
    with contextlib.suppress(NightmodeError):
        before = read(Path(last.session)).head
        if before is not None and before.night == head.night:
            return Path(last.session)
    return None


@contextlib.contextmanager
def _held(path: Path) -> Iterator[None]:
    try:
        lock = hold(path)
    except HeldError as error:
        raise NightmodeError(error.where, error.what, "leave that one, or look on with --watch") from None
    with lock:
        yield


def _remove(path: Path) -> None:
    try:
        path.unlink(missing_ok=True)
        forget(path)
    except OSError as error:
        raise trouble(path, error, "not removed") from None


def _begin(path: Path, head: Head, now_s: float, *, is_walked: bool) -> tuple[Session, str]:
    if not os.path.lexists(path):  # a link to a disk that is not there is no new session
        is_first = is_walked and last_plan() is None
        words = (REHEARSAL if head.rehearsal else "", FIRST_NIGHT if is_first else "")
        return Session(create(path, head)), "; ".join(filter(None, words))
    journal = resume(path, head)
    _check_same(path, journal.head, head)
    session = Session(journal)
    note = session.take_in_note()
    parts = (
        journal.message,
        _resumed(session, head),
        half_note_text(note) if note else "",
        _clock_behind(session, now_s),
    )
    return session, "; ".join(part for part in parts if part)


def _check_same(path: Path, before: Head, head: Head) -> None:
    if before.night != head.night:
        mismatch = f"is of the night of {before.night}, not of {head.night}"
        raise NightmodeError(str(path), mismatch, "name another file with --session")
    if before.rehearsal != head.rehearsal:
        what = "a rehearsal" if before.rehearsal else "a real session"
        raise NightmodeError(str(path), f"is {what}", "name another file with --session")


def _clock_behind(session: Session, now_s: float) -> str:
    """Return what to say if the computer's clock shows a time before the last entry, else nothing."""
    last_s = max((entry.at.timestamp() for entry in session.state.live), default=0.0)
    behind_s = last_s - now_s
    if session.head.rehearsal or behind_s < CLOCK_BEHIND_S:
        return ""
    return clock_behind_text(behind_s)


def _resumed(session: Session, head: Head) -> str:
    state = session.state
    last = state.ticks[state.last_ticked] if state.last_ticked is not None else None
    return going_on_text(state.done_count, last, session.head, head)
