"""`nightmode enter PLAN`: ticks from a printed sheet, typed into an ordinary session."""

import argparse
import time
from pathlib import Path

from nightmode.cli.arguments import Commands, add_plan
from nightmode.errors import NightmodeError

EXAMPLE = """\
example:
  nightmode enter plan.toml --night 2026-12-13
A line for each target: y seen, s suspected, x not seen, n only a note; then the time, then the note:
  y 19:40 small and round, brighter middle
Without a time, that of the line before. Enter: nothing pencilled. u: undo. q: stop here, go on later.
"""


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "enter",
        help="type the ticks of a printed sheet into a session",
        description="Asks target by target, in the order of the sheet, and keeps each answer at once.",
        epilog=EXAMPLE,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    add_plan(parser)
    parser.add_argument(
        "--session", type=Path, metavar="FILE", help="the journal; else one in your data folder"
    )
    parser.add_argument("--red", action="store_true", help="print in red on black")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Ask, write the entries, and say where the session is."""
    from nightmode.cli.added import with_added
    from nightmode.files.text import path_text
    from nightmode.history.entering import Entering
    from nightmode.light.asking import asker
    from nightmode.light.terminal import red_stdout
    from nightmode.night.loading import load_night, new_head
    from nightmode.session.opening import opened
    from nightmode.sky.typed_time import read_date

    now_s = time.time()
    loaded = load_night(args.plan, args.observer, read_date(args.night), now_s)
    if now_s < loaded.night.time_s[0]:
        what = f"the night of {loaded.night.date} has not begun yet"
        raise NightmodeError("night", what, "name one that is over with --night")
    red, head = args.red or loaded.night.person.red, new_head(loaded, rehearsal=False)
    opening = opened(loaded.path, head, args.session, now_s, drops_empty=True)
    with red_stdout(red), opening as (session, words):
        if words:
            print(words)
        count = Entering(with_added(loaded, session).night, session, asker(red), print, now_s).run()
        if session.is_empty:
            print("Nothing was entered.")
            return 0
        told = f"Wrote {count} {'entry' if count == 1 else 'entries'} to"
        print(f"{told}\n  {path_text(session.path, longest=None)}")
    return 0
