"""How the commands that change observer.toml write it."""

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from nightmode.model.observer import Observer


def write_observer(path: Path, there: "Observer | None", observer: "Observer") -> Path | None:
    """Write observer.toml, by its changed lines if possible; return the copy kept of one written anew.

    there is what the file holds now, None if there is no file yet.
    """
    from nightmode.files.replace import keep_copy, safe_replace
    from nightmode.files.toml import read_text
    from nightmode.setup.changes import changed_text
    from nightmode.setup.observer_file import observer_text

    changed = changed_text(read_text(path), there, observer) if there is not None else None
    kept = keep_copy(path) if there is not None and changed is None else None
    safe_replace(path, changed or observer_text(observer), force=True, private=True)
    return kept
