"""One program at a time on a session; a second one is told which process has it."""

import contextlib
import errno
import os
import socket
import sys
from pathlib import Path
from typing import Self

from nightmode.errors import NightmodeError
from nightmode.files.replace import PRIVATE
from nightmode.files.text import path_text, trouble

if sys.platform == "win32":  # pragma: no cover
    import msvcrt
else:
    import fcntl

_BUSY = {errno.EAGAIN, errno.EACCES, errno.EWOULDBLOCK, errno.EDEADLK}
_UNSUPPORTED = {errno.ENOLCK, errno.EOPNOTSUPP, errno.ENOTSUP, errno.ENOSYS}
#: On Windows a locked byte cannot be read, so the lock lies beyond what is written about the holder.
_LOCKED_BYTE = 4096


class HeldError(NightmodeError):
    """Another program has the session. pid and host name it; pid is None if it did not say."""

    def __init__(self, path: Path, pid: int | None, host: str) -> None:
        self.pid, self.host = pid, host
        holder = f"process {pid}" if pid else "another process"
        place = f" on {host}" if host and host != socket.gethostname() else ""
        super().__init__(
            path_text(path), f"{holder}{place} has this session open", "leave that one, or watch only"
        )


class Lock:
    """A lock on a session, made by `hold`; it ends with `release` or with the `with` block.

    The system ends it when the process ends, however that happens, so a lock is never left behind.
    """

    def __init__(self, path: Path, handle: int) -> None:
        self._path, self._handle = path, handle

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.release()

    def release(self) -> None:
        """Release the lock; a second call is no error."""
        if self._handle < 0:
            return
        # Removed while still held: whoever opened it meanwhile sees that its name is gone and tries again.
        with contextlib.suppress(OSError):
            self._path.unlink()
        with contextlib.suppress(OSError):
            os.close(self._handle)
        self._handle = -1


def hold(path: Path) -> Lock:
    """Take a session for this process; a file NAME.lock beside the journal says who has it.

    HeldError if another process has it, NightmodeError if the lock cannot be written. A lock file left by
    a process that was killed is taken over without a word. On a disk without locks (some network disks) every
    process gets the lock.
    """
    try:
        beside = path.with_name(path.name + ".lock")
        while True:
            handle = _open_locked(path, beside)
            if _still_named(handle, beside):
                _sign(handle)
                return Lock(beside, handle)
            os.close(handle)
    except (OSError, ValueError) as error:
        beside = Path(f"{path}.lock")
        if os.path.islink(beside) or os.path.isdir(beside):  # noqa: PTH112, PTH114  no name is too long for these
            raise NightmodeError(path_text(beside), "is no lock of a session", "remove it") from None
        raise trouble(path, error, "cannot be held") from None


def _open_locked(path: Path, beside: Path) -> int:
    """Return the lock file, open and locked. HeldError if another process has it."""
    handle = os.open(beside, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), PRIVATE)
    try:
        _lock(handle)
    except OSError as error:
        pid, host = _holder(handle)
        os.close(handle)
        if error.errno in _BUSY:
            raise HeldError(path, pid, host) from None
        raise
    return handle


def _lock(handle: int) -> None:
    """Lock an open file at once or not at all. OSError with errno of _BUSY if another has it."""
    if sys.platform == "win32":  # pragma: no cover
        os.lseek(handle, _LOCKED_BYTE, os.SEEK_SET)
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        return
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        if error.errno not in _UNSUPPORTED:
            raise


def _still_named(handle: int, beside: Path) -> bool:
    """Return whether the locked file still has its name, and has not just been removed."""
    try:
        return os.path.samestat(os.fstat(handle), beside.stat())
    except FileNotFoundError:
        return False


def _sign(handle: int) -> None:
    """Write into the file who holds the lock. On a full disk the lock still holds, but without a name."""
    with contextlib.suppress(OSError):
        os.ftruncate(handle, 0)
        os.lseek(handle, 0, os.SEEK_SET)
        os.write(handle, f"{os.getpid()} {socket.gethostname()}\n".encode())


def _holder(handle: int) -> tuple[int | None, str]:
    """Return the process number and computer written in a lock file, as far as they can be read."""
    try:
        os.lseek(handle, 0, os.SEEK_SET)
        words = os.read(handle, 300).decode().split()
        return int(words[0]), words[1]
    except (OSError, ValueError, IndexError):
        return None, ""
