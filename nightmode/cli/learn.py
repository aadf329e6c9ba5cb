"""`nightmode learn`: what was predicted beside what was seen, and the experience that follows."""

import argparse
from typing import TYPE_CHECKING

from nightmode.cli.arguments import Commands, add_observer
from nightmode.errors import NightmodeError

if TYPE_CHECKING:
    from nightmode.model.observer import Observer
    from nightmode.report.learn import Lesson

EXAMPLE = """\
example:
  nightmode learn          compare, and say what experience your ticks speak for
  nightmode learn --write  the same, and write it into observer.toml
"""


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "learn",
        help="what was predicted beside what was seen, and what follows for your eye",
        description="Compares what was called easy, fair and hard with what you saw, over all sessions that "
        "are no rehearsals, and works out the experience that your ticks speak for.",
        epilog=EXAMPLE,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    add_observer(parser)
    parser.add_argument("--write", action="store_true", help="write the experience into observer.toml")
    parser.add_argument("--json", action="store_true", help="one JSON object")
    parser.add_argument("--red", action="store_true", help="print in red on black")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the comparison; write only when told to, and only where there is enough to go by."""
    from nightmode.cli.record import as_json, say_left_out
    from nightmode.files.observer import load_observer
    from nightmode.history.experience import learn, trials
    from nightmode.history.reading import read_history
    from nightmode.light.terminal import red_stdout
    from nightmode.report.learn import Lesson, learn_json, learn_text

    observer, history = load_observer(args.observer), read_history()
    in_use = observer.observer.experience
    found = trials(history.sittings, in_use)
    lesson = Lesson(tuple(found), learn(found), in_use)
    with red_stdout(args.red or observer.observer.red):
        print(as_json(learn_json(lesson)) if args.json else learn_text(lesson))
        if args.write:
            said = _write(args, observer, lesson)
            if not args.json:
                print(said)
        say_left_out(history.left_out, history.damaged)
    return 0


def _write(args: argparse.Namespace, observer: "Observer", lesson: "Lesson") -> str:
    """Write the factor into observer.toml. NightmodeError where there is too little to go by, or no file."""
    from nightmode.cli.observer_toml import write_observer
    from nightmode.files.places import observer_file
    from nightmode.files.text import path_text
    from nightmode.report.learn import refusal

    if refusal(lesson.learnt):
        raise NightmodeError("--write", "nothing is written: there is too little to go by", "walk on")
    path, factor = args.observer or observer_file(), round(lesson.learnt.factor, 2)
    if not path.exists():
        raise NightmodeError(path_text(path), "is not there yet", "run nightmode setup first")
    person = observer.observer.model_copy(update={"experience": factor})
    kept = write_observer(path, observer, observer.model_copy(update={"observer": person}))
    told = f"Wrote experience = {factor} to {path_text(path)}"
    return f"{told} (the old one is {path_text(kept)})" if kept else told
