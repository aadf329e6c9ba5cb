"""`nightmode setup`: the few questions that make observer.toml, by prompt or by flags."""

import argparse
from pathlib import Path

from nightmode.cli.arguments import Commands
from nightmode.setup.words import WORDS, flag_of

EXAMPLE = """\
example:
  nightmode setup --site Garden --latitude 48.21 --longitude 16.37 \\
      --timezone Europe/Vienna --dark 20.8 --telescope "200 mm reflector" \\
      --aperture 200 --focal-length 1200 --obstruction 50 --barrel 2 \\
      --eyepieces 30/68/2in,14/70,9/60
Without flags it asks; with flags it asks nothing. Run again, it keeps what is there.
"""
HOW_TO_ANSWER = "Enter takes what stands in brackets; Ctrl+C leaves everything as it was."


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
    from nightmode.cli.observer_toml import write_observer
    from nightmode.files.places import observer_file
    from nightmode.files.replace import make_folder
    from nightmode.files.text import path_text
    from nightmode.files.toml import read_toml
    from nightmode.light.asking import asker
    from nightmode.light.terminal import red_stdout
    from nightmode.model.observer import Observer
    from nightmode.report.setup import setup_text
    from nightmode.setup.interview import filled, interview
    from nightmode.setup.local_zone import local_zone
    from nightmode.setup.observer_from import observer_from
    from nightmode.setup.questions import questions

    path = args.observer or observer_file()
    there = read_toml(path, Observer) if path.exists() else None
    existing, asked = there or Observer(), questions(local_zone())
    given = {question.key: text for question in asked if (text := getattr(args, question.key)) is not None}
    red = args.red or existing.observer.red
    with red_stdout(red):
        if given:
            answered = filled(existing, given, asked)
        else:
            print(f"{'Changing' if there else 'Making'} {path_text(path)}\n{HOW_TO_ANSWER}")
            answered = interview(existing, asked, asker(red), print)
    observer = observer_from(existing, answered, asked)
    if args.observer is None:
        make_folder(path.parent)
    kept = write_observer(path, there, observer)
    with red_stdout(red):
        print(setup_text(observer, path_text(path), path_text(kept) if kept else ""))
    return 0
