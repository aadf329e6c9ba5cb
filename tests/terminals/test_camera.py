"""The camera's own sums, and real terminals before it where they are installed."""

import shutil
import sys

import numpy as np
import pytest
from program.pseudo import PACKAGE
from terminals.camera import TERMINALS, Picture, Screen, Window, command, missing, program

from nightmode.files.places import shipped
from nightmode.model.session import Event
from nightmode.session.journal import read

INSTALLED = [name for name in TERMINALS if not missing(program(name))]
#: Terminals whose window holds nothing but text, so that not one pixel may leak.
BARE = {"xterm", "xterm-white", "kitty", "alacritty", "st", "zutty", "xfce4-terminal"}
#: Terminals that keep the right button for their own menu, whatever is asked.
OWN_MENU = {"sakura", "mate-terminal"}
#: Terminals that can't be given their colours back; they ask before they take them.
KEEPS_RED = {"urxvt"}
#: Terminals that take no colours from a program but those of each cell, so that none can stay.
TAKES_NONE = {"konsole", "pterm", "zutty"}
#: Every colour of a number below 16, as ground, ink and bold ink; the default ones; a cursor.
CARD = r"""
card() {
  printf '\033[2J\033[H'
  for n in 0 1 2 3 4 5 6 7; do printf "\033[4${n}m  \033[10${n}m  \033[0;3${n}mm\033[1mM\033[0m"; done
  printf '\r\nplain text '
  read x
}
"""
EMOJI = "🔥⭐🇩🇪1️⃣❤️✔▶☄"


def marked(names):
    """Return the names; those of the terminal that `.ci/run` photographs carry its mark."""
    return [
        pytest.param(name, marks=pytest.mark.camera) if name.startswith("xterm") else name for name in names
    ]


def picture(rows):
    return Picture(np.array(rows, np.uint8), (0, 0, len(rows[0]), len(rows)))


def test_white_is_all_the_light_there_is_and_red_a_fifth_of_it():
    assert picture([[[255] * 3] * 4] * 3).light == pytest.approx(1.0)
    assert picture([[[255, 0, 0]] * 4] * 3).light == pytest.approx(0.2126)  # IEC 61966-2-1
    assert picture([[[188] * 3, [0] * 3]]).light == pytest.approx(0.25, rel=0.01)  # 188 is half of white


def test_a_trace_of_green_or_blue_leaks():
    assert picture([[[95, 0, 0], [0, 1, 0], [255, 0, 1], [0, 0, 0]]]).leaks == 2
    assert picture([[[95, 0, 0], [0, 1, 0], [255, 0, 1], [0, 0, 0]]]).lit == 3


class Night:
    """The program on a plan full of emoji, between two cards of the terminal's own colours."""

    def __init__(self, name, home, options=""):
        plan = home / "plan.toml"
        text = (shipped("plans") / "hillside.toml").read_text()
        plan.write_text(text.replace('look_for = "', f'look_for = "{EMOJI} '))
        self.journal = home / "journal.toml"
        run = f"PYTHONPATH='{PACKAGE}' '{sys.executable}' -m nightmode"
        walk = f"{run} walk {plan} --at 21:00 --session {self.journal} {options}"
        self.script = home / "night.sh"
        self.script.write_text(f"{CARD}\ncard\n{walk}\ncard\n{run} daylight\ncard\n")


def opened(name, screen, home, options=""):
    night = Night(name, home, options)
    window = Window(screen, command(name, night.script), home)
    window.find()
    before = window.settle()
    for _ in range(20):  # some show their window long before anything in it
        if before.lit:
            break
        before = window.settle()
    return night, window, before


def is_page(picture):
    """Whether the page stands there: red or black in most of the window, and text in many rows."""
    dark = (picture.inside[:, :, 1:].max(axis=2) < 30).mean() > 0.8
    red = (picture.inside[:, :, 0] > 0) & (picture.inside[:, :, 1:].max(axis=2) == 0)
    return dark and red.any(axis=1).mean() > 0.15


def leave(window, is_there=lambda picture: True):
    window.answer("q")
    return window.answer("q", is_there)


if INSTALLED:

    @pytest.mark.long
    @pytest.mark.parametrize("name", marked(INSTALLED))
    def test_a_night_in_a_window(name, tmp_path, record_property):
        with Screen() as screen:
            night, window, before = opened(name, screen, tmp_path)
            with window:
                if name in KEEPS_RED:
                    window.answer("Return")
                page = window.answer("Return", is_page)
                rim = page.leaks
                record_property("page", page.light)
                record_property("rim", rim)
                if name in BARE:
                    assert rim == 0
                    assert page.light < 0.001  # the limit of docs/darkness.md
                by_mouse = [*window.drag(), *([] if name in OWN_MENU else window.click(3)), *window.click(2)]
                assert all(shot.leaks <= rim and shot.light < page.light + 0.0005 for shot in by_mouse)
                window.hold("space", 2.0)
                window.press("b")
                assert window.settle().leaks <= rim
                window.press("b", "l", "question", "Escape", "Escape", gap_s=0.6)
                assert window.settle().leaks <= rim
                colours = before.leaks - rim if name not in KEEPS_RED else 0
                after = leave(window, lambda shot: shot.leaks - rim >= 0.9 * colours)
                different = int((after.inside != before.inside).any(axis=2).sum())
                record_property("not given back", different)
                if name not in KEEPS_RED:
                    assert different < before.inside.shape[0] * before.inside.shape[1] / 100
        assert [entry.event for entry in read(night.journal).entries] == [Event.TICK, Event.PAUSE]

    @pytest.mark.long
    @pytest.mark.parametrize("name", marked(name for name in INSTALLED if name not in TAKES_NONE))
    def test_red_stays_where_that_is_wanted(name, tmp_path):
        with Screen() as screen:
            _, window, _ = opened(name, screen, tmp_path, "--stay-red")
            with window:
                rim = window.answer("Return", is_page).leaks
                after = leave(window)
                assert after.leaks <= rim


def test_the_camera_says_what_it_lacks():
    assert missing("no-such-program") == [*missing(), "no-such-program"]
    assert all(shutil.which(program(name)) for name in INSTALLED)
