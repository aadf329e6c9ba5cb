"""`nightmode sheet PLAN`: the night on paper, with boxes to tick."""

import argparse
import time
from pathlib import Path

from nightmode.cli.arguments import Commands, add_plan

EXAMPLE = """\
example:
  nightmode sheet plan.toml -o sheet.html
Print the page from a browser, A4 or Letter; nightmode enter plan.toml types the ticks in afterwards.
"""


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "sheet",
        help="a printable page with boxes to tick, for those who take paper",
        description="The plan's night on paper: times, heights by the hour, eyepieces, boxes and lines.",
        epilog=EXAMPLE,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    add_plan(parser)
    parser.add_argument(
        "-o",
        "--output",
        metavar="FILE",
        type=Path,
        help="write a page (.html) or text (.txt); else print text",
    )
    parser.add_argument(
        "--charts", action="store_true", help="where each target is, in picture and words, for its best hour"
    )
    parser.add_argument("--force", action="store_true", help="replace the file if it is there")
    parser.add_argument("--red", action="store_true", help="print in red on black")
    parser.set_defaults(run=run, endings=(".html", ".txt"))


def run(args: argparse.Namespace) -> int:
    """Write the sheet, or print it as text."""
    from nightmode.files.replace import safe_replace
    from nightmode.files.text import path_text
    from nightmode.light.terminal import red_stdout
    from nightmode.night.loading import load_night
    from nightmode.report.sheet import sheet_html, sheet_text
    from nightmode.report.sheet_rows import sheet_of
    from nightmode.sky.typed_time import read_date

    loaded = load_night(args.plan, args.observer, read_date(args.night), time.time(), is_planned=True)
    sheet = sheet_of(loaded.night, loaded.plan.title, loaded.plan.note, args.charts)
    with red_stdout(args.red or loaded.night.person.red):
        if args.output is None:
            print(sheet_text(sheet))
            return 0
        as_text = args.output.suffix.lower() == ".txt"
        text = sheet_text(sheet) + "\n" if as_text else sheet_html(sheet)
        safe_replace(args.output, text, force=args.force)
        print(f"Wrote {len(sheet.rows)} targets to {path_text(args.output)}")
    return 0
