"""`nightmode when`: the months in which one object, or the targets of a list, can be seen."""

import argparse
import time

from nightmode.cli.arguments import Commands, add_observer, add_output

EXAMPLE = """\
examples:
  nightmode when "M 31"           the twelve months that begin with this one
  nightmode when "M 31" --year 2027 -o m31.html
  nightmode when my-list.toml     what each month is for
  nightmode when messier          the same for a bundled list
"""


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "when",
        help="the year of one object or of a list: how high, how long, without the Moon",
        description="Month by month how long an object can be observed from the site, with and without the "
        "Moon, how high it gets and when, and how this telescope shows it; the best weeks.",
        epilog=EXAMPLE,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument(
        "name",
        metavar="NAME|LIST",
        nargs="+",
        help="an object, the file of a list or plan, or the name of a bundled list",
    )
    parser.add_argument("--year", metavar="YEAR", help="a calendar year; else the twelve months from now on")
    parser.add_argument("--site", metavar="NAME", help="a site of observer.toml; else the usual one")
    parser.add_argument(
        "--telescope",
        metavar="NAME",
        action="append",
        default=[],
        help="one of observer.toml, else the usual one; may be repeated for several",
    )
    add_observer(parser)
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="data instead of a table")
    form.add_argument("--html", action="store_true", help="a page with pictures")
    add_output(parser)
    parser.set_defaults(run=run, endings=(".html", ".json", ".txt"))


def run(args: argparse.Namespace) -> int:
    """Work out the months and print or write them."""
    from nightmode.cli.patience import patience
    from nightmode.cli.record import hand_over
    from nightmode.files.observer import load_observer
    from nightmode.light.terminal import red_stdout

    with red_stdout(args.red or load_observer(args.observer).observer.red):
        with patience("going through the year"):
            text = _text(args)
        hand_over(text, args)
    return 0


def _text(args: argparse.Namespace) -> str:
    from nightmode.cli.record import as_json, form_of
    from nightmode.files.observer import load_observer
    from nightmode.planning.inquiry import inquiry, nights_of_year
    from nightmode.planning.season import best_months, judged_months, months, season
    from nightmode.report.when import Year, list_json, list_text, when_json, when_text
    from nightmode.report.when_page import when_html
    from nightmode.sky.kernel import open_sky

    observer, now_s = load_observer(args.observer), time.time()
    asked = inquiry(args.name, observer, args.observer, now_s, site=args.site, telescopes=args.telescope)
    sky, circumstances, subjects = open_sky(), asked.circumstances, asked.subjects
    first, last = nights_of_year(args.year, circumstances.date)
    found = season(sky, circumstances, subjects, first, last)
    year = Year(circumstances, subjects, found)
    form = form_of(args)
    if asked.is_list and form not in ("html", "json"):
        figures = months(found)
        best = best_months(sky, circumstances, subjects, found, figures)
        return list_text(asked.title, year, figures, best) + "\n"
    told = judged_months(sky, circumstances, subjects, found)
    if form == "html":
        return when_html(asked.title, year, told)
    if form == "json":
        data = list_json(asked.title, subjects, told) if asked.is_list else when_json(subjects[0], told[0])
        return as_json(data) + "\n"
    return when_text(year, 0, told[0]) + "\n"
