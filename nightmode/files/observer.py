"""Reads observer.toml, if there is one."""

import os
from pathlib import Path

from nightmode.files.places import observer_file
from nightmode.files.toml import read_toml
from nightmode.model.observer import Observer


def load_observer(path: Path | None) -> Observer:
    """Return the observer from a file; without a path and without the usual file, an empty observer."""
    if path is None and not os.path.lexists(observer_file()):  # a link to a disk that is not there is told of
        return Observer()
    return read_toml(path or observer_file(), Observer)
