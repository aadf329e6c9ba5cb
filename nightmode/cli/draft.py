"""`nightmode draft`: a plan chosen from everything known, for this site, telescope and night."""

import argparse
import time
from pathlib import Path
from typing import TYPE_CHECKING

from nightmode.cli.arguments import Commands, add_observer, plan_path
from nightmode.cli.patience import patience
from nightmode.errors import NightmodeError
from nightmode.planning.usual import KIND_WORDS, MOST, USUAL_COUNT
from nightmode.words import Word

if TYPE_CHECKING:
    from nightmode.catalog.elements import ElementsFile
    from nightmode.history.sitting import Sitting
    from nightmode.model.observer import Observer
    from nightmode.model.plan import Plan
    from nightmode.night.circumstances import Circumstances
    from nightmode.planning.draft import Draft
    from nightmode.planning.request import Wishes
    from nightmode.planning.sources import Listed

EXAMPLE = """\
example:
  nightmode draft --night 2026-12-13 --hours 18:30-23:00 --count 18 -o plan.toml
The plan is plain text, carries site and telescope with it, and is meant to be edited. Then:
  nightmode check plan.toml, nightmode sheet plan.toml, nightmode walk plan.toml
"""

FLAGS = (
    ("--night", "DATE", "the evening's date, YYYY-MM-DD; else the coming one"),
    ("--site", "NAME", "a site of observer.toml; else the usual one"),
    ("--count", "N", f"how many targets, 1 to {MOST}; else {USUAL_COUNT}"),
    ("--hours", "FROM-TO", "like 21:00-01:00; else from dusk on, as long as it takes"),
    ("--kinds", "KINDS", f"some of {', '.join(KIND_WORDS)}, with commas"),
    ("--brighter", "MAG", "only what is catalogued brighter than this"),
    ("--larger", "ARCMIN", "only what is catalogued larger than this, in arcminutes"),
    ("--not-below", "DEG", "nothing lower than this at its turn"),
    ("--sky", "MAG", "the zenith in mag/arcsec2 instead of the site's figure"),
    ("--from-list", "FILE", "choose only from the targets of this list (messier) or plan"),
    ("--left", "LIST", "choose only from what is left of this list over all sessions, scarce ones first"),
)
REPEATED = (
    ("--telescope", "an instrument of observer.toml, else the usual one; may be repeated for several"),
    ("--seen", "a list or session whose targets are left out; may be repeated"),
    ("--why", "a name: say why it was left out; may be repeated"),
)


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "draft",
        help="make a plan: what is worth it on a night, for this site and telescope",
        description="Chooses targets that show well, spread over the evening so that each can be reached.",
        epilog=EXAMPLE,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    add_observer(parser)
    for flag, metavar, help_text in FLAGS:
        parser.add_argument(flag, metavar=metavar, help=help_text)
    parser.add_argument("--in", dest="within", metavar="CON", help="only there, like Vir,Com")
    parser.add_argument(
        "--near",
        nargs=2,
        metavar=("NAME", "DEG"),
        help='only so near an object, like "M 87" 5',
    )
    for flag, help_text in REPEATED:
        parser.add_argument(
            flag, metavar="FILE" if flag == "--seen" else "NAME", action="append", default=[], help=help_text
        )
    parser.add_argument(
        "--difficulty",
        choices=[word.value for word in Word if word.shows],
        default=Word.FAIR.value,
        help="hardest welcome; else fair",
    )
    parser.add_argument("-o", "--output", metavar="FILE", type=Path, help="write the plan; else print it")
    parser.add_argument("--force", action="store_true", help="replace the file if it is there")
    parser.add_argument("--red", action="store_true", help="print in red on black")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Choose, write or print the plan, answer --why."""
    from nightmode.files.observer import load_observer
    from nightmode.light.terminal import red_stdout

    observer = load_observer(args.observer)
    with red_stdout(args.red or observer.observer.red):
        _draft(args, observer)
    return 0


def _draft(args: argparse.Namespace, observer: "Observer") -> None:
    from nightmode.planning.drafted import drafted_text, subjects_called, why

    if args.left and args.from_list:
        raise NightmodeError("--left", "and --from-list both name a list", "keep one of them")
    source = _source(args)
    elements, own_elements = _elements(args, observer, source)
    asked = subjects_called(args.why, elements)
    with patience("judging"):
        circumstances, wishes, listed, drafted = _chosen(args, observer, source, elements)
    answers = [why(drafted, circumstances, *of_one) for of_one in zip(args.why, asked, strict=True)]
    if not drafted.picks and not answers:
        instead = "ask for other hours or kinds, a harder --difficulty, or see --why NAME"
        raise NightmodeError("draft", "nothing fits these hours and wishes", instead)
    if drafted.picks and (args.output or not answers):
        text = drafted_text(drafted, circumstances, wishes, listed, own_elements)
        _hand_over(args, drafted, wishes, text)
    for answer in answers:
        print(answer)


def _source(args: argparse.Namespace) -> "tuple[Path, Plan] | None":
    """Return the list to draft from, with its file, None for the whole catalogue."""
    if not (args.from_list or args.left):
        return None
    from nightmode.files.toml import read_toml
    from nightmode.history.lists import list_file
    from nightmode.model.plan import Plan

    path = plan_path(args.from_list) if args.from_list else list_file(args.left)
    return path, read_toml(path, Plan)


def _elements(
    args: argparse.Namespace, observer: "Observer", source: "tuple[Path, Plan] | None"
) -> "tuple[ElementsFile | None, str | None]":
    """Return the file of comets and minor planets, and its name for the plan if only the list names it."""
    from nightmode.night.loading import elements_file, load_elements

    path, listed = source or (None, None)
    asked = listed, path, observer, args.observer
    own = elements_file(*asked) if listed and listed.elements else None
    return load_elements(*asked), str(own.absolute()) if own else None


def _chosen(
    args: argparse.Namespace,
    observer: "Observer",
    source: "tuple[Path, Plan] | None",
    elements: "ElementsFile | None",
) -> "tuple[Circumstances, Wishes, Listed, Draft]":
    """Return the circumstances, the wishes, the list if there is one, and the draft."""
    from nightmode.planning.circumstances import kept_above
    from nightmode.planning.draft import draft
    from nightmode.planning.flags import DraftFlags, read_wishes
    from nightmode.planning.query import read_query
    from nightmode.planning.sources import everything, from_list
    from nightmode.sky.kernel import open_sky
    from nightmode.sky.vantage import stand

    sky = open_sky()
    query = read_query(args.within, args.brighter, args.larger, args.near, args.not_below)
    circumstances = kept_above(_circumstances(args, observer), query.not_below_deg)
    left = None
    if args.left and source:
        from nightmode.planning.left import left_of

        left = left_of(sky, circumstances, args.left, source[1], _sittings(), elements)
    seen = tuple(Path(path) for path in args.seen)
    asked = DraftFlags(args.count, args.hours, args.kinds, args.difficulty, seen, query, left)
    wishes = read_wishes(sky, circumstances, asked, since_s=time.time() if args.night is None else None)
    vantage = stand(sky, circumstances.site, wishes.instants_s)
    if source is None:
        candidates = everything(vantage, wishes.kinds, elements)
    else:
        candidates = from_list(vantage, *source, elements)
    return circumstances, wishes, candidates.listed, draft(sky, circumstances, candidates, wishes)


def _circumstances(args: argparse.Namespace, observer: "Observer") -> "Circumstances":
    from nightmode.planning.circumstances import draft_circumstances
    from nightmode.sky.typed_time import read_date

    date, now_s = read_date(args.night), time.time()
    return draft_circumstances(observer, date, now_s, site=args.site, telescopes=args.telescope, sky=args.sky)


def _sittings() -> "tuple[Sitting, ...]":
    """Return every session of the user; print a line on each file that was left out."""
    from nightmode.cli.record import say_left_out
    from nightmode.history.reading import read_history

    history = read_history()
    say_left_out(history.left_out, history.damaged)
    return history.sittings


def _hand_over(args: argparse.Namespace, drafted: "Draft", wishes: "Wishes", text: str) -> None:
    """Write the plan and say where, and from how many targets; or print it."""
    from nightmode.files.replace import safe_replace
    from nightmode.files.text import path_text
    from nightmode.report.drafted import drafted_account

    if args.output is None:
        print(text, end="")
        return
    safe_replace(args.output, text, force=args.force)
    print(drafted_account(drafted, wishes, path_text(args.output)))
