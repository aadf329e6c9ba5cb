"""`nightmode daylight`: give the terminal its own colours back."""

import argparse

from nightmode.cli.arguments import Commands


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "daylight",
        help="give the terminal its own colours back after --stay-red",
        description="Give the terminal its own colours back. They may be bright.",
        epilog="example: nightmode daylight",
    )
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Give the colours back; without a terminal there is nothing to do."""
    from nightmode.light.terminal import daylight

    daylight()
    return 0
