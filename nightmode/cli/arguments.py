"""Flags that several commands share."""

import argparse
import os
from pathlib import Path
from typing import TypeAlias

from nightmode.errors import NightmodeError

#: The object to which a command adds itself.
Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"


#: Endings that promise a certain format.
_FORMATS = frozenset({
    *(".csv", ".htm", ".html", ".ics", ".json", ".md", ".toml", ".txt", ".wav"),
    *(".doc", ".docx", ".jpeg", ".jpg", ".mp3", ".ods", ".odt", ".ogg", ".pdf", ".png", ".ps", ".rtf"),
    *(".svg", ".xls", ".xlsx"),
})  # fmt: skip


def check_ending(path: Path, endings: tuple[str, ...]) -> None:
    """Raise NightmodeError if a file's ending promises a format that the command does not write.

    endings are those of the formats that it writes; none stand for any. An ending that promises nothing
    passes, and so does a name without one.
    """
    ending = path.suffix.lower()
    if not endings or ending not in _FORMATS or (".html" if ending == ".htm" else ending) in endings:
        return
    instead = f"end the name in {' or '.join(endings)}"
    if ending == ".pdf" and ".html" in endings:
        instead += "; a browser prints the page into a PDF"
    raise NightmodeError("-o", f"{path.name} would not be what its ending says", instead)


def decimal(text: str) -> float:
    """Return a number of a flag; argparse tells what else was written."""
    try:
        return float(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is not a number; write digits like 60") from None


def whole(text: str) -> int:
    """Return a whole number of a flag; argparse tells what else was written."""
    try:
        return int(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is not a whole number; write digits like 160") from None


def plan_path(text: str) -> Path:
    """Return the file that a plan's argument means: that file, else the bundled list of this name."""
    path = Path(text)
    if path.suffix or path.name != text or os.path.lexists(path):
        return path
    from nightmode.history.lists import list_file, list_names

    return list_file(text) if text in list_names() else path


def add_plan(parser: argparse.ArgumentParser, *, is_needed: bool = True) -> None:
    """Add the plan, and the flags for observer and night."""
    many = None if is_needed else "?"
    told = "a plan's file (plan.toml), or the name of a bundled list (messier)"
    parser.add_argument("plan", type=plan_path, metavar="PLAN", nargs=many, help=told)
    add_observer(parser)
    parser.add_argument(
        "--night", metavar="DATE", help="the evening's date, YYYY-MM-DD; else the plan's, else tonight"
    )


def add_observer(parser: argparse.ArgumentParser) -> None:
    """Add the flag for another observer.toml."""
    parser.add_argument(
        "--observer", type=Path, metavar="FILE", help="observer.toml; else the one in your settings folder"
    )


def add_output(parser: argparse.ArgumentParser) -> None:
    """Add the flags that `record.hand_over` reads: where a text goes, and whether it is printed in red."""
    parser.add_argument("-o", "--output", metavar="FILE", type=Path, help="write a file; else print it")
    parser.add_argument("--force", action="store_true", help="replace the file if it is there")
    parser.add_argument("--red", action="store_true", help="print in red on black")
