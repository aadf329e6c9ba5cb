"""`nightmode nights`: the coming weeks at the site, and which nights to pick."""

import argparse
import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING

from nightmode.cli.arguments import Commands, add_observer
from nightmode.errors import NightmodeError

if TYPE_CHECKING:
    from nightmode.model.site import Site
    from nightmode.planning.ahead import NightAhead

EXAMPLE = """\
example:
  nightmode nights --from 2026-12-01 --days 40 --ics dark-nights.ics
"""
LONGEST_DAYS = 400
PICKS = ("best", "deep-sky", "bright", "moon", "all")


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "nights",
        help="the coming weeks: dark hours, Moon, which to pick",
        description="For each coming night: dark hours, dark hours without Moon, and what it is good for.",
        epilog=EXAMPLE,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument(
        "--from", dest="first", metavar="DATE", help="first evening, like 2026-12-01; else the coming one"
    )
    parser.add_argument(
        "--days", metavar="N", default="40", help=f"how many nights, 1 to {LONGEST_DAYS}; else 40"
    )
    parser.add_argument("--site", metavar="NAME", help="a site of observer.toml; else the usual one")
    add_observer(parser)
    parser.add_argument("--json", action="store_true", help="print data instead of a table")
    parser.add_argument("--ics", metavar="FILE", type=Path, help="write nights as an iCalendar file as well")
    parser.add_argument("--pick", choices=PICKS, help="which nights go into the calendar; else the best run")
    parser.add_argument("--force", action="store_true", help="replace the calendar file if it is there")
    parser.add_argument("--red", action="store_true", help="print in red on black")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Work out the nights, print them, and write the calendar file if asked to."""
    from nightmode.files.observer import load_observer
    from nightmode.light.terminal import red_stdout
    from nightmode.model.chosen import site_of
    from nightmode.planning.ahead import nights_ahead, picked
    from nightmode.report.nights import nights_json, nights_text
    from nightmode.sky.kernel import open_sky
    from nightmode.sky.typed_time import read_date
    from nightmode.sky.window import coming_night

    if args.pick and not args.ics:
        raise NightmodeError("--pick", "chooses nights for a calendar, and none is written", "add --ics FILE")
    days, first, now = _days(args.days), read_date(args.first, "--from"), dt.datetime.now(dt.UTC)
    observer, sky = load_observer(args.observer), open_sky()
    site = site_of(None, observer, observer.site_called(args.site) if args.site else None)
    if site is None:
        raise NightmodeError("site", "is not known yet", "run nightmode setup first")
    start, hours = first or coming_night(sky, site, now.timestamp()), observer.observer.hours
    nights = nights_ahead(sky, site, start, days, hours)
    with red_stdout(args.red or observer.observer.red):
        if args.json:
            import json

            print(json.dumps(nights_json(nights), indent=2))
        else:
            print(nights_text(nights, site, hours))
        if args.ics:
            pick = args.pick or PICKS[0]
            wrote = _write_calendar(args, picked(nights, pick), site, now, by_moon=pick == "moon")
            if not args.json:
                print(wrote)
    return 0


def _write_calendar(
    args: argparse.Namespace, nights: "list[NightAhead]", site: "Site", now: dt.datetime, by_moon: bool
) -> str:
    from nightmode.files.replace import safe_replace
    from nightmode.files.text import path_text
    from nightmode.report.calendar import calendar

    if not nights:
        raise NightmodeError("--ics", "no night fits --pick, so no calendar was written", "try --pick all")
    safe_replace(args.ics, calendar(nights, site, now, by_moon), force=args.force)
    return f"Wrote {len(nights)} night{'s' * (len(nights) > 1)} to {path_text(args.ics)}"


def _days(text: str) -> int:
    if text.isascii() and text.isdecimal() and 1 <= int(text) <= LONGEST_DAYS:
        return int(text)
    raise NightmodeError("--days", f"{text!r} is not 1 to {LONGEST_DAYS}", "write a whole number like 40")
