"""`nightmode setup`: the few questions that make observer.toml, by prompt or by flags."""

import argparse
import os
from collections.abc import Callable, Sequence
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING, TypeVar

from nightmode.cli.arguments import Commands
from nightmode.errors import NightmodeError
from nightmode.setup.words import WORDS, flag_of

if TYPE_CHECKING:
    from nightmode.model.kit import Instrument
    from nightmode.model.observer import Observer
    from nightmode.model.site import Site
    from nightmode.setup.questions import Question

#: What an observer may have several of, one of them the usual one.
SiteOrInstrument = TypeVar("SiteOrInstrument", "Site", "Instrument")

EXAMPLE = """\
example:
  nightmode setup --site Garden --latitude 48.21 --longitude 16.37 --timezone Europe/Vienna \\
      --dark 20.8 --telescope "200 mm reflector" --aperture 200 --focal-length 1200 \\
      --obstruction 50 --barrel 2 --eyepieces 30/68/2in,14/70,9/60
Without flags it asks; with flags it asks nothing. Run again, it keeps what is there.
"""


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "setup",
        help="the few questions that make observer.toml",
        description="Asks where, how dark and with what you observe, and writes observer.toml.",
        epilog=EXAMPLE,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument(
        "--observer", metavar="FILE", type=Path, help="write this file instead of the usual one"
    )
    for key, (_, hint, example) in WORDS.items():
        told = f"{hint.replace('%', '%%')}; e.g. {example}"
        parser.add_argument(flag_of(key), dest=key, metavar="TEXT", help=told)
    parser.add_argument("--red", action="store_true", help="print in red on black")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Ask the questions or take the flags, check the answers, write observer.toml, and say where it is."""
    from nightmode.files.places import observer_file
    from nightmode.files.replace import keep_copy, make_folder, safe_replace
    from nightmode.files.text import path_text
    from nightmode.files.toml import read_text, read_toml
    from nightmode.light.asking import asker
    from nightmode.light.terminal import red_stdout
    from nightmode.model.observer import Observer
    from nightmode.setup.changes import changed_text
    from nightmode.setup.observer_file import observer_text
    from nightmode.setup.observer_from import observer_from
    from nightmode.setup.questions import questions

    path = args.observer or observer_file()
    existing = read_toml(path, Observer) if path.exists() else None
    asked = questions(local_zone())
    given = {question.key: text for question in asked if (text := getattr(args, question.key)) is not None}
    red = args.red or (existing is not None and existing.observer.red)
    with red_stdout(red):
        answered = filled(existing, given, asked) if given else interview(existing, asked, path, asker(red))
    observer = observer_from(existing or _nobody(), answered, asked)
    changed = changed_text(read_text(path), existing, observer) if existing is not None else None
    kept = keep_copy(path) if existing is not None and changed is None else None
    if args.observer is None:
        make_folder(path.parent)
    safe_replace(path, changed or observer_text(observer), force=True, private=True)
    with red_stdout(red):
        print(summary(observer, path_text(path), path_text(kept) if kept else ""))
    return 0


def _nobody() -> "Observer":
    from nightmode.model.observer import Observer

    return Observer()


def filled(
    existing: "Observer | None", given: dict[str, str], asked: "tuple[Question, ...]"
) -> dict[str, str]:
    """Return an answer for every question: the flag, else what is in the file, else the default.

    NightmodeError names the flag that is missing where there is none of these.
    """
    for question in asked:
        if question.key in given:
            question.read(given[question.key], question.flag)
    for question in asked:
        if question.key in given or not question.is_asked(given):
            continue
        offered = question.default(existing or _nobody(), given)
        if offered is None:
            raise NightmodeError(
                "setup", f"{question.ask.lower()} is not known yet", f"add {question.flag} {question.example}"
            )
        given = given | {question.key: offered}
    return given


#: The last questions, which take the answer offered where the input ends early.
LATEST = 2


def interview(
    existing: "Observer | None",
    asked: "tuple[Question, ...]",
    path: Path,
    ask: Callable[[str], str] = input,
    say: Callable[[str], None] = print,
) -> dict[str, str]:
    """Ask every question, offering the present answer; ask again where an answer does not fit.

    Where the input ends before the last questions, they take the answer offered: so a file of answers made
    for an earlier version still works.
    """
    from nightmode.files.text import path_text

    say(
        f"{'Changing' if existing else 'Making'} {path_text(path)}\n"
        "Enter takes what stands in brackets; Ctrl+C leaves everything as it was."
    )
    given: dict[str, str] = {}
    for question in asked:
        if not question.is_asked(given):
            continue
        offered = question.default(existing or _nobody(), given)
        try:
            given[question.key] = _answer(
                question, offered, _rows_now(existing, question.key), given, ask, say
            )
        except EOFError:
            if question not in asked[-LATEST:] or offered is None:
                raise NightmodeError(
                    "setup", "the answers ended early and nothing was written", "run it again"
                ) from None
            given[question.key] = offered
    return given


def _answer(
    question: "Question",
    offered: str | None,
    now: str,
    given: dict[str, str],
    ask: Callable[[str], str],
    say: Callable[[str], None],
) -> str:
    bracket = f" [{offered or now or 'none'}]" if offered is not None else ""
    while True:
        text = ask(f"{question.ask} ({question.hint}){bracket}: ").strip()
        if not text and offered is None:
            say(f"  needed, for example {question.example}")
            continue
        try:
            question.checked(text or offered or "", question.ask, given)
        except NightmodeError as problem:
            say(fill(str(problem), 79, initial_indent="  ", subsequent_indent="  "))
            continue
        return text or offered or ""


#: The answers that are lists, and the table of observer.toml that each one fills.
_LISTS = {"binoculars": "binoculars", "eyepieces": "eyepiece", "barlows": "barlow", "filters": "filter"}


def _rows_now(existing: "Observer | None", key: str) -> str:
    """Return what is in a list now, so that the observer sees what to add to."""
    table = _LISTS.get(key)
    return ", ".join(row.name for row in getattr(existing, table)) if existing and table else ""


def summary(observer: "Observer", path: str, kept: str) -> str:
    """Return what was written and where, what looks odd, and what to do next."""
    from nightmode.eyepiece import combinations, misfits
    from nightmode.model.kit import Kit
    from nightmode.night.circumstances import eyepieces_of
    from nightmode.wording.kit import instrument_text, misfit_text

    site = _usual(observer.site, observer.observer.site)
    instruments: tuple[Instrument, ...] = (*observer.telescope, *observer.binoculars)
    instrument = _usual(instruments, observer.observer.telescope)
    parts = ((observer.eyepiece, "eyepiece"), (observer.barlow, "Barlow"), (observer.filter, "filter"))
    lines = [
        f"Wrote {path}" + (f" (the old one is {kept})" if kept else ""),
        f"  {site.name}: {site.latitude_deg:+.3f}, {site.longitude_deg:+.3f}, {site.timezone}",
        *(
            f"  {instrument_text(one)}" + ("; the usual one" if one is instrument and instruments[1:] else "")
            for one in instruments
        ),
        f"  {', '.join(_count(len(rows), noun) for rows, noun in parts if rows or noun != 'Barlow')}",
    ]
    if odd := zone_is_odd(site.timezone, site.longitude_deg):
        lines.append(f"  {odd}")
    kit = Kit(telescope=instrument, eyepieces=eyepieces_of(observer.eyepiece), barlows=observer.barlow)
    lines += [
        f"  {misfit_text(misfit)}; a wider one is told by --barrel 2"
        for misfit in misfits(kit)
        if misfit.into is None
    ]
    if not combinations(kit):
        lines.append("  No eyepieces yet: nightmode setup --eyepieces 25/50,10/50")
    return "\n".join([*lines, "Next: nightmode nights"])


def _usual(known: "Sequence[SiteOrInstrument]", name: str | None) -> "SiteOrInstrument":
    return next(item for item in known if item.name == name)


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" + ("" if number == 1 else "s")


def zone_is_odd(timezone: str, longitude_deg: float) -> str:
    """Return a remark where the zone does not fit the longitude, as when its sign is wrong; else ""."""
    import datetime as dt
    from zoneinfo import ZoneInfo

    moment = dt.datetime(2027, 1, 1, tzinfo=ZoneInfo(timezone))
    offset_h = (moment.utcoffset() or dt.timedelta()) / dt.timedelta(hours=1)
    apart = abs((offset_h - longitude_deg / 15 + 12) % 24 - 12)
    if apart <= 3.5:
        return ""
    return f"{timezone} is {apart:.0f} h off the Sun there: is longitude east positive, and the zone right?"


def local_zone() -> str:
    """Return the name of this machine's time zone, or UTC if it cannot be found out."""
    from nightmode.model.site import zone_of

    link = os.path.realpath("/etc/localtime")
    for name in (os.environ.get("TZ", ""), link.partition("zoneinfo/")[2]):
        if name and zone_of(name) is not None:
            return name
    return "UTC"
