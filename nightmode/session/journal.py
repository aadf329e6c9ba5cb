"""The journal of a session: entries are only added, and none is confirmed before it is on the disk."""

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from nightmode.errors import NightmodeError
from nightmode.files.replace import safe_replace, sync_file, write_all
from nightmode.files.text import path_text, read_bytes, trouble
from nightmode.model.session import Entry, Head
from nightmode.records import Record
from nightmode.session.blocks import SIGNATURE, Blocks, entry_block, find_blocks, head_block

#: The largest journal that is read, and so the largest written: about 80,000 entries.
LIMIT_BYTES = 20_000_000
NOT_SAVED = "not saved"
#: How much is compared at once: it fits into the processor's cache.
_PIECE_BYTES = 1 << 17


class ReadBack(Record):
    """A journal read back without touching it.

    head is None if it was damaged. torn is what an interrupted write left at the end, None if nothing.
    message is one line about what is torn or damaged, empty if all is well.
    """

    head: Head | None
    entries: tuple[Entry, ...]
    torn: bytes | None
    message: str


def read(path: Path) -> ReadBack:
    """Read a journal and change nothing on the disk.

    NightmodeError if the file cannot be read, is no journal, or is of a later format; torn or
    damaged places are no error, `ReadBack.message` tells of them.
    """
    _, blocks = _find(path)
    return ReadBack(blocks.head, blocks.entries, blocks.torn or None, "; ".join(_complaints(blocks)))


def is_session(path: Path) -> bool:
    """Return whether a file begins as a journal does. NightmodeError if it cannot be read."""
    return read_bytes(path, LIMIT_BYTES).startswith(SIGNATURE)


def create(path: Path, head: Head) -> "Journal":
    """Begin a journal, readable by the user alone.

    NightmodeError if the name is taken or the disk refuses; then nothing is left behind.
    """
    data = head_block(head)
    safe_replace(path, data, private=True)
    return Journal(path, head, (), data)


def resume(path: Path, head: Head | None = None) -> "Journal":
    """Go on with a journal; what is torn or damaged is taken out, and kept in a copy beside it.

    head is used if the journal's own head is damaged. `Journal.message` says in one line what was found.
    Copies are on the disk before the journal is changed, and each step leaves it whole, so that a crash in
    between loses nothing and the next start completes the work. NightmodeError as `read`, or if the disk
    refuses.
    """
    data, blocks = _find(path)
    head = blocks.head or head
    if head is None:
        raise NightmodeError(path_text(path), "the head is damaged", "name the plan and the journal together")
    told = _complaints(blocks)
    if blocks.torn:
        told.append(f"it is kept in {_keep(path, '.torn', blocks.torn).name}")
    if blocks.damaged:
        told.append(f"the original is kept in {_keep(path, '.damaged', data).name}")
    if blocks.damaged or blocks.head is None:
        data = head_block(head) + b"".join(blocks.whole)
        safe_replace(path, data, force=True, private=True)
    elif blocks.torn:
        _cut(path, len(data), blocks.clean_length)
        data = data[: blocks.clean_length]
    return Journal(path, head, blocks.entries, data, "; ".join(told))


class Journal:
    """An open journal. It holds no file open between entries, so a stick may go and come back."""

    def __init__(
        self, path: Path, head: Head, entries: tuple[Entry, ...], data: bytes, message: str = ""
    ) -> None:
        """Go on with a journal that holds these bytes; call `create` or `resume` instead."""
        self.path, self.head, self.message = path, head, message
        self._entries = list(entries)
        self._found, self._added = data, bytearray()
        self._attempt = b""

    @property
    def entries(self) -> tuple[Entry, ...]:
        """The entries on the disk, in the order of writing."""
        return tuple(self._entries)

    @property
    def _length(self) -> int:
        return len(self._found) + len(self._added)

    def append(self, entry: Entry) -> None:
        """Add an entry: one write, flushed to the disk before this returns.

        NightmodeError, with nothing added here or on the disk, if it cannot be saved.
        """
        block = entry_block(entry)
        if self._length + len(block) > LIMIT_BYTES:
            raise self._refusal("the journal is as long as it may be", "leave and begin another session")
        try:
            with _opened(self.path) as handle:
                self._check_file(handle)
                self._write(handle, block)
        except OSError as error:
            raise trouble(self.path, error, NOT_SAVED) from None
        self._added += block
        self._entries.append(entry)

    def _write(self, handle: int, block: bytes) -> None:
        self._attempt = block
        try:
            write_all(handle, block)
            sync_file(handle)
            if not os.path.samestat(os.fstat(handle), self.path.stat()):
                raise self._refusal("another file has taken its name", "leave and start again")
        except (OSError, NightmodeError):
            with suppress(OSError):
                os.ftruncate(handle, self._length)
                sync_file(handle)
            raise

    def _check_file(self, handle: int) -> None:
        """Raise NightmodeError unless the file holds what was read and written so far, and nothing else.

        All of it is compared: another file can have the same inode number, size and time.
        """
        size = os.fstat(handle).st_size
        if size > self._length and self._is_own_leftover(handle, size):
            os.ftruncate(handle, self._length)
            size = self._length
        os.lseek(handle, 0, os.SEEK_SET)
        if size != self._length or not (_goes_on(handle, self._found) and _goes_on(handle, self._added)):
            raise self._refusal("another program has changed it", "leave and start again")

    def _is_own_leftover(self, handle: int, size: int) -> bool:
        """Return whether the only extra bytes are the beginning of the block that could not be written."""
        surplus = size - self._length
        return surplus <= len(self._attempt) and self._attempt.startswith(
            _read_at(handle, self._length, surplus)
        )

    def _refusal(self, what: str, instead: str) -> NightmodeError:
        return NightmodeError(path_text(self.path), f"{NOT_SAVED}, {what}", instead, cause=what)


def _find(path: Path) -> tuple[bytes, Blocks]:
    data = read_bytes(path, LIMIT_BYTES)
    blocks = find_blocks(path_text(path), data)
    if blocks.head or blocks.entries or SIGNATURE.startswith(data[: len(SIGNATURE)]):
        return data, blocks
    raise NightmodeError(path_text(path), "is not the journal of a session", "name one that nightmode wrote")


def _complaints(blocks: Blocks) -> list[str]:
    told = []
    if blocks.head is None:
        told.append("the head of the journal is damaged or missing")
    if blocks.damaged:
        first, *others = blocks.damaged
        more = f" and {len(others)} more" if others else ""
        told.append(f"left out the damaged entry at line {first.line}{more} ({first.what})")
    if blocks.torn:
        told.append("left out what an interrupted write left at the end")
    return told


def _keep(path: Path, suffix: str, data: bytes) -> Path:
    """Write a copy beside the journal under another name; an equal copy that is there is used again."""
    number = 1
    while True:
        copy = path.with_name(f"{path.name}{'' if number == 1 else f'.{number}'}{suffix}")
        if not os.path.lexists(copy):
            safe_replace(copy, data, private=True)
            return copy
        with suppress(NightmodeError):
            if read_bytes(copy, LIMIT_BYTES) == data:
                return copy
        number += 1


def _cut(path: Path, expected: int, length: int) -> None:
    """Shorten the journal to its clean part. NightmodeError if it changed since it was read."""
    try:
        with _opened(path) as handle:
            if os.fstat(handle).st_size != expected:
                raise NightmodeError(path_text(path), "another program is writing to it", "start again")
            os.ftruncate(handle, length)
            sync_file(handle)
    except OSError as error:
        raise trouble(path, error, "not repaired") from None


@contextmanager
def _opened(path: Path) -> Iterator[int]:
    handle = os.open(path, os.O_RDWR | os.O_APPEND | getattr(os, "O_BINARY", 0))
    try:
        yield handle
    finally:
        os.close(handle)


def _goes_on(handle: int, known: bytes | bytearray) -> bool:
    """Return whether the next bytes of an open file are these, compared piece by piece."""
    place = 0
    while place < len(known):
        part = os.read(handle, min(_PIECE_BYTES, len(known) - place))
        if not part or not known.startswith(part, place):
            return False
        place += len(part)
    return True


def _read_at(handle: int, start: int, count: int) -> bytes:
    os.lseek(handle, start, os.SEEK_SET)
    parts = []
    while count > 0 and (part := os.read(handle, count)):
        parts.append(part)
        count -= len(part)
    return b"".join(parts)
