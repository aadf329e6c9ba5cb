"""`nightmode say PLAN`: the spoken words of a night beforehand, as a sound file or as text."""

import argparse
import time
from pathlib import Path

from nightmode.cli.arguments import Commands, add_plan, whole
from nightmode.errors import NightmodeError

EXAMPLE = """\
example:
  nightmode say plan.toml -o night.wav
  nightmode say plan.toml --text
The same words as walk --voice says, in the order of the walk, each target when its turn would come.
"""


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "say",
        help="the words of a night beforehand, as a sound file or as text",
        description="Tell a plan's night aloud: its targets in their turn, where they stand, what happens.",
        epilog=EXAMPLE,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    add_plan(parser)
    parser.add_argument(
        "-o", "--output", metavar="FILE", type=Path, help="write a sound file (.wav), or text (.txt)"
    )
    parser.add_argument("--text", action="store_true", help="the words, a sentence a line, and no sound")
    parser.add_argument(
        "--wpm", type=whole, metavar="N", help="how fast: words a minute; else the observer's"
    )
    parser.add_argument("--force", action="store_true", help="replace the file if it is there")
    parser.add_argument("--red", action="store_true", help="print in red on black")
    parser.set_defaults(run=run, endings=(".wav", ".txt"))


def run(args: argparse.Namespace) -> int:
    """Write the sound file, or write or print the words."""
    from nightmode.light.terminal import red_stdout
    from nightmode.night.loading import load_night
    from nightmode.report.spoken_night import spoken_night
    from nightmode.sky.typed_time import read_date

    _check_rate(args.wpm)
    as_text = args.text or args.output is None or args.output.suffix.lower() == ".txt"
    loaded = load_night(args.plan, args.observer, read_date(args.night), time.time(), is_planned=True)
    sentences = spoken_night(loaded.night, loaded.plan.title)
    with red_stdout(args.red or loaded.night.person.red):
        if as_text and args.output is None:
            print("\n".join(sentences))
            return 0
        _write(args, sentences, as_text, args.wpm or loaded.night.person.voice_words_per_min)
    return 0


def _write(args: argparse.Namespace, sentences: tuple[str, ...], as_text: bool, rate_wpm: int) -> None:
    from nightmode.files.replace import safe_replace
    from nightmode.files.text import path_text
    from nightmode.voice.sound_file import write_wav

    if as_text:
        safe_replace(args.output, "\n".join(sentences) + "\n", force=args.force)
    else:
        write_wav(sentences, args.output, rate_wpm, force=args.force)
    print(f"Wrote {len(sentences)} sentences to {path_text(args.output)}")


def _check_rate(wpm: int | None) -> None:
    """Raise NightmodeError for a number of words a minute that no voice speaks."""
    from nightmode.voice.engine import FASTEST_WPM, SLOWEST_WPM, USUAL_WPM

    if wpm is not None and not SLOWEST_WPM <= wpm <= FASTEST_WPM:
        raise NightmodeError(
            "--wpm", f"{wpm} is not {SLOWEST_WPM} to {FASTEST_WPM}", f"write a whole number like {USUAL_WPM}"
        )
