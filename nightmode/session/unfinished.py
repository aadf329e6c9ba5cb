"""The note that is still being typed, kept beside the journal against a sudden end.

The file NAME.note holds the entry that the note would make now. Going on with the session takes it into the
journal, as a signal does that ends the program; a session that is only read back has it too.
"""

from contextlib import suppress
from pathlib import Path

from nightmode.errors import NightmodeError
from nightmode.files.replace import safe_replace
from nightmode.files.text import read_bytes
from nightmode.model.session import Entry, Event
from nightmode.session.blocks import entry_block, find_blocks

ENDING = ".note"
#: More than any entry takes.
_LIMIT_BYTES = 100_000


def keep(journal: Path, entry: Entry) -> None:
    """Write the note beside the journal, flushed to the disk. NightmodeError if the disk refuses."""
    safe_replace(_beside(journal), entry_block(entry), force=True, private=True)


def forget(journal: Path) -> None:
    """Remove the note kept beside the journal; none there is no error, and neither is a disk that refuses."""
    with suppress(OSError):
        _beside(journal).unlink(missing_ok=True)


def kept_bytes(journal: Path) -> bytes:
    """Return what the file beside the journal holds; nothing if there is none, or none that can be read."""
    try:
        return read_bytes(_beside(journal), _LIMIT_BYTES)
    except NightmodeError:
        return b""


def kept(journal: Path, entries: tuple[Entry, ...]) -> Entry | None:
    """Return the note kept beside the journal.

    None if there is none, none that can be read, or if the journal has it: entries are those of the journal.
    """
    found = find_blocks("", kept_bytes(journal)).entries
    notes = [entry for entry in found[:1] if entry.event is Event.NOTE and entry.note]
    if not notes or any(_is_grown(entry, notes[0]) for entry in entries):
        return None
    return notes[0]


def _is_grown(entry: Entry, note: Entry) -> bool:
    """Return whether an entry of the journal is what became of the note."""
    is_later = entry.at >= note.at and entry.target == note.target
    return is_later and entry.event is Event.NOTE and entry.note.startswith(note.note)


def _beside(journal: Path) -> Path:
    return journal.with_name(journal.name + ENDING)
