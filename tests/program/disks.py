"""Disks that refuse, each in its own way, and stop refusing when told."""

import contextlib
import os
import resource
import subprocess
from typing import Any

PAGE = 4096


class Trouble:
    """A way in which a disk refuses: `begin` and `end`, and the `words` that the screen has for it."""

    def __init__(self, folder, journal):
        self.folder, self.journal = folder, journal
        self.program: Any = None  # the one running, once there is one

    def free_bytes(self):
        """Return how much still goes into the journal once the trouble has begun."""
        return 0


class SmallDisk(Trouble):
    """A real file system of 256 kB, filled up; it gives out whole pages, so the last one is used up first."""

    words = "the disk is full"

    def begin(self):
        self.ballast = self.folder / "ballast"
        with contextlib.suppress(OSError), self.ballast.open("wb", buffering=0) as ballast:
            while True:
                ballast.write(b"x" * 512)

    def end(self):
        self.ballast.unlink()

    def free_bytes(self):
        return -self.journal.stat().st_size % PAGE


class FileLimit(Trouble):
    """The system's limit on the size of a file, set for the running program."""

    words = "the file would be larger than the system allows"

    def begin(self):
        self._limit(self.journal.stat().st_size + 20)

    def end(self):
        self._limit(resource.RLIM_INFINITY)

    def _limit(self, size):
        with contextlib.suppress(ProcessLookupError):  # it may have left
            resource.prlimit(self.program.child.pid, resource.RLIMIT_FSIZE, (size, resource.RLIM_INFINITY))


class ReadOnly(Trouble):
    """A real file system that turns read-only under the program, as a worn-out memory card does.

    The system refuses to turn a disk over while a file on it is open for writing (the lock is), so another
    way to the same files, a read-only one, takes the place of the first.
    """

    words = "the disk is read-only"

    def begin(self):
        way = self.folder.with_name("another way")
        way.mkdir(exist_ok=True)
        for command in (
            ["mount", "--bind", self.folder, way],
            ["umount", "-l", self.folder],
            ["mount", "--bind", way, self.folder],
            ["mount", "-o", "remount,bind,ro", self.folder],
            ["umount", way],
        ):
            subprocess.run(command, check=True)

    def end(self):
        subprocess.run(["mount", "-o", "remount,bind,rw", self.folder], check=True)


class NoPermission(Trouble):
    """A journal that may not be written to any more, where nobody may mount a disk."""

    words = "there is no permission"

    def begin(self):
        self.journal.chmod(0o400)

    def end(self):
        self.journal.chmod(0o600)


class PulledOut(Trouble):
    """A stick that is pulled out and put back."""

    words = "there is no such file or folder"

    def begin(self):
        self.folder.rename(self.folder.with_name("pulled out"))

    def end(self):
        self.folder.with_name("pulled out").rename(self.folder)


@contextlib.contextmanager
def small_disk(folder):
    """Mount a file system of 256 kB; yield whether this user may."""
    command = ["mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", str(folder)]
    try:
        mounted = subprocess.run(command, capture_output=True, check=False).returncode == 0
    except OSError:
        mounted = False
    try:
        yield mounted
    finally:
        if mounted:
            subprocess.run(["umount", "-l", str(folder)], check=True)


@contextlib.contextmanager
def trouble(name, folder, journal):
    """Yield the trouble of that name, or the nearest that this user can make."""
    if name in {"small disk", "read-only"}:
        with small_disk(folder) as mounted:
            ours = {"small disk": SmallDisk, "read-only": ReadOnly}
            others = {"small disk": FileLimit, "read-only": NoPermission if os.getuid() else FileLimit}
            yield (ours if mounted else others)[name](folder, journal)
    else:
        yield {"file limit": FileLimit, "pulled out": PulledOut}[name](folder, journal)
