"""Writes a whole file so that at every moment the old one or the new one is there, never half of one."""

import contextlib
import errno
import os
import secrets
import stat
import sys
from pathlib import Path

from nightmode.errors import NightmodeError
from nightmode.files.text import path_text, read_bytes, trouble

if sys.platform == "darwin":  # pragma: no cover
    import fcntl

PRIVATE = 0o600
#: The largest file of which a copy is kept; those of the program are smaller.
KEPT_BYTES = 10_000_000
#: The errors of file systems without hard links (memory sticks) when asked for one.
_NO_LINKS = {errno.EPERM, errno.EOPNOTSUPP, errno.ENOTSUP, errno.ENOSYS, errno.EMLINK, errno.EXDEV}


def safe_replace(path: Path, content: bytes | str, *, force: bool = False, private: bool = False) -> None:
    """Write content to path through a temporary file in the same folder.

    The bytes and then the folder are flushed to the disk before this returns. A file that exists is replaced
    only with force; then a link stays a link, and the file behind it is replaced and keeps its permissions.
    private gives mode 600, for files that hold a site's coordinates. NightmodeError, and nothing changed, if
    anything stands in the way.
    """
    data = content.encode() if isinstance(content, str) else content
    try:
        target = Path(os.path.realpath(path)) if force else path
        mode = _mode(path, target, force, private)
        _write(target, data, mode, force)
    except FileExistsError:
        raise _already_there(path) from None
    except (OSError, ValueError) as error:
        raise trouble(path, error, "not written") from None


def check_free(path: Path) -> None:
    """Raise NightmodeError if there is something at path, as `safe_replace` would without force."""
    if os.path.lexists(path):
        raise _already_there(path)


def keep_copy(path: Path) -> Path:
    """Copy a file that is about to change to a free name in its folder, and return the path of the copy.

    NightmodeError if it can't be read or the copy can't be written.
    """
    number = 1
    while os.path.lexists(kept := path.with_name(f"{path.name}.{number}.bak")):
        number += 1
    safe_replace(kept, read_bytes(path, KEPT_BYTES), private=True)
    return kept


def make_folder(folder: Path) -> None:
    """Make a folder and those above it, for the user alone, flushed to the disk. OSError if refused."""
    if folder.is_dir():
        return
    make_folder(folder.parent)
    with contextlib.suppress(FileExistsError):
        folder.mkdir(mode=0o700)
    sync_folder(folder.parent)


def sync_file(handle: int) -> None:
    """Flush an open file to the disk itself. OSError if the disk refuses."""
    if sys.platform == "darwin":  # pragma: no cover
        # There fsync stops at the drive's cache, which a dead battery empties.
        fcntl.fcntl(handle, fcntl.F_FULLFSYNC)
    else:
        os.fsync(handle)


def sync_folder(folder: Path) -> None:
    """Flush a folder's list of names to the disk, where possible. OSError if the disk fails."""
    try:
        handle = os.open(folder, os.O_RDONLY)
    except PermissionError:  # Windows, and folders that may be written to but not listed
        return
    try:
        os.fsync(handle)
    except OSError as error:
        if error.errno not in {errno.EINVAL, errno.ENOTSUP, errno.EBADF}:
            raise
    finally:
        os.close(handle)


def write_all(handle: int, data: bytes) -> None:
    """Write every byte to an open file. OSError if the disk refuses."""
    rest = memoryview(data)
    while rest:
        rest = rest[os.write(handle, rest) :]


def _mode(path: Path, target: Path, force: bool, private: bool) -> int | None:
    """Return the permissions to set, None for the usual ones.

    FileExistsError or NightmodeError if there is something here that must not be replaced.
    """
    if not force and os.path.lexists(path):
        raise FileExistsError
    status = _status(target)
    if status and not stat.S_ISREG(status.st_mode):
        kind = "a folder" if stat.S_ISDIR(status.st_mode) else "a device or pipe"
        raise NightmodeError(path_text(path), f"not written, this is {kind}", "name a file")
    if private:
        return PRIVATE
    return stat.S_IMODE(status.st_mode) if status else None


def _status(path: Path) -> os.stat_result | None:
    try:
        return path.stat()
    except FileNotFoundError:
        return None


def _already_there(path: Path) -> NightmodeError:
    if path.is_dir():
        return NightmodeError(path_text(path), "is a folder", "name a file in it")
    return NightmodeError(path_text(path), "is there already", "choose another name or add --force")


def _write(target: Path, data: bytes, mode: int | None, force: bool) -> None:
    temporary = target.parent / f".nightmode-{secrets.token_hex(6)}.tmp"
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    handle = os.open(temporary, flags, 0o666 if mode is None else PRIVATE)
    try:
        try:
            write_all(handle, data)
            if mode is not None and hasattr(os, "fchmod"):
                os.fchmod(handle, mode)
            sync_file(handle)
        finally:
            os.close(handle)
        _move(temporary, target, force)
        sync_folder(target.parent)
    finally:
        with contextlib.suppress(OSError):
            temporary.unlink()


def _move(temporary: Path, target: Path, force: bool) -> None:
    """Give the finished file its name. Without force the name must be free: FileExistsError if not."""
    if force:
        temporary.replace(target)
        return
    try:
        os.link(temporary, target)
    except OSError as error:
        if error.errno not in _NO_LINKS:
            raise
        _claim(temporary, target)


def _claim(temporary: Path, target: Path) -> None:
    """Do the same without hard links: an empty file reserves the name first."""
    os.close(os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL, PRIVATE))
    try:
        temporary.replace(target)
    except OSError:
        target.unlink()
        raise
