"""`nightmode terminal`: by day, how dark and red this terminal can be."""

import argparse
import locale
import os
import sys

from nightmode.cli.arguments import Commands
from nightmode.errors import NightmodeError


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "terminal",
        help="by day: what this terminal promises for the night",
        description="Try by day what this terminal promises: reds, colours given back, mouse, signs. "
        "Its colours change for a blink.",
        epilog="example: nightmode terminal",
    )
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Test the terminal and print what was found."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise NightmodeError(
            "terminal", "there is none to try", "run it in the window that you will use at night"
        )
    from nightmode.light.promises import ask_promises
    from nightmode.report.terminal_page import terminal_page

    size = os.get_terminal_size(sys.stdout.fileno())
    is_utf8 = locale.getpreferredencoding(False).lower().replace("-", "") == "utf8"
    found = ask_promises(sys.stdin.fileno())
    print(terminal_page(found, os.environ.get("TERM", ""), (size.columns, size.lines), is_utf8))
    return 0
