"""Disks that are full or may be filled, and a folder whose flushes take no time: fixtures for any test."""

import contextlib
import resource
import shutil
import subprocess
import tempfile
from pathlib import Path

import pytest


class FullDisk:
    """A disk with little room left; `fill` leaves a given number of bytes, `make_room` gives all back."""

    def __init__(self, folder):
        self.folder = folder


class SmallFileLimit(FullDisk):
    """The system's own limit on the size of a file stands in for the end of the disk."""

    words = "larger than the system allows"

    def fill(self, path, room):
        resource.setrlimit(resource.RLIMIT_FSIZE, (path.stat().st_size + room, resource.RLIM_INFINITY))

    def make_room(self):
        resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))


class SmallDisk(FullDisk):
    """A real file system of 64 kB, filled up. It gives out whole pages of 4 kB."""

    words = "the disk is full"

    def fill(self, path, room):
        self._ballast = self.folder / "ballast"
        with contextlib.suppress(OSError), self._ballast.open("wb", buffering=0) as ballast:
            while True:
                ballast.write(b"x" * 512)

    def make_room(self):
        self._ballast.unlink(missing_ok=True)


def _mounted(folder, options):
    command = ["mount", "-t", "tmpfs", "-o", options, "tmpfs", str(folder)]
    try:
        return subprocess.run(command, capture_output=True, check=False).returncode == 0
    except OSError:
        return False


@pytest.fixture
def small_disk(tmp_path):
    """A 64 kB file system where this user may mount one, None elsewhere."""
    folder = tmp_path / "stick"
    folder.mkdir()
    if not _mounted(folder, "size=64k"):
        yield None
        return
    yield folder
    subprocess.run(["umount", "-l", str(folder)], check=True)


@pytest.fixture(params=["file size limit", "small disk"])
def full_disk(request, tmp_path, small_disk):
    """A disk that can be filled: the file size limit, and a real small disk where one can be mounted."""
    disk = SmallDisk(small_disk) if request.param == "small disk" and small_disk else SmallFileLimit(tmp_path)
    yield disk
    disk.make_room()


@pytest.fixture
def quick_folder(tmp_path):
    """A folder in memory where there is one: thousands of flushes take no time there."""
    memory = Path("/dev/shm")
    folder = Path(tempfile.mkdtemp(dir=memory if memory.is_dir() else tmp_path))
    yield folder
    shutil.rmtree(folder)
