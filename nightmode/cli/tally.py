"""`nightmode tally [LIST]`: how much of a list has been seen, and what the rest needs."""

import argparse
import time
from typing import TYPE_CHECKING

from nightmode.cli.arguments import add_observer, add_output
from nightmode.errors import NightmodeError

if TYPE_CHECKING:
    from nightmode.history.reading import History
    from nightmode.model.observer import Observer

EXAMPLE = """\
examples:
  nightmode tally messier                  a bundled list
  nightmode tally plan.toml -o page.html
  nightmode tally                          every bundled list, in short
"""


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = commands.add_parser(
        "tally",
        help="how far a list has come, and what the rest needs",
        description="What of a list or plan was seen, suspected, not seen or is left, over all sessions; in "
        "which months the rest shows from your site through your telescope. Rehearsals are not counted.",
        epilog=EXAMPLE,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("list", nargs="?", metavar="LIST", help="a plan's file, or a list's name")
    add_observer(parser)
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="one JSON object")
    form.add_argument("--html", action="store_true", help="a page with a picture of progress")
    add_output(parser)
    parser.set_defaults(run=run, endings=(".html", ".json", ".txt"))


def run(args: argparse.Namespace) -> int:
    """Print or write the tally, then a line on each file that was left out."""
    from nightmode.cli.patience import patience
    from nightmode.cli.record import hand_over, say_left_out
    from nightmode.files.observer import load_observer
    from nightmode.history.reading import read_history
    from nightmode.light.terminal import red_stdout

    observer, history = load_observer(args.observer), read_history()
    with red_stdout(args.red or observer.observer.red):
        with patience("working out what the rest needs"):
            text = _one(args, observer, history) if args.list else _overview(args, history)
        hand_over(text, args)
        say_left_out(history.left_out, history.damaged)
    return 0


def _one(args: argparse.Namespace, observer: "Observer", history: "History") -> str:
    from nightmode.cli.record import as_json, form_of
    from nightmode.report.tally.account import account_of
    from nightmode.report.tally.data import tally_json
    from nightmode.report.tally.html import tally_html
    from nightmode.report.tally.text import tally_text

    account = account_of(args.list, observer, args.observer, history.sittings, time.time())
    first_month = time.localtime().tm_mon
    form = form_of(args)
    if form == "json":
        return as_json(tally_json(account)) + "\n"
    return tally_html(account, first_month) if form == "html" else tally_text(account, first_month) + "\n"


def _overview(args: argparse.Namespace, history: "History") -> str:
    from nightmode.cli.record import as_json, form_of
    from nightmode.report.tally.account import tallies_of
    from nightmode.report.tally.data import overview_json
    from nightmode.report.tally.text import overview_text

    form = form_of(args)
    if form == "html":
        raise NightmodeError("--html", "shows one list", "name it: nightmode tally messier --html")
    tallies = tallies_of(history.sittings)
    if form == "json":
        return as_json(overview_json(list(tallies.values()))) + "\n"
    return overview_text(tallies) + "\n"
