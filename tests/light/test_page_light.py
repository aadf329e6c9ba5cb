"""No page gives more light than docs/darkness.md allows, in any kind of terminal."""

import os
import signal
import sys
from pathlib import Path

import pytest
from light.glass import Glass
from light.meter import Meter

ROOT = Path(__file__).resolve().parents[2]
#: Light of the day-adapted eye against an all-white screen: the limits of docs/darkness.md, by steps of glow.
LIMITS = {"default": (0, 0.0010), "lowest": (3, 0.00025)}
#: The kinds of terminal: a mode of the meter, whether it answers what its colours are, and whether it keeps
#: the 256 colours as they are whatever it is told.
KINDS = {
    "true colour": ("truecolor", False, False),
    "256 colours": ("256", False, False),
    "256 colours that it tells": ("256", True, False),
    "256 colours that nobody can set": ("256", True, True),
    "16 colours": ("16", False, False),
    "16 colours that it tells": ("16", True, False),
    "Linux console": ("linux", False, False),
    "tmux": ("tmux", False, False),
    "dumb": ("dumb", False, False),
}
#: What to press for each page, from the walk and back to it.
PAGES = {
    "facts": ((), ()),
    "facts of the next": (("j",), ("esc",)),
    "chart": (("a",), ("esc",)),
    "large figures": (("g",), ("esc",)),
    "list": (("l",), ("esc",)),
    "list, further down": (("l", *["j"] * 12), ("esc",)),
    "help": (("?",), ("f",)),
    "help, further down": (("?", *["j"] * 12), ("f",)),
    "checklist": (("p",), ("enter",)),
    "note": (("n", *"well se"), ("esc",)),
    "seeing": (("i",), ("f",)),
    "air": (("t",), ("f",)),
    "clouds": (("c",), ("f",)),
    "sky": (("m",), ("esc",)),
    "leaving": (("q",), ("f",)),
}
#: Those that light most, and every kind of terminal but the hardest are for the long form.
MOST_LIT = ("facts", "list", "help", "checklist", "leaving")
DAILY = ("256 colours that nobody can set",)


@pytest.fixture
def opened(tmp_path):
    meters = []

    def begin(kind, size):
        mode, answers, keeps = KINDS[kind]
        homes = {f"XDG_{name}_HOME": str(tmp_path / name) for name in ("CONFIG", "DATA", "STATE")}
        meter = Meter(
            [sys.executable, "-m", "nightmode", "demo", "--afresh", "--at", "22:00"],
            mode,
            glass=Glass(*size, keeps_cube=keeps),
            size=size,
            answers=answers,
            **homes,
            HOME=str(tmp_path),
            PYTHONPATH=str(ROOT),
        )
        meters.append(meter)
        meter.wait_for("Saturn", seconds=30)
        meter.wait_for_keys()
        return meter

    yield begin
    for meter in meters:
        if meter.child.returncode is None:
            os.kill(meter.child.pid, signal.SIGKILL)
            meter.end()


def light_of_pages(meter, pages):
    """Return the light of each page, and what it shows."""
    seen = {}
    for page in pages:
        there, back = PAGES[page]
        pressed(meter, there)
        seen[page] = meter.look().photopic, meter.shown()
        pressed(meter, back)
    return seen


def pressed(meter, keys):
    """Press keys and wait until what they bring stands there, and stands still."""
    for key in keys:
        meter.press_and_see(key)
    meter.rest(0.05)


def dimmed(meter, steps):
    """Press the key that darkens so often; wait until it has."""
    if steps:
        before = meter.look().photopic
        meter.press(*"-" * steps)
        meter.wait_until(lambda frame: frame.photopic < before * 0.35)
        meter.rest(0.1)


def assert_within(meter, pages):
    """Look at pages at both glows; return what they show at the lowest."""
    shown = {}
    for glow, (steps, limit) in LIMITS.items():
        dimmed(meter, steps)
        for page, (light, text) in light_of_pages(meter, pages).items():
            assert 0 < light <= limit, (glow, page, light, text)
            shown[page] = text
    meter.press("q", "q")
    assert meter.end().leaks == []
    return shown


@pytest.mark.parametrize("kind", DAILY)
def test_the_pages_that_light_most_give_no_more_than_they_may_and_keep_what_matters(opened, kind):
    shown = assert_within(opened(kind, (80, 24)), MOST_LIT)
    assert all(word in shown["facts"] for word in ("Saturn", "30.", "23:39"))
    assert all(word in shown["list"] for word in (">   Saturn", "planet", "sets 23:39", "enter: show it"))
    assert all(word in shown["help"] for word in ("space  seen", "j k: scroll"))
    assert "q again leaves" in shown["leaving"]


@pytest.mark.long
@pytest.mark.parametrize("size", [(80, 24), (120, 40)], ids=str)
@pytest.mark.parametrize("kind", KINDS)
def test_no_page_gives_more_light_than_it_may(opened, kind, size):
    assert_within(opened(kind, size), PAGES)
