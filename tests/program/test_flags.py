"""Every flag of every command with values it cannot mean: one sentence, and nothing changed on the disk."""

import argparse
import os

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from program.answers import answer, assert_proper, on_disk, on_terminal
from turns import SHARES

from nightmode.cli.main import COMMANDS, parser

SCREENS = ("walk", "demo")
JUNK = (
    "", "-1", "0", "nan", "1e999", "9" * 40, "x" * 10_000, "\x1b[31m", "\x1b]52;c;AAAA\x07", "\u202etxt",
    "[bold]", "\udcff", "a\nb", "/", "/dev/null", "/dev/zero", ".", "~nobody-there/x.toml", "2026-02-30",
    "9999-12-31", "0001-01-01", "23:60", "2026-12-13T21:00+99:00", "%s%n", "a\0b", "x/../y.toml", "é🔭",
)  # fmt: skip
FILES = (
    "",
    "/",
    "/dev/null",
    "/dev/zero",
    ".",
    "~nobody-there/x.toml",
    "x" * 10_000,
    "\x1b[31m",
    "\udcff",
    "a\0b",
)
#: Flags that name a file to write or a theme: nearly every name is a right one.
OF_FILES = {"--ics", "--output", "--session", "--theme"}
#: What each command is given beside the flag under test, so that it gets as far as the flag.
GIVEN = {
    "check": ["plan.toml"],
    "sheet": ["plan.toml"],
    "enter": ["plan.toml"],
    "walk": ["plan.toml", "--at=21:00"],
    "nights": ["--days=1"],
}
PLAN = """night = 2026-12-13
site = { name = "Hill", latitude_deg = 47.1, longitude_deg = 15.4, timezone = "Europe/Vienna" }
telescope = { name = "Tube", aperture_mm = 200, focal_length_mm = 1200 }
eyepiece = [{ name = "Wide 25", focal_length_mm = 25 }]
target = [{ name = "M 42" }]
"""


def flags_of(command):
    """Return (name, takes a value) of everything that a command reads from its line."""
    top = parser([command])
    actions = next(one for one in top._actions if isinstance(one, argparse._SubParsersAction))
    found = []
    for action in actions.choices[command]._actions:
        if not isinstance(action, argparse._HelpAction | argparse._VersionAction):
            found.append((action.option_strings[-1] if action.option_strings else "", action.nargs != 0))
    return found


FLAGS = [(command, flag) for command in COMMANDS for flag, takes_value in flags_of(command) if takes_value]


@pytest.fixture
def here(tmp_path, monkeypatch):
    """A folder with a plan, and an observer.toml where the program looks for it."""
    folder = tmp_path / "here"
    folder.mkdir()
    (folder / "plan.toml").write_text(PLAN)
    settings_folder = tmp_path / "settings" / "nightmode"
    settings_folder.mkdir(parents=True)
    (settings_folder / "observer.toml").write_text(
        '[[site]]\nname = "Hill"\nlatitude_deg = 47.1\nlongitude_deg = 15.4\n'
        '[[telescope]]\nname = "Tube"\naperture_mm = 200\nfocal_length_mm = 1200\n'
    )
    monkeypatch.chdir(folder)
    monkeypatch.setattr(os, "isatty", lambda _: False)
    return folder


def some_values(command, flag, share):
    """Return every so many of the values, others for the next flag."""
    values = FILES if flag in OF_FILES else JUNK
    return values[FLAGS.index((command, flag)) % share :: share]


def line(command, flag, value):
    if not flag:
        return [command, value]
    return [command, *GIVEN.get(command, []), f"{flag}={value}" if flag.startswith("--") else flag + value]


def assert_answered(argv, folder):
    before = on_disk(folder.parent)
    got = answer(argv)
    assert_proper(got, argv)
    if got.code == 2:
        after = {path: is_ for path, is_ in on_disk(folder.parent).items() if path.is_file()}
        assert {path: is_ for path, is_ in before.items() if path.is_file()} == after


@pytest.mark.parametrize("share", SHARES)
@pytest.mark.parametrize(("command", "flag"), [pair for pair in FLAGS if pair[0] not in SCREENS])
def test_a_flag_with_a_value_it_cannot_mean(here, command, flag, share):
    for value in some_values(command, flag, share):
        assert_answered(line(command, flag, value), here)


OFTEN = {("walk", "--night"), ("walk", "--session"), ("demo", "--rate")}
#: The screen's flags: those of the demo are the walk's own, so most of them are tried only when asked for.
SCREEN_FLAGS = [
    pair if pair in OFTEN else pytest.param(*pair, marks=pytest.mark.long)
    for pair in FLAGS
    if pair[0] in SCREENS and pair != ("demo", "--theme")
]


@pytest.mark.parametrize("share", SHARES)
@pytest.mark.parametrize(("command", "flag"), SCREEN_FLAGS)
def test_a_flag_of_the_night_screen_with_a_value_it_cannot_mean(here, monkeypatch, command, flag, share):
    monkeypatch.undo()
    monkeypatch.chdir(here)
    for name, folder in (("XDG_DATA_HOME", "data"), ("XDG_STATE_HOME", "state"), ("HOME", "home")):
        monkeypatch.setenv(name, str(here.parent / folder))
    opened = 0
    for value in some_values(command, flag, share):
        if "\0" in value:
            continue  # no system call takes it
        got = on_terminal(line(command, flag, value))
        assert got.code in (2, 143), (value, got)
        opened += got.code == 143
        assert "Traceback" not in got.out
        assert "\x1b]52" not in got.out
        assert "\x1b]8" not in got.out
    assert opened <= (10 if flag in OF_FILES else 2)


def test_a_night_screen_without_a_terminal_says_so(here):
    for command in SCREENS:
        got = answer([command, *GIVEN.get(command, [])])
        assert got.code == 2
        assert "terminal" in got.error


_words = st.sampled_from(
    [
        *COMMANDS,
        *{flag for _, flag in FLAGS if flag},
        *JUNK,
        "plan.toml",
        "--json",
        "--force",
        "-h",
        "--version",
    ]
)


@pytest.mark.parametrize("examples", [60, pytest.param(10_000, marks=pytest.mark.long)])
def test_any_words_in_any_order(here, examples):
    quiet = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.function_scoped_fixture]

    @settings(
        max_examples=examples,
        deadline=None,
        derandomize=examples < 1000,
        database=None,
        suppress_health_check=quiet,
    )
    @given(st.sampled_from([*COMMANDS, *COMMANDS, "nosuch", "--version"]), st.lists(_words, max_size=5))
    def check(first, rest):
        if first in {"draft", "nights"} and len(rest) < 2:
            return  # right, and slow
        assert_answered([first, *rest], here)

    check()
