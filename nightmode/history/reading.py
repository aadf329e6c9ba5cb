"""Reading every session of this user back: each one once, what cannot be read named and passed over."""

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from nightmode.errors import NightmodeError
from nightmode.files.places import sessions_folder
from nightmode.files.text import read_bytes, shown
from nightmode.history.cache import Cache
from nightmode.history.sitting import Sitting, sitting_of
from nightmode.model.session import Entry
from nightmode.session.blocks import SIGNATURE
from nightmode.session.journal import LIMIT_BYTES, read

#: What the program itself leaves beside its journals.
_OWN_ENDINGS = (".lock", ".torn", ".damaged", ".tmp")


@dataclass(frozen=True)
class History:
    """The sessions that count, by night, and a line on each file that was left out or is not whole."""

    sittings: tuple[Sitting, ...] = ()
    remarks: tuple[str, ...] = ()


def read_history(folder: Path | None = None) -> History:
    """Return every session of the user's data folder that is no rehearsal; no file there is touched.

    A file that is no journal, or a damaged one, is named in the remarks and passed over.
    """
    folder = folder or sessions_folder()
    cache = Cache()
    found: list[tuple[Path, Sitting]] = []
    remarks: list[str] = []
    for path in _names(folder):
        try:
            found.append((path, _sitting(path, cache)))
        except NightmodeError as error:
            remarks.append(f"left out: {error}")
    cache.keep()
    counted, repeated = _each_once([one for one in found if not one[1].rehearsal])
    remarks += [
        f"{shown(folder / sitting.file)}: {sitting.trouble}." for sitting in counted if sitting.trouble
    ]
    remarks += [f"left out: {shown(path)}: adds nothing to another session here." for path in repeated]
    return History(tuple(sorted(counted, key=_by_night)), tuple(remarks))


def read_sitting(path: Path) -> Sitting:
    """Return one session by its file, a rehearsal too. NightmodeError if it is none."""
    return _sitting(path, None)


def _by_night(sitting: Sitting) -> tuple[str, str, str]:
    span = sitting.span
    return sitting.night.isoformat(), span[0].isoformat() if span else "", sitting.file


def _names(folder: Path) -> list[Path]:
    try:
        return sorted(
            path
            for path in folder.iterdir()
            if not path.name.startswith(".") and not path.name.endswith(_OWN_ENDINGS)
        )
    except OSError:
        return []


def _sitting(path: Path, cache: Cache | None) -> Sitting:
    data = read_bytes(path, LIMIT_BYTES)
    digest = hashlib.sha256(data).hexdigest()
    if cache and (known := cache.get(digest)):
        return replace(known, file=path.name)
    if not data.startswith(SIGNATURE):
        raise NightmodeError(shown(path), "is not the journal of a session")
    journal = read(path)
    if journal.head is None:
        raise NightmodeError(shown(path), "the head of the journal is damaged")
    sitting = sitting_of(path.name, journal.head, journal.entries, journal.message)
    if cache:
        cache.put(digest, sitting)
    return sitting


def _each_once(found: Sequence[tuple[Path, Sitting]]) -> tuple[list[Sitting], list[Path]]:
    """Return the sessions that say something of their own, and the files that only begin another one.

    Copies taken in the middle of a night, here or on another machine, are beginnings of the whole.
    """
    groups: dict[tuple[object, ...], list[tuple[Path, Sitting]]] = {}
    for path, sitting in found:
        head = (sitting.night, sitting.plan, sitting.site, sitting.telescope)
        groups.setdefault(head, []).append((path, sitting))
    counted: list[Sitting] = []
    repeated: list[Path] = []
    for group in groups.values():
        kept = [group[0]] if len(group) == 1 else _longest(group)
        counted += [sitting for _, sitting in kept]
        repeated += [path for path, _ in group if path not in {path for path, _ in kept}]
    return counted, repeated


def _longest(group: Iterable[tuple[Path, Sitting]]) -> list[tuple[Path, Sitting]]:
    entries = {path: read(path).entries for path, _ in group}
    kept: list[tuple[Path, Sitting]] = []
    for path, sitting in sorted(group, key=lambda one: (-len(entries[one[0]]), one[0].name)):
        if not any(begins(entries[path], entries[longer]) for longer, _ in kept):
            kept.append((path, sitting))
    return kept


def begins(first: Sequence[Entry], whole: Sequence[Entry]) -> bool:
    """Return whether a list of entries is the beginning of another, or all of it."""
    return tuple(first) == tuple(whole[: len(first)])
