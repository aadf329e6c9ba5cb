"""Lists to work through: any plan's file, or a bundled list by its name."""

from pathlib import Path

from nightmode.errors import NightmodeError
from nightmode.files.places import shipped
from nightmode.files.toml import read_toml
from nightmode.model.plan import Plan


def list_names() -> list[str]:
    """Return the names of the bundled lists."""
    return sorted(path.stem for path in (shipped("plans") / "lists").glob("*.toml"))


def list_file(word: str) -> Path:
    """Return the file that a word means: a file of that name, else a bundled list.

    NightmodeError if there is neither.
    """
    path = Path(word)
    if path.exists() or path.suffix or path.name != word:
        return path
    ours = shipped("plans") / "lists" / f"{word.lower()}.toml"
    if ours.exists():
        return ours
    raise NightmodeError(word, "is no file and no list", f"name a plan's file or {', '.join(list_names())}")


def read_list(word: str) -> Plan:
    """Return the list that a word means. NightmodeError as for any plan."""
    return read_toml(list_file(word), Plan)
