"""Takes in sessions from elsewhere: each once, both of two that differ; nothing is ever overwritten."""

import os
from collections.abc import Iterable, Iterator, Sequence
from enum import StrEnum
from pathlib import Path

from nightmode.errors import NightmodeError
from nightmode.files.places import prepare
from nightmode.files.replace import safe_replace
from nightmode.files.text import path_text, read_bytes, trouble
from nightmode.history.reading import Kept, begins, is_passed_over, read_folder, read_sitting
from nightmode.history.sitting import SessionKey, Sitting
from nightmode.model.session import Entry
from nightmode.records import Record
from nightmode.session import unfinished
from nightmode.session.blocks import entry_block
from nightmode.session.journal import LIMIT_BYTES, is_session, read

#: A folder with more files below it was surely not meant.
MOST_FILES = 20_000


class Fate(StrEnum):
    """What happens to a session that is to be gathered."""

    NEW = "new"
    HERE = "here already"
    LONGER = "longer"
    DIFFERS = "different"
    REHEARSAL = "rehearsal"


class Gathered(Record):
    """One session gathered: what it is, what happened to it, and the file it was compared with, if any.

    kept_as is its file name among the sessions, "" if it was not taken in.
    """

    source: Path
    sitting: Sitting
    fate: Fate
    beside: str = ""
    kept_as: str = ""


def gather(sources: Iterable[Path], folder: Path) -> tuple[list[Gathered], list[NightmodeError]]:
    """Take sessions from files and folders into `folder`; return each of them, and why others are left out.

    A session that is here already, whole or as the beginning of a longer one, is not taken again. One that is
    longer than its copy here, or differs from it, is kept beside it under another name. NightmodeError, and
    nothing taken, if a source is not there, is no session or holds far too much; NightmodeError if the disk
    refuses, with what was taken before kept whole.
    """
    brought, left_out = _brought(sources, folder)
    here: dict[SessionKey, list[Kept]] = {}
    for path, sitting in read_folder(folder)[0]:
        here.setdefault(sitting.identity, []).append((path, sitting))
    found = [_taken(session, here.setdefault(session.sitting.identity, []), folder) for session in brought]
    return found, left_out


class _Brought(Record):
    """A session read whole from elsewhere, before anything is decided."""

    source: Path
    sitting: Sitting
    entries: tuple[Entry, ...]
    data: bytes


def _brought(sources: Iterable[Path], folder: Path) -> tuple[list[_Brought], list[NightmodeError]]:
    """Return the sessions of the sources, and why any that was found in a folder cannot be read."""
    found: list[_Brought] = []
    left_out: list[NightmodeError] = []
    for source in sources:
        if not source.is_dir():
            found.append(_read(source))
            continue
        for path in _sessions_below(source, folder, left_out):
            try:
                found.append(_read(path))
            except NightmodeError as error:
                left_out.append(error)
    return found, left_out


def _read(source: Path) -> _Brought:
    sitting, entries, data = read_sitting(source), read(source).entries, read_bytes(source, LIMIT_BYTES)
    if half := unfinished.kept(source, entries):  # nobody will go on with it there
        entries, data = (*entries, half), data + entry_block(half)
    return _Brought(source, sitting, entries, data)


def _taken(session: _Brought, same: list[Kept], folder: Path) -> Gathered:
    """Decide on one session, and copy it if it says something new."""
    if session.sitting.rehearsal:
        return Gathered(session.source, session.sitting, Fate.REHEARSAL)
    fate, beside = compared(session.entries, [(path.name, read(path).entries) for path, _ in same])
    if fate is Fate.HERE:
        return Gathered(session.source, session.sitting, fate, beside)
    path = _free_name(prepare(folder / _read_name(session.source.name)))
    safe_replace(path, session.data, private=True)
    same.append((path, session.sitting))
    return Gathered(session.source, session.sitting, fate, beside, path.name)


def compared(entries: Sequence[Entry], others: Sequence[tuple[str, Sequence[Entry]]]) -> tuple[Fate, str]:
    """Return how a session compares with its copies here, and the name of the copy that decides."""
    for name, other in others:
        if begins(entries, other):
            return Fate.HERE, name
    for name, other in others:
        if begins(other, entries):
            return Fate.LONGER, name
    return (Fate.DIFFERS, others[0][0]) if others else (Fate.NEW, "")


def _read_name(name: str) -> str:
    """Return a name, or one like it under which a session is read here."""
    shown = name.lstrip(".") or "session"
    return f"{shown}.toml" if is_passed_over(shown) else shown


def _free_name(path: Path) -> Path:
    number, free = 1, path
    while os.path.lexists(free):
        number += 1
        free = path.with_name(f"{path.stem}-{number}{path.suffix}")
    return free


def _sessions_below(source: Path, folder: Path, left_out: list[NightmodeError]) -> Iterator[Path]:
    """Yield every file that may be a session in a folder and below it, except in the folder of sessions.

    A folder that cannot be looked into is added to left_out. NightmodeError if it is the source itself, or if
    there are more files than anybody keeps with sessions.
    """

    def refuse(error: OSError) -> None:
        where = Path(error.filename)
        left_out.append(trouble(where, error, "not looked into"))
        if where == source:
            raise left_out[-1]

    looked = 0
    for below_source, folders, names in os.walk(source, onerror=refuse):
        folders.sort()
        looked += len(names)
        if looked > MOST_FILES:
            raise NightmodeError(
                path_text(source), "holds too much to look through", "name the sessions' folder"
            )
        if os.path.realpath(below_source) != os.path.realpath(folder):
            yield from (path for name in sorted(names) if _may_be_one(path := Path(below_source) / name))


def _may_be_one(path: Path) -> bool:
    """Return whether a file found in a folder is to be looked at: TOML that begins as a session does.

    What cannot be read may be one: whoever looks at it is told why not, and does not clear the stick.
    """
    try:
        return path.suffix.lower() == ".toml" and is_session(path)
    except NightmodeError:
        return True
