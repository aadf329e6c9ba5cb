"""What the operating system says about a file, in words for the observer."""

import contextlib
import errno
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
        what, instead = _WORDS.get(error.errno or 0, (error.strerror or "the system refused", ""))
    else:
        what, instead = "the name cannot be that of a file", "check the name"
    return NightmodeError(shown(path), f"{doing}, {what}", instead)


def shown(path: Path) -> str:
    """Return a path as it is shown to people: printable, the home folder as ~, long ones by their end."""
    text = str(path)
    with contextlib.suppress(ValueError, RuntimeError):
        text = str(Path("~") / path.relative_to(Path.home()))
    text = printable(text)
    return text if len(text) <= LONGEST_PATH else "…" + text[-LONGEST_PATH + 1 :]
