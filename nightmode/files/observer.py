"""Reads observer.toml, if there is one."""

from pathlib import Path

from nightmode.files.places import observer_file
from nightmode.files.toml import read_toml
from nightmode.model.observer import Observer


def load_observer(path: Path | None) -> Observer:
    """Return the observer from a file; without a path and without the usual file, an empty observer."""
    if path is None and not _is_there(observer_file()):
        return Observer()
    return read_toml(path or observer_file(), Observer)


def _is_there(path: Path) -> bool:
    """Whether there is anything of that name: a link to a disk that is not there, or no leave to look, is."""
    try:
        path.lstat()
    except (FileNotFoundError, NotADirectoryError):
        return False
    except OSError:
        return True
    return True
