"""`nightmode demo`: a rehearsal of a bundled plan on its own night, with its own observer."""

import argparse

from nightmode.cli.arguments import Commands
from nightmode.cli.walk import add_screen, take
from nightmode.errors import NightmodeError


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "demo",
        help="rehearse a bundled plan on its own night",
        description="Rehearse a bundled plan on its own night; its journal is kept apart and never counted.",
        epilog="example: nightmode demo balcony --rate 600",
    )
    parser.add_argument(
        "name",
        nargs="?",
        default="hillside",
        help="hillside (the default), balcony, or orchard with two instruments",
    )
    parser.add_argument("--afresh", action="store_true", help="begin again instead of going on")
    add_screen(parser)
    parser.set_defaults(run=run, observer=None, night=None)


def run(args: argparse.Namespace) -> int:
    """Walk the bundled plan."""
    from nightmode.files.places import prepare, sessions_folder, shipped

    folder = shipped("plans")
    plan = folder / f"{args.name}.toml"
    names = sorted(path.stem for path in folder.glob("*.toml"))
    if args.name not in names:
        raise NightmodeError("demo", f"there is no plan {args.name!r}", f"write {' or '.join(names)}")
    journal = prepare(sessions_folder(rehearsal=True) / f"demo-{args.name}.toml")
    return take(args, plan, journal, rehearsal=True, afresh=args.afresh)
