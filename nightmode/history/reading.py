"""Reads all sessions of this user, each of them once; what cannot be read is named and left out."""

import hashlib
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from nightmode.errors import NightmodeError
from nightmode.files.places import sessions_folder
from nightmode.files.text import path_text, read_bytes, trouble
from nightmode.history.cache import Cache
from nightmode.history.sitting import SessionKey, Sitting, sitting_of
from nightmode.model.session import Entry
from nightmode.records import Record
from nightmode.session import unfinished
from nightmode.session.blocks import SIGNATURE
from nightmode.session.journal import LIMIT_BYTES, read

#: What the program itself leaves beside its journals.
_OWN_ENDINGS = (".lock", ".torn", ".damaged", ".tmp", unfinished.ENDING)
#: What to do about a damaged part of a session.
MEND = "put it right or strike it in a text editor; all else counts"
#: What to do about a file that is no session, and about one without its head.
OTHER_FILE = "give only files that nightmode wrote"
HEAD_MEND = "write [session] as another session has it"
#: A session and its file.
Kept = tuple[Path, Sitting]


class History(Record):
    """The sessions that count, in order of night; why other files are left out, and what is damaged in those.

    left_out  a file that is no session, or whose head is damaged
    damaged   a session that counts, but for a part of its file
    """

    sittings: tuple[Sitting, ...] = ()
    left_out: tuple[NightmodeError, ...] = ()
    damaged: tuple[NightmodeError, ...] = ()


def read_history(folder: Path | None = None) -> History:
    """Return every session of the user's data folder that is not a rehearsal; no file there is changed.

    Copies that say nothing of their own are left out without a word. NightmodeError if the folder cannot be
    looked into.
    """
    folder = folder or sessions_folder()
    found, left_out = read_folder(folder)
    counted = each_once([kept for kept in found if not kept[1].rehearsal])
    damaged = [
        NightmodeError(path_text(folder / sitting.file), sitting.trouble, MEND)
        for sitting in counted
        if sitting.trouble
    ]
    return History(tuple(sorted(counted, key=_by_night)), tuple(left_out), tuple(damaged))


def read_folder(folder: Path) -> tuple[list[Kept], list[NightmodeError]]:
    """Return every session of a folder with its file, rehearsals too, and why other files are left out.

    NightmodeError if the folder cannot be looked into.
    """
    cache = Cache()
    found: list[Kept] = []
    left_out: list[NightmodeError] = []
    for path in _names(folder):
        try:
            found.append((path, _sitting(path, cache)))
        except NightmodeError as error:
            left_out.append(error)
    cache.keep()
    return found, left_out


def is_passed_over(name: str) -> bool:
    """Return whether a file of this name is no session here: hidden, or left beside one by the program."""
    return name.startswith(".") or name.endswith(_OWN_ENDINGS)


def read_sitting(path: Path) -> Sitting:
    """Return the session in a file, a rehearsal too. NightmodeError if it is not a session."""
    return _sitting(path, None)


def _by_night(sitting: Sitting) -> tuple[str, str, str]:
    span = sitting.span
    return sitting.night.isoformat(), span[0].isoformat() if span else "", sitting.file


def _names(folder: Path) -> list[Path]:
    """Return the files of a folder that may be sessions; none if there is no such folder yet.

    NightmodeError if the folder cannot be looked into: what is in it must not pass for nothing.
    """
    try:
        return sorted(path for path in folder.iterdir() if not is_passed_over(path.name))
    except FileNotFoundError:
        return []
    except OSError as error:
        raise trouble(folder, error, "not read") from None


def _sitting(path: Path, cache: Cache | None) -> Sitting:
    data = read_bytes(path, LIMIT_BYTES)
    digest = hashlib.sha256(data + unfinished.kept_bytes(path)).hexdigest()
    if cache and (known := cache.get(digest)):
        return replace(known, file=path.name)
    if not data.startswith(SIGNATURE):
        raise NightmodeError(path_text(path), "is not the journal of a session", OTHER_FILE)
    journal = read(path)
    if journal.head is None:
        raise NightmodeError(path_text(path), "the head of the journal is damaged", HEAD_MEND)
    half = unfinished.kept(path, journal.entries)
    entries = (*journal.entries, half) if half else journal.entries
    sitting = sitting_of(path.name, journal.head, entries, journal.message)
    if cache:
        cache.put(digest, sitting)
    return sitting


def each_once(found: Sequence[Kept]) -> list[Sitting]:
    """Return the sessions that say something of their own, without those that only begin another one.

    A copy made in the middle of a night, here or on another machine, is such a beginning.
    """
    groups: dict[SessionKey, list[Kept]] = {}
    for path, sitting in found:
        groups.setdefault(sitting.identity, []).append((path, sitting))
    return [sitting for group in groups.values() for sitting in _longest(group)]


def _longest(group: Sequence[Kept]) -> list[Sitting]:
    """Return what the copies of one session say, the longest first, each look only once.

    The names of the files do not matter: they depend on the order in which copies were gathered.
    """
    if len(group) == 1:
        return [group[0][1]]
    entries = {path: read(path).entries for path, _ in group}
    told: list[Sequence[Entry]] = []
    kept: list[Sitting] = []
    for path, sitting in sorted(group, key=lambda copy: _rank(entries[copy[0]])):
        if not any(begins(entries[path], longer) for longer in told):
            told.append(entries[path])
            kept.append(_without(sitting, kept))
    return kept


def _rank(entries: Sequence[Entry]) -> tuple[int, list[str]]:
    return -len(entries), [entry.model_dump_json() for entry in entries]


def _without(sitting: Sitting, others: Sequence[Sitting]) -> Sitting:
    """Return a session without what is in these copies of it."""
    looks = {look for other in others for look in other.looks}
    happenings = {happening for other in others for happening in other.happenings}
    return replace(
        sitting,
        looks=tuple(look for look in sitting.looks if look not in looks),
        happenings=tuple(happening for happening in sitting.happenings if happening not in happenings),
    )


def begins(first: Sequence[Entry], whole: Sequence[Entry]) -> bool:
    """Return whether a list of entries is the beginning of another, or all of it."""
    return tuple(first) == tuple(whole[: len(first)])
