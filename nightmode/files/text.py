"""Reads a whole file that somebody else may have made: only ordinary files of limited size."""

import codecs
import contextlib
import errno
import os
import stat
from pathlib import Path

from nightmode.errors import NightmodeError, printable

LONGEST_PATH = 60

_WORDS = {
    errno.ENOENT: ("there is no such file or folder", "check the name"),
    errno.ENOTDIR: ("a part of the path is not a folder", "check the name"),
    errno.EISDIR: ("is a folder", "name a file"),
    errno.EACCES: ("there is no permission", "check who owns the file and its folder"),
    errno.EPERM: ("the system does not permit it", "check who owns the file and its folder"),
    errno.ENOSPC: ("the disk is full", "free some space"),
    errno.EDQUOT: ("the disk quota is used up", "free some space"),
    errno.EFBIG: ("the file would be larger than the system allows", "raise the limit on file size"),
    errno.EROFS: ("the disk is read-only", "make it writable or use another"),
    errno.EIO: ("the disk reports an error", "use another disk"),
    errno.ENODEV: ("the disk has gone", "put it back"),
    errno.ENXIO: ("the disk has gone", "put it back"),
    errno.ESTALE: ("the network disk has gone", "connect it again"),
    errno.ENAMETOOLONG: ("the name is too long", "use a shorter one"),
    errno.ELOOP: ("the links lead round in a circle", "name the file itself"),
    errno.EEXIST: ("is there already", "choose another name"),
    errno.EMFILE: ("too many files are open", "close other programs"),
    errno.ENFILE: ("too many files are open", "close other programs"),
}


def trouble(path: Path, error: OSError | ValueError, doing: str) -> NightmodeError:
    """Return the one sentence for a refused file operation.

    doing is what did not happen ("not read", "not saved"). A ValueError comes from a path that no
    system call can take, such as one with a null character in it.
    """
    if isinstance(error, OSError):
        what, instead = _WORDS.get(
            error.errno or 0, (error.strerror or "the system refused", "try another disk")
        )
    else:
        what, instead = "the name cannot be that of a file", "check the name"
    return NightmodeError(path_text(path), f"{doing}, {what}", instead, cause=what)


def path_text(path: Path, longest: int | None = LONGEST_PATH) -> str:
    """Return a path as it is shown to people: printable, the home folder as ~, too long a one by its end.

    longest None keeps it whole, for a path that somebody may want to copy.
    """
    text = str(path)
    with contextlib.suppress(ValueError, RuntimeError):
        text = str(Path("~") / path.relative_to(Path.home()))
    text = printable(text)
    return text if longest is None or len(text) <= longest else "…" + text[1 - longest :]


_UTF_16_32 = (codecs.BOM_UTF32_LE, codecs.BOM_UTF32_BE, codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


def read_bytes(path: Path, limit: int) -> bytes:
    """Return what an ordinary file holds, at most limit bytes.

    NightmodeError if there is no such file, it may not be read, it is a folder, a pipe or a device
    (which might never end), or it is larger.
    """
    try:
        _check_kind(path, path.stat().st_mode)
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
        with os.fdopen(handle, "rb") as file:
            _check_kind(path, os.fstat(handle).st_mode)
            data = file.read(limit + 1)
        if data is None:  # it has no data now but may have later, so it is not an ordinary file
            raise NightmodeError(path_text(path), "is a device or pipe", "name an ordinary file")
    except (OSError, ValueError) as error:
        raise trouble(path, error, "not read") from None
    if len(data) > limit:
        raise NightmodeError(
            path_text(path), f"is larger than {_size(limit)}", "name the file that was meant"
        )
    return data


def _check_kind(path: Path, mode: int) -> None:
    if stat.S_ISDIR(mode):
        raise NightmodeError(path_text(path), "is a folder", "name a file in it")
    if not stat.S_ISREG(mode):
        raise NightmodeError(path_text(path), "is a device or pipe", "name an ordinary file")


def _size(limit: int) -> str:
    return f"{limit // 1_000_000} MB" if limit >= 1_000_000 else f"{limit // 1000} kB"


def decode(path: Path, data: bytes) -> str:
    """Return the text of a UTF-8 file, a byte-order mark at its beginning dropped.

    NightmodeError for UTF-16 and UTF-32, for binary data, and for other encodings, with the line.
    """
    if data.startswith(_UTF_16_32):
        raise NightmodeError(path_text(path), "is UTF-16 or UTF-32 text", "save it as UTF-8")
    if b"\0" in data:
        raise NightmodeError(path_text(path), "is not a text file", "name a TOML file saved as UTF-8")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        byte = data[error.start]
        where = f"{path_text(path)}, line {line}"
        raise NightmodeError(
            where, f"holds the byte {byte:02X}, which is not UTF-8", "save it as UTF-8"
        ) from None
