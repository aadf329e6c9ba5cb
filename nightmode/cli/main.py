"""The `nightmode` command: which subcommands there are, and the one place that answers errors."""

import argparse
import contextlib
import gc
import importlib
import io
import os
import re
import sys
import warnings
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from nightmode import __version__
from nightmode.errors import NightmodeError

#: The modules that each add one command, in the order of a night.
COMMANDS = (
    "setup", "nights", "when", "draft", "check", "kit", "sheet", "say", "walk", "demo", "enter", "log",
    "tally", "learn", "gather", "terminal", "daylight",
)  # fmt: skip
#: What `nightmode` alone does: it goes on where it was.
ALONE = "walk"
USER_ERROR = 2
HELP_WIDTH = 79
FAULT = 70
_NO_FLAG = re.compile(r"unrecognized arguments: (?P<flag>--[a-z][a-z-]+)")
_LONG_FLAG, _MINUS_VALUE = re.compile(r"--[a-z][a-z-]*"), re.compile(r"-[.,]?\d")
_FLAG = re.compile(rf"(?P<long>{_LONG_FLAG.pattern})|-[a-z]")


class Parser(argparse.ArgumentParser):
    """An argument parser that answers a bad flag in one sentence.

    asked is the command that it is about, usage_asked its lines of usage.
    """

    asked, usage_asked = "", ""

    def format_help(self) -> str:
        """Return the help, its sentences wrapped as the flags are; examples stay as they are."""
        from textwrap import fill

        if self.description:
            self.description = fill(self.description, HELP_WIDTH, break_on_hyphens=False)
        if self.epilog:
            lines = self.epilog.splitlines()
            self.epilog = "\n".join(
                line if line.startswith(" ") else fill(line, HELP_WIDTH, break_on_hyphens=False)
                for line in lines
            )
        return super().format_help()

    def error(self, message: str) -> NoReturn:
        """Raise what argparse would print with a page of usage."""
        about = self.asked or self.prog
        near = _near_flag(message, self.usage_asked)
        meant = f"did you mean {near}? Else " if near else ""
        raise NightmodeError(about, message, f"{meant}see {about} --help")


def parser(argv: Sequence[str]) -> Parser:
    """Return the parser: with the one command that is asked for, so that it starts at once, else with all."""
    top = Parser(
        prog="nightmode",
        description="A deep-red companion at the telescope, and plain commands for the day before and after.",
        epilog="Alone, it goes on with tonight's session. Begin with: nightmode demo",
        allow_abbrev=False,
    )
    top.add_argument("--version", action="version", version=f"nightmode {__version__}")
    commands = top.add_subparsers(title="commands", metavar="COMMAND", required=True, parser_class=Parser)
    asked = [name for name in argv[:1] if name in COMMANDS]
    top.asked = " ".join(["nightmode", *asked])
    for name in asked or COMMANDS:
        importlib.import_module(f"nightmode.cli.{name}").add(commands)
    if asked:
        top.usage_asked = commands.choices[asked[0]].format_usage()
    return top


def _near_flag(message: str, usage: str) -> str | None:
    """Return the flag of a usage that is most like the one that a message says is none, or None."""
    unknown = _NO_FLAG.match(message)
    if not unknown:
        return None
    import difflib

    flags = dict.fromkeys(_LONG_FLAG.findall(usage))
    alike = difflib.get_close_matches(unknown["flag"], flags, n=1, cutoff=0.7)
    within = [flag for flag in flags if unknown["flag"].strip("-") in flag]
    return next(iter([*alike, *within]), None)


def values_joined(argv: Sequence[str]) -> list[str]:
    """Return the arguments with `--latitude -30.2S` written as `--latitude=-30.2S`, `-o -2x` as `-o-2x`.

    What begins with a minus and a figure is a value, as no flag of ours begins so; but of two words argparse
    takes only a bare number for one.
    """
    words: list[str] = []
    for word in argv:
        if words and _MINUS_VALUE.match(word) and (flag := _FLAG.fullmatch(words[-1])):
            words[-1] += f"={word}" if flag["long"] else word
        else:
            words.append(word)
    return words


def main(argv: Sequence[str]) -> int:
    """Run one command and return its exit code: 0, or 2 for what the user can put right."""
    from nightmode.light.terminal import say_red

    try:
        return _run(argv)
    except NightmodeError as error:
        say_red(str(error))
        return USER_ERROR
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:  # whoever read along has seen enough
        _drop_output()
        return 0
    except OSError as error:  # a full disk under the output, a file gone between two looks at it
        _drop_output()
        if error.filename is None:
            _logged(error)
        say_red(str(_refused(error)))
        return USER_ERROR
    except Exception as error:  # noqa: BLE001  the edge of the program: a traceback never reaches the screen
        say_red(_logged(error))
        return FAULT


def _run(argv: Sequence[str]) -> int:
    from nightmode.light.terminal import red_stdout

    argv = list(argv) or [ALONE]
    if argv[0] == "help":  # "nightmode help walk", as people type it
        argv = [*argv[1:2], "--help"]
    try:
        if not argv[0].startswith("-") and argv[0] not in COMMANDS:
            raise _no_command(argv[0])
        with red_stdout():  # help asked for in the dark
            args = parser(argv).parse_args(values_joined(argv))
        _check_output(args)
        return args.run(args)
    finally:
        sys.stdout.flush()  # here, where a refusal can still be told


def _no_command(word: str) -> NightmodeError:
    """Return the error for a word that is no command: a plan without one, a misspelt one, anything else."""
    if word.endswith(".toml"):
        instead = f"write nightmode check {word}, or walk, sheet, say or enter in its place"
        return NightmodeError(word, "is a plan, and the command before it is missing", instead)
    import difflib

    near = difflib.get_close_matches(word.lower(), COMMANDS, n=3)
    near.sort(key=lambda command: command[0] != word[0].lower())  # few slip at the first letter
    instead = f"did you mean {near[0]}?" if near else f"write one of {', '.join(COMMANDS)}"
    return NightmodeError("nightmode", f"{word!r} is no command", instead)


def _check_output(args: argparse.Namespace) -> None:
    """Raise NightmodeError for a file that is there already or can't be written, before work of seconds."""
    from nightmode.cli.arguments import check_ending

    written = [path for name in ("output", "ics") if (path := getattr(args, name, None)) is not None]
    if getattr(args, "output", None) is not None:
        check_ending(args.output, getattr(args, "endings", ()))
    if written and not args.force:
        from nightmode.files.replace import check_free

        for path in written:
            check_free(path)


def _refused(error: OSError) -> NightmodeError:
    from nightmode.files.text import trouble

    return trouble(Path(str(error.filename or "output")), error, "not finished")


def _drop_output() -> None:
    """Let what is still to be printed go nowhere, so that the interpreter's end is quiet."""
    with contextlib.suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


def _logged(error: Exception) -> str:
    import traceback

    from nightmode.files.log import open_log
    from nightmode.files.places import log_file

    try:
        open_log(log_file()).error("%s", "".join(traceback.format_exception(error)))
    except (NightmodeError, OSError):
        return f"nightmode stopped on a fault ({type(error).__name__}); the log can't be written."
    return f"nightmode stopped on a fault ({type(error).__name__}); {log_file()} tells more."


def entry() -> NoReturn:
    """Run the command line and exit."""
    if not sys.warnoptions:
        warnings.simplefilter("ignore")  # a line that nobody asked for
    _run_lean()
    _mend_streams()
    try:
        code = main(sys.argv[1:])
    except SystemExit as ended:  # a help was printed, or a signal ended the night
        code = int(ended.code or 0)
    _leave(code)


def _run_lean() -> None:
    """Set up the interpreter for a program that starts, answers and is gone.

    Threads of numpy's linear algebra cost more than they save on matrices as small as ours, and are started
    when it is imported. What imports make is not garbage, and looking for some takes a tenth of the time of a
    short command; the screen, which runs all night, has it looked for again (`walk.take`).
    """
    for name in ("OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "VECLIB_MAXIMUM_THREADS"):
        os.environ.setdefault(name, "1")
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # nor code of others among the models
    gc.disable()


def _mend_streams() -> None:
    """See that printing cannot fail on a character the output's encoding lacks, or on a closed stream."""
    for name in ("stdout", "stderr"):
        stream = getattr(sys, name)
        if stream is None:
            setattr(sys, name, io.TextIOWrapper(io.FileIO(os.devnull, "w"), encoding="utf-8"))
        elif isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def _leave(code: int) -> NoReturn:
    """End the process at once.

    Everything is written, closed and given back by now. Python would go on to take every library apart, which
    takes a tenth of the time of a short command, and the system frees all memory anyway. With a profiler or a
    debugger the process ends in the usual way.
    """
    if sys.getprofile() or sys.gettrace() or _is_monitored():
        sys.exit(code)
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(OSError, ValueError):
            stream.flush()
    os._exit(code)


def _is_monitored() -> bool:
    """Whether a tool looks on as they do from Python 3.12 on."""
    monitoring = getattr(sys, "monitoring", None)
    return monitoring is not None and any(monitoring.get_tool(number) for number in range(6))
