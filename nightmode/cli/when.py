"""`nightmode when`: the months in which one object, or the targets of a list, can be seen."""

import argparse
import datetime as dt
import time
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from nightmode.cli.arguments import Commands, add_observer, add_output
from nightmode.errors import NightmodeError

if TYPE_CHECKING:
    from nightmode.model.observer import Observer
    from nightmode.model.plan import Plan
    from nightmode.model.target import Subject
    from nightmode.night.circumstances import Circumstances

EXAMPLE = """\
examples:
  nightmode when "M 31"           the twelve months that begin with this one
  nightmode when "M 31" --year 2027 -o m31.html
  nightmode when my-list.toml     what each month is for
  nightmode when messier          the same of a list that comes along
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
        help="an object, the file of a list or plan, or the name of a list that comes along",
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
    from nightmode.cli.record import hand_over
    from nightmode.files.observer import load_observer
    from nightmode.light.terminal import red_stdout

    args.name = _one_name(args.name)
    with red_stdout(args.red or load_observer(args.observer).observer.red):
        hand_over(_text(args), args)
    return 0


def _one_name(words: Sequence[str]) -> str:
    """Return words as one name: M 31 without quotes. NightmodeError if each of several is a name itself."""
    from nightmode.catalog.resolve import lookup

    name = " ".join(words)
    if len(words) > 1 and lookup(name) is None and all(lookup(word) for word in words):
        raise NightmodeError("when", f"{len(words)} objects at once", "ask for one, or put them into a list")
    return name


def _text(args: argparse.Namespace) -> str:
    import json

    from nightmode.cli.record import form_of
    from nightmode.files.observer import load_observer
    from nightmode.planning.season import months, season
    from nightmode.report.when import list_json, list_text, when_json, when_text
    from nightmode.report.when_page import when_html
    from nightmode.sky.kernel import open_sky

    observer = load_observer(args.observer)
    plan, path = _plan(args, observer)
    circumstances, subjects = _circumstances(args, observer, plan, path)
    sky = open_sky()
    first, last = _span(args.year, circumstances.date)
    found = season(sky, circumstances, subjects, first, last)
    told = months(sky, circumstances, subjects, found)
    form = form_of(args)
    if form == "html":
        return when_html(plan.title, circumstances, subjects, found, told)
    if form == "json":
        data = when_json(subjects[0], told[0]) if path is None else list_json(plan.title, subjects, told)
        return json.dumps(data, ensure_ascii=False, indent=1) + "\n"
    if path is not None:
        return list_text(plan.title, circumstances, subjects, found, told) + "\n"
    return when_text(circumstances, subjects[0], 0, found, told[0]) + "\n"


def _plan(args: argparse.Namespace, observer: "Observer") -> "tuple[Plan, Path | None]":
    """Return the list and its file, or a plan of the one object and None, with the flags' site and telescope.

    The name of a list that comes along means the list, unless a body of the Solar System is called so.
    """
    from nightmode.files.toml import read_toml
    from nightmode.history.lists import list_file, list_names
    from nightmode.model.plan import Plan
    from nightmode.model.target import Target
    from nightmode.setup.answers import make
    from nightmode.sky.bodies import BODIES

    chosen: dict[str, object] = {"site": observer.site_called(args.site)} if args.site else {}
    if args.telescope:
        tools = tuple(observer.instrument_called(name) for name in args.telescope)
        chosen |= {"telescope": tools, "binoculars": None}
    path = Path(args.name)
    if args.name in set(list_names()) - set(BODIES) and not path.is_file():
        path = list_file(args.name)
    if path.suffix == ".toml" or path.is_file():
        return read_toml(path, Plan).model_copy(update=chosen), path
    target = make(Target, "when", name=args.name)
    return make(Plan, "when", title=target.name, target=(target,), **chosen), None


def _circumstances(
    args: argparse.Namespace, observer: "Observer", plan: "Plan", path: Path | None
) -> "tuple[Circumstances, list[Subject]]":
    from nightmode.catalog.resolve import resolve
    from nightmode.model.target import LunarFeature
    from nightmode.night.loading import find_circumstances, load_elements, resolve_all

    circumstances = find_circumstances(plan, observer, None, time.time(), is_planned=True)
    elements = load_elements(plan, path, observer, args.observer)
    if path is None:
        subjects = [resolve(plan.target[0], elements, in_a_plan=False)]
    else:
        subjects = resolve_all(plan, args.name, elements)
    kept = [subject for subject in subjects if not isinstance(subject, LunarFeature)]
    if not kept:
        raise NightmodeError(
            args.name,
            f"{'is a feature' if path is None else 'holds only features'} of the Moon: "
            f"{'its' if path is None else 'their'} light comes and goes within days, not months",
            "see which have good light on a night with nightmode draft --kinds moon",
        )
    return circumstances, kept


def _span(text: str | None, today: dt.date) -> tuple[dt.date, dt.date]:
    from nightmode.planning.season import year_from
    from nightmode.sky.kernel import FIRST_YEAR, LAST_YEAR

    if text is None:
        return year_from(today)
    if text.isascii() and text.isdecimal() and FIRST_YEAR <= int(text) <= LAST_YEAR:
        return year_from(dt.date(int(text), 1, 1))
    raise NightmodeError("--year", f"{text!r} is not a year", f"write one from {FIRST_YEAR} to {LAST_YEAR}")
