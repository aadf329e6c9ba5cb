"""`nightmode log`: past sessions as pages, tables or data."""

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING

from nightmode.cli.arguments import Commands, add_output

if TYPE_CHECKING:
    from nightmode.history.heights import Heights
    from nightmode.history.sitting import Sitting
    from nightmode.report.log.story import Story

FORMATS = ("text", "markdown", "csv", "json", "html")
_BY_ENDING = {".md": "markdown", ".csv": "csv", ".json": "json", ".html": "html", ".htm": "html"}
#: Curves are drawn for this many nights, the latest ones; each takes some hundredths of a second.
MOST_PICTURES = 100
NOTHING_THAT_FITS = "Nothing noted yet that fits."
NOTHING_YET = "Nothing noted yet: nightmode walk and nightmode enter keep what you see."
EXAMPLE = """\
examples:
  nightmode log                   every night in a line, up to three in full
  nightmode log 2026-12-06        that night as a page
  nightmode log "M 31"            all that was ever noted on it
  nightmode log 2026-09..2027-03 --format html -o season.html
"""


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "log",
        help="what was seen: a night as a page, an object across nights, a season",
        description="Reads the sessions back. Name nights by date (a day, a month, a year, or first..last), "
        "sessions by their file, objects by name; without a word it tells of every night in a line, of up to "
        "three in full.",
        epilog=EXAMPLE,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("words", nargs="*", metavar="SESSION|DATE|NAME", help="what to tell of; else all")
    parser.add_argument("--format", choices=FORMATS, help="else by the ending of -o FILE, else text")
    add_output(parser)
    parser.set_defaults(run=run, endings=(".html", ".md", ".csv", ".json", ".txt"))


def run(args: argparse.Namespace) -> int:
    """Print or write what was asked for, then a line on each file that was left out."""
    from nightmode.cli.record import hand_over, say_left_out
    from nightmode.files.observer import load_observer
    from nightmode.history.asked import chosen, read_words
    from nightmode.history.reading import History, read_history
    from nightmode.light.terminal import red_stdout
    from nightmode.report.log.story import story_of

    asked = read_words(args.words)
    history = History() if asked.files and not asked.spans else read_history()
    story = story_of(chosen(history, asked), asked)
    ending = args.output.suffix.lower() if args.output else ""
    form = args.format or _BY_ENDING.get(ending, "text")
    with red_stdout(args.red or load_observer(None).observer.red):
        hand_over(_text(story, form, args.words), args)
        say_left_out(history.left_out, history.damaged)
    return 0


def _text(story: "Story", form: str, words: Sequence[str]) -> str:
    from nightmode.cli.record import as_json
    from nightmode.report.log.data import log_csv, log_json
    from nightmode.report.log.html import log_html
    from nightmode.report.log.markdown import log_markdown
    from nightmode.report.log.text import log_text

    if form == "json":
        return as_json(log_json(story)) + "\n"
    if form == "csv":
        return log_csv(story)
    if form == "html":
        return log_html(story, _heights(story))
    if not story.sittings and not story.sections:
        return f"{NOTHING_THAT_FITS if words else NOTHING_YET}\n"
    return (log_markdown(story) if form == "markdown" else log_text(story)) + "\n"


def _heights(story: "Story") -> "dict[Sitting, Heights | None]":
    """Return how high the targets stood, for the nights that get curves; None where that is not known."""
    from nightmode.history.heights import heights_of
    from nightmode.sky.kernel import open_sky

    if story.sections:
        return {}
    sky = open_sky()
    return {sitting: heights_of(sky, sitting) for sitting in story.sittings[-MOST_PICTURES:]}
