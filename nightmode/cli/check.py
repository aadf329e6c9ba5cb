"""`nightmode check PLAN`: what fits on the night, what does not, and why."""

import argparse
import time

from nightmode.cli.arguments import Commands, add_plan


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "check",
        help="what fits on the night, what does not, and why",
        description="What of a plan fits on its night from its site, with which eyepiece and how well; "
        "what does not, why, and which of the next 30 nights would.",
        epilog="example: nightmode check plan.toml --night 2026-12-12",
    )
    add_plan(parser)
    parser.add_argument("--at", metavar="TIME", help="also where each target stands then: 23:15 or ISO 8601")
    parser.add_argument("--json", action="store_true", help="one JSON object, times in UTC")
    parser.add_argument("--red", action="store_true", help="print in red on black")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the check."""
    from nightmode.cli.record import as_json, before_tonight
    from nightmode.light.terminal import red_stdout
    from nightmode.night.loading import load_night
    from nightmode.night.next_fit import next_fits
    from nightmode.report.check import Judged, check_json, judged_rows, misfit_rows
    from nightmode.report.check_table import check_table
    from nightmode.sky.kernel import open_sky
    from nightmode.sky.typed_time import read_date, read_time

    loaded = load_night(args.plan, args.observer, read_date(args.night), time.time(), is_planned=True)
    night = loaded.night
    at_s = read_time(args.at, night.site, night.date)
    verdicts = judged_rows(night, at_s)
    later = next_fits(open_sky(), night, misfit_rows(night, verdicts))
    judged = Judged(night, verdicts, later, at_s, before_tonight(night))
    with red_stdout(args.red or night.person.red):
        if args.json:
            print(as_json(check_json(judged)))
        else:
            print(check_table(judged, loaded.plan.title))
    return 0
