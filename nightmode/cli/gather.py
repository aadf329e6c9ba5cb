"""`nightmode gather FOLDER...`: takes in sessions from another machine or a memory stick."""

import argparse
from pathlib import Path

from nightmode.cli.arguments import Commands

EXAMPLE = """\
example:
  nightmode gather /media/stick     every session there and below, each once
Nothing is ever overwritten: of two that differ both are kept, and it is told.
"""


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "gather",
        help="take in sessions from another machine or a stick",
        description="Copies the sessions of folders, or single ones, among your own: each once, nothing "
        "overwritten. Rehearsals stay where they are.",
        epilog=EXAMPLE,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument(
        "sources", nargs="+", type=Path, metavar="FOLDER", help="a folder, or a session's file"
    )
    parser.add_argument("--red", action="store_true", help="print in red on black")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Take the sessions in, and say what happened to each."""
    from nightmode.cli.patience import patience
    from nightmode.cli.record import say_left_out
    from nightmode.files.observer import load_observer
    from nightmode.files.places import sessions_folder
    from nightmode.history.gathering import gather
    from nightmode.light.terminal import red_stdout
    from nightmode.report.gathered import gathered_text

    with red_stdout(args.red or load_observer(None).observer.red):
        with patience("looking for sessions"):
            found, left_out = gather(args.sources, sessions_folder())
        print(gathered_text(found))
        say_left_out(left_out)
    return 0
