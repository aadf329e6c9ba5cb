"""What the driver rewrites, and what is said outside the screen."""

import io
import re
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.app.guard.driver import guarded
from nightmode.errors import NightmodeError
from nightmode.light.depth import Depth
from nightmode.light.terminal import Terminal, red_stdout, said_in_red, say_red

PURE = {
    Depth.TRUE: r"0;(?:4;)?38;2;\d+;0;0;48;2;0;0;0",
    Depth.CUBE: r"0;(?:4;)?38;5;(?:16|52|88|124|160|196);48;5;16",
    Depth.SIXTEEN: r"0;(?:4;)?3[01];40;38;5;(?:16|52|88|124|160|196);48;5;16;25",
    Depth.CONSOLE: r"0;3[0-5];4[06]",
}


@given(
    st.lists(
        st.one_of(st.integers(0, 110), st.sampled_from(["38;2;9;8;7", "48;5;200", "38:2::1:2:3", ""])),
        max_size=8,
    ),
    st.sampled_from(list(Depth)),
)
def test_whatever_colours_are_written_only_red_on_black_comes_out(codes, depth):
    written = guarded(f"\x1b[{';'.join(map(str, codes))}mtext\x1b[0m", depth)
    found = re.findall(r"\x1b\[([^m]*)m", written)
    assert found
    assert all(re.fullmatch(PURE[depth], sequence) for sequence in found)


@pytest.mark.parametrize(
    "lit",
    [
        "\x07",
        "\x1b]0;title\x07",
        "\x1b]8;id=1;https://example.invalid\x1b\\",
        "\x1b]22;pointer\x07",
        "\x1b[?25h",
    ],
)
def test_bells_titles_links_and_the_cursor_do_not_pass_the_driver(lit):
    assert guarded(f"a{lit}b", Depth.TRUE) == "ab"


@pytest.mark.parametrize("white", ["38;2;255;255;255", "38;2;255;0;1", "38;5;231", "97", "39"])
def test_ink_of_any_other_colour_becomes_the_darkest_red_not_a_bright_one(white):
    assert "38;2;95;0;0" in guarded(f"\x1b[{white}mtext", Depth.TRUE)


def test_the_same_red_is_not_asked_for_twice():
    written = guarded("\x1b[38;2;90;0;0ma\x1b[0m\x1b[38;2;90;0;0mb", Depth.TRUE)
    assert written.count("m") == 1


class Tty(io.StringIO):
    def isatty(self):
        return True


def test_words_are_red_on_a_terminal_and_plain_in_a_pipe():
    tty, pipe = Tty(), io.StringIO()
    say_red("one\ntwo", tty)
    say_red("one\ntwo", pipe)
    assert pipe.getvalue() == "one\ntwo\n"
    assert tty.getvalue().count("\x1b[0m") == 2
    assert re.sub(r"\x1b\[[0-9;]*m", "", tty.getvalue()) == "one\ntwo\n"


def test_words_from_a_file_cannot_steer_the_terminal():
    assert "\x1b]52" not in said_in_red("a\x1b]52;c;x\x07\u202eb", Depth.TRUE)


def test_printing_is_red_where_it_goes_to_a_terminal(monkeypatch):
    out, err = Tty(), io.StringIO()
    monkeypatch.setattr(sys, "stdout", out)
    monkeypatch.setattr(sys, "stderr", err)
    with red_stdout():
        print("12 targets", end="")
        print(" fit", flush=True)
        print("no newline", end="")
        print("plain", file=sys.stderr)
    assert re.sub(r"\x1b\[[0-9;]*m", "", out.getvalue()) == "12 targets fit\nno newline"
    assert all(line.startswith("\x1b[0;") for line in out.getvalue().splitlines())
    assert err.getvalue() == "plain\n"
    assert sys.stdout is out


def test_without_a_terminal_the_night_screen_says_so():
    code = "from nightmode.light.terminal import Terminal\nTerminal().open()"
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, stdin=subprocess.DEVNULL, text=True, check=False
    )
    assert "NightmodeError" in done.stderr
    assert "needs a terminal" in done.stderr


def test_taking_the_terminal_imports_neither_textual_nor_the_models():
    code = (
        "import sys, nightmode.light.terminal;"
        "print([m for m in ('textual','rich','pydantic','asyncio','numpy') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"


def test_a_terminal_never_opened_closes_without_a_word(capsys):
    Terminal().close()
    assert capsys.readouterr().out == ""


def test_an_error_of_the_observers_passes_through_unchanged():
    terminal = Terminal()
    error = NightmodeError("plan", "is empty")
    assert terminal.__exit__(type(error), error, None) is None
    assert terminal.last_words == ""
