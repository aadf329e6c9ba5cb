"""The text of a journal: writes one block, and finds the whole blocks in what a disk gives back.

A journal is a comment line, the head `[session]`, then one `[[entry]]` for every event. Each of these blocks
is written at once and ends with the line `ok = true`; anything without that line is not a block. Every value
is on one line (line breaks in texts are escaped), so no text can look like a block.
"""

import datetime as dt
import re
import tomllib
from collections.abc import Iterator
from typing import Any

import tomli_w

from nightmode.errors import NightmodeError
from nightmode.files.toml import as_model
from nightmode.model.base import Model
from nightmode.model.session import Entry, Head
from nightmode.records import Record

SIGNATURE = b"# nightmode session: a head, then one block for each event, the newest last\n"
_HEADER = re.compile(
    rb"^[ \t]*(?:\[[ \t]*session[ \t]*\]|\[\[[ \t]*entry[ \t]*\]\])[ \t]*(?:#.*)?\r?$", re.MULTILINE
)
_OK = re.compile(rb"^ok[ \t]*=[ \t]*true[ \t]*(?:#.*)?(?:\r?\n|\r?\Z)", re.MULTILINE)
_FIRST = "[[entry]]\n"
#: A line as `entry_block` writes it: words without escapes, a number, an instant, or true.
_PLAIN_LINE = re.compile(
    r"""^([a-z_]+)\ =\ (?:
        "([^"\\\x00-\x1f\x7f]*)"
      | (-?(?:0|[1-9]\d{0,8})(?:\.\d{1,15})?)
      | (\d{4}-\d\d-\d\d[T\ ]\d\d:\d\d:\d\d(?:\.\d{6})?[+-][01]\d:[0-5]\d)
      | (true))\n""",
    re.VERBOSE | re.ASCII | re.MULTILINE,
)
_BLANK = re.compile(rb"(?:[ \t\r\n]|#[^\n]*(?:\n|\Z))*")


class Damage(Record):
    """A stretch of a journal that is not a whole block: its line and what is wrong there."""

    line: int
    what: str


class Blocks(Record):
    """What a journal's bytes hold. head is None if that is what was damaged.

    torn is what an interrupted write left at the end, after clean_length bytes. whole holds the bytes of each
    whole entry, from which a damaged journal can be written again.
    """

    head: Head | None
    entries: tuple[Entry, ...]
    whole: tuple[bytes, ...]
    torn: bytes
    clean_length: int
    damaged: tuple[Damage, ...]


def head_block(head: Head) -> bytes:
    """Return the bytes that a journal begins with."""
    return SIGNATURE + b"\n[session]\n" + _lines(head)


def entry_block(entry: Entry) -> bytes:
    """Return the bytes of one entry; they begin with a line break, so that the entry starts a new line."""
    return b"\n[[entry]]\n" + _lines(entry)


def _lines(model: Model) -> bytes:
    fields = {key: value for key, value in model.model_dump(exclude_none=True).items() if value != ""}
    return tomli_w.dumps({**fields, "ok": True}, multiline_strings=False).encode()


def find_blocks(name: str, data: bytes) -> Blocks:
    """Return the whole blocks among the bytes of a journal, and what else is there.

    name is the file's, for messages. NightmodeError only if the head says it is of a later format.
    """
    heads: list[Head] = []
    entries: list[Entry] = []
    whole: list[bytes] = []
    damaged: list[Damage] = []
    torn, clean_length = b"", len(data)
    for stretch in _stretches(data):
        try:
            found = _read(name, stretch) if stretch.block else None
        except _NotReadableError as error:
            damaged.append(Damage(stretch.line, str(error)))
            found = None
        if isinstance(found, Head):
            heads.append(found)
        elif found:
            entries.append(found)
            whole.append(b"\n" + stretch.block.rstrip() + b"\n")
        if stretch.rest and stretch.is_last:
            torn, clean_length = stretch.rest, stretch.start + len(stretch.block)
        elif stretch.rest:
            damaged.append(Damage(stretch.rest_line, "what stands there is no whole entry"))
    head = heads[0] if heads else None
    return Blocks(head, tuple(entries), tuple(whole), torn, clean_length, tuple(damaged))


class _NotReadableError(Exception):
    """A block is whole, but no model fits what it says."""


class _Stretch(Record):
    """What is between two headers: a block up to its line `ok = true`, and anything after it."""

    start: int
    line: int
    block: bytes
    rest: bytes
    is_last: bool

    @property
    def rest_line(self) -> int:
        return self.line + self.block.count(b"\n")


def _stretches(data: bytes) -> Iterator[_Stretch]:
    starts = [match.start() for match in _HEADER.finditer(data)]
    if not starts or not _BLANK.fullmatch(data[: starts[0]]):
        starts.insert(0, 0)
    line = data.count(b"\n", 0, starts[0]) + 1
    for start, end in zip(starts, [*starts[1:], len(data)], strict=True):
        text = data[start:end]
        ok = _OK.search(text)
        block = text[: ok.end()] if ok else b""
        rest = text[len(block) :]
        yield _Stretch(start, line, block, b"" if _BLANK.fullmatch(rest) else rest, end == len(data))
        line += text.count(b"\n")


def _read(name: str, stretch: _Stretch) -> Head | Entry:
    """Return what a whole block says. _NotReadableError if no model fits it."""
    try:
        text = stretch.block.decode()
        tables = _written_here(text) or tomllib.loads(text)
    except (ValueError, RecursionError):
        raise _NotReadableError("it is not TOML") from None
    entries, head = tables.get("entry"), tables.get("session")
    if len(tables) != 1 or (entries is None and head is None):
        raise _NotReadableError("it is neither a head nor an entry")
    fields = entries[0] if isinstance(entries, list) else head
    if not isinstance(fields, dict) or list(fields)[-1:] != ["ok"]:
        raise _NotReadableError("it does not end with ok = true")
    del fields["ok"]
    if head is not None:
        _check_format(name, fields)
    try:
        return as_model("", fields, Entry) if head is None else as_model("", fields, Head)
    except NightmodeError as error:
        raise _NotReadableError(f"{error.where} {error.what}".strip()) from None


def _written_here(text: str) -> dict[str, Any] | None:
    """Return the values of an entry in the plain form in which nearly all are written, None for others.

    This takes a tenth of the time of a TOML reader, so that a journal of years opens in a second.
    """
    if not text.startswith(_FIRST):
        return None
    lines = _PLAIN_LINE.findall(text, len(_FIRST))
    if len(lines) != text.count("\n") - 1 or not text.endswith("\n"):
        return None
    fields: dict[str, Any] = {}
    for key, words, number, instant, is_true in lines:
        if instant:
            fields[key] = dt.datetime.fromisoformat(instant)
        elif number:
            fields[key] = float(number) if "." in number else int(number)
        else:
            fields[key] = True if is_true else words
    return {"entry": [fields]} if len(fields) == len(lines) else None


def _check_format(name: str, head: dict[str, Any]) -> None:
    number = head.get("format")
    if isinstance(number, int) and number > 1:
        raise NightmodeError(name, "was written by a later version of the program", "use that version")
