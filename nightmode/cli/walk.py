"""`nightmode walk [PLAN]`, and `nightmode` alone: the full screen."""

import argparse
import contextlib
import gc
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

from nightmode.cli.arguments import Commands, add_plan, decimal
from nightmode.errors import NightmodeError

if TYPE_CHECKING:
    from contextlib import AbstractContextManager

    from nightmode.history.earlier import Earlier
    from nightmode.light.terminal import Terminal
    from nightmode.night.loading import Loaded
    from nightmode.night.table import Night
    from nightmode.session.record import Session

HIGHEST_RATE = 100_000.0
#: So long after the start the record of other nights is read: the first screen is drawn by then.
LOOK_BACK_S = 1.0
HOW_TO_BEGIN = """\
There is no plan to go on with yet. Try a rehearsal: nightmode demo
Your own night: nightmode setup, then nightmode draft -o plan.toml,
then nightmode walk plan.toml"""


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "walk",
        help="the deep-red full screen that walks through a plan",
        description="Walk through a plan in order of setting time, in deep red, and keep the record.",
        epilog="example: nightmode walk plan.toml; without a plan it goes on with the one walked last",
    )
    add_plan(parser, is_needed=False)
    add_screen(parser)
    parser.add_argument(
        "--session", type=Path, metavar="FILE", help="the journal; else one in your data folder"
    )
    parser.set_defaults(run=run)


def add_screen(parser: argparse.ArgumentParser) -> None:
    """Add the flags of the full screen."""
    parser.add_argument("--at", metavar="TIME", help="rehearse: start the clock there (23:15 or ISO 8601)")
    parser.add_argument("--rate", type=decimal, metavar="N", help="rehearse: run the clock N times as fast")
    parser.add_argument("--theme", metavar="NAME", help="a theme's name or file; else the observer's")
    parser.add_argument(
        "--watch", action="store_true", help="look on while another process holds the session"
    )
    parser.add_argument("--voice", action="store_true", help="have the walk spoken; key v does it too")
    parser.add_argument(
        "--stay-red", action="store_true", help="leave the terminal red; undo: nightmode daylight"
    )


def run(args: argparse.Namespace) -> int:
    """Walk the plan. Without a plan go on with the last one; without that, say in red how to begin."""
    from nightmode.light.terminal import say_red

    if args.plan is None and not _takes_last(args):
        say_red(HOW_TO_BEGIN, sys.stdout)
        return 0
    return take(args, args.plan, args.session, rehearsal=args.at is not None or args.rate is not None)


def _takes_last(args: argparse.Namespace) -> bool:
    """Put the last plan and its observer file into args; return whether there was a last plan.

    NightmodeError if that plan is no longer where it was.
    """
    from nightmode.session.last import last_plan

    last = last_plan()
    if last is None:
        return False
    args.plan = Path(last.plan)
    if not args.plan.exists():
        raise NightmodeError(last.plan, "the plan walked last is no longer there", "name it: walk PLAN")
    if args.observer is None and last.observer:
        args.observer = Path(last.observer)
    return True


def take(
    args: argparse.Namespace, plan: Path, session: Path | None, *, rehearsal: bool, afresh: bool = False
) -> int:
    """Take over the terminal before anything heavy is loaded, walk, and always give it back."""
    from nightmode.files.places import log_file
    from nightmode.light.terminal import Terminal

    read_rate(args.rate)  # if it is no rate, say so before the terminal is taken over
    if args.voice:
        from nightmode.voice.engine import engine

        engine()  # if there is no voice, say so before the terminal is taken over
    with Terminal(log_file(), stay_red=args.stay_red) as terminal:
        terminal.write(f"{terminal.red()} opening the night ...")
        from nightmode.cli.added import with_added
        from nightmode.night.loading import check_tonight, load_night
        from nightmode.sky.typed_time import read_date, read_time

        loaded = load_night(plan, args.observer, read_date(args.night), time.time())
        at_s = read_time(args.at, loaded.night.site, loaded.night.date)
        if not rehearsal:
            check_tonight(plan, loaded.night, time.time())
        with _session(args, loaded, session, rehearsal=rehearsal, afresh=afresh) as (kept, words):
            if rehearsal and at_s is None:
                at_s = rehearsal_start(kept, loaded.night.twilights.civil_dusk_s)
            return _on_the_screen(args, terminal, with_added(loaded, kept), kept, words, at_s)


def _on_the_screen(
    args: argparse.Namespace,
    terminal: "Terminal",
    loaded: "Loaded",
    session: "Session",
    words: str,
    at_s: float | None,
) -> int:
    """Show the first page, then load the app and walk.

    words are what to say about the session; the clock of a rehearsal starts at at_s (Unix seconds).
    """
    from nightmode.app.clock import Clock
    from nightmode.app.guard.frame import first_light, show_page
    from nightmode.app.pages.first import first_page
    from nightmode.app.say import first_message
    from nightmode.app.theme import theme_named
    from nightmode.app.walker import Walker
    from nightmode.wording.going_on import clock_change_text

    night, size, start_s = loaded.night, terminal.size(), Clock(at_s).now_s()
    theme, trouble = theme_named(args.theme or night.person.theme)
    changes = clock_change_text(night.site.zone, start_s, max(start_s, night.sun_down_s[1]))
    say = first_message("; ".join(filter(None, (words, _lost(night, session), changes))), trouble)
    page = first_page(night, session, start_s, size, say, first_light(terminal, theme.red))
    show_page(terminal, theme.red, page, size)
    from nightmode.app.app import walk  # Textual is loaded while the first page can already be read
    from nightmode.app.finding import Also

    gc.freeze()  # the night stays in use: only what is made later need be searched for garbage
    gc.enable()
    earlier: dict[str, Earlier] = {}
    _look_back(night, earlier)
    also = Also(loaded, lambda opened: _look_back(opened, earlier))
    walker, clock = Walker(night, session, earlier), Clock(at_s, read_rate(args.rate))
    return walk(walker, clock, theme, terminal, say, also, voice=args.voice)


def _session(
    args: argparse.Namespace, loaded: "Loaded", path: Path | None, *, rehearsal: bool, afresh: bool
) -> "AbstractContextManager[tuple[Session, str]]":
    """Return the session of the night, to be opened, or to be watched where that is asked for."""
    from nightmode.night.loading import new_head
    from nightmode.session.opening import opened, watched

    head = new_head(loaded, rehearsal=rehearsal)
    if args.watch:
        return watched(loaded.path, head, path)
    return opened(loaded.path, head, path, time.time(), observer=args.observer, afresh=afresh)


def _lost(night: "Night", session: "Session") -> str:
    """Return how many targets were ticked that the plan no longer has, or nothing."""
    from nightmode.wording.going_on import lost_text

    return lost_text(len(session.state.ticks.keys() - {chance.key for chance in night.chances}))


def _look_back(night: "Night", found: "dict[str, Earlier]") -> None:
    """Fill in what was seen of the targets on earlier nights: a thread does, a little later."""
    import threading

    def look() -> None:
        from nightmode.cli.record import before_tonight

        with contextlib.suppress(NightmodeError, OSError):
            found.update(before_tonight(night))

    timer = threading.Timer(LOOK_BACK_S, look)
    timer.daemon = True
    timer.start()


def read_rate(rate: float | None) -> float:
    """Return how many times as fast the clock runs. NightmodeError outside 0 to 100,000."""
    if rate is None:
        return 1.0
    if not 0 < rate <= HIGHEST_RATE:
        raise NightmodeError("--rate", f"{rate:g} is not a rate", "write a number above 0, such as 600")
    return rate


def rehearsal_start(session: "Session", dusk_s: float | None) -> float | None:
    """Return when a rehearsal's clock starts, in Unix seconds: where it was left, else at dusk."""
    entries = session.state.live
    return max(entry.at for entry in entries).timestamp() if entries else dusk_s
