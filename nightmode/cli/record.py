"""What several commands share: data as JSON, where their text goes, a line on each file left out."""

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING

from nightmode.errors import NightmodeError

if TYPE_CHECKING:
    from nightmode.history.earlier import Earlier
    from nightmode.night.table import Night

#: So many files that were not read, or not whole, are named; of more, the number.
MOST_TOLD = 5


def form_of(args: argparse.Namespace) -> str:
    """Return "json", "html" or "text": by the flag, else by the ending of the file of -o."""
    ending = args.output.suffix.lower() if args.output else ""
    if args.json or (ending == ".json" and not args.html):
        return "json"
    return "html" if args.html or ending in (".html", ".htm") else "text"


def as_json(data: object) -> str:
    """Return data as JSON that people can read: a line for each value, letters of any script as they are."""
    import json

    return json.dumps(data, ensure_ascii=False, indent=1)


def hand_over(text: str, args: argparse.Namespace) -> None:
    """Write a text to the file of -o and say so; without -o print it."""
    from nightmode.files.replace import safe_replace
    from nightmode.files.text import path_text

    if args.output is None:
        print(text, end="")
        return
    safe_replace(args.output, text, force=args.force)
    print(f"Wrote {path_text(args.output)}")


def say_left_out(left_out: Sequence[NightmodeError], damaged: Sequence[NightmodeError] = ()) -> None:
    """Print a line on standard error for each file that was left out, and for each that was read in part.

    Of many, the first few and how many more there are: a foreign folder must not push the answer away.
    """
    from nightmode.light.terminal import say_red

    for lines, more in (
        ([f"left out: {error}" for error in left_out], "left out"),
        ([str(error) for error in damaged], "damaged in part"),
    ):
        shown = lines if len(lines) <= MOST_TOLD + 1 else [*lines[:MOST_TOLD], _and_more(lines, more)]
        for line in shown:
            say_red(line)


def _and_more(lines: Sequence[str], more: str) -> str:
    return f"{more}: {len(lines) - MOST_TOLD} files more"


def before_tonight(night: "Night") -> "dict[str, Earlier]":
    """Return what was seen of the night's targets on earlier nights, by the targets' keys."""
    from nightmode.files.places import sessions_folder

    if not any(sessions_folder().glob("*")):  # nothing to read, and nothing to load that reads it
        return {}
    from nightmode.history.earlier import earlier_looks
    from nightmode.history.reading import read_history
    from nightmode.history.tally import looks_by_object

    names = [target.subject.name for target in night.targets]
    return earlier_looks(names, looks_by_object(read_history().sittings), night.date)
