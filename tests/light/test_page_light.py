"""No page gives more light than docs/darkness.md allows, in any kind of terminal."""

import pytest
from light.glass import Glass

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
    "list, further down": (("l", *["j"] * 12), ("q",)),
    "help": (("?",), ("f",)),
    "help, further down": (("?", *["j"] * 12), ("f",)),
    "checklist": (("p",), ("enter",)),
    "note": (("n", "well seen at last"), ("esc",)),
    "seeing": (("i",), ("f",)),
    "air": (("t",), ("f",)),
    "clouds": (("c",), ("esc",)),  # another key asks on
    "sky": (("m",), ("esc",)),
    "leaving": (("q",), ("f",)),
}
#: Those that light most, and words that none of them loses at the lowest glow on a screen of 80 by 24.
MOST_LIT = {
    "facts": ("Saturn", "30.", "23:39"),
    "list": (">   Saturn", "planet", "sets 23:39", "enter: show it"),
    "help": ("space  seen", "of 39   j k: scroll"),
    "checklist": (),
    "leaving": ("q again leaves",),
    "note": ("enter keeps   esc: drop", "well seen at last"),
    "clouds": ("clear where?", "enter keeps"),
}
#: Every kind of terminal but the hardest is for the long form.
DAILY = ("256 colours that nobody can set",)


@pytest.fixture
def opened(measured):
    def begin(kind, size):
        mode, answers, keeps = KINDS[kind]
        glass = Glass(*size, keeps_cube=keeps)
        night = ("demo", "--afresh", "--at", "22:00")
        meter = measured(*night, mode=mode, size=size, glass=glass, answers=answers)
        meter.wait_for("Saturn", seconds=30)
        meter.wait_for_keys()
        return meter

    return begin


def pressed(meter, keys):
    """Press keys, or type a text, and wait until what they bring stands there, and stands still."""
    for key in keys:
        if " " in key:
            meter.type(key)
        elif key == "j":
            meter.press(key)  # what fits does not scroll
        else:
            meter.press_and_see(key)
    meter.rest(0.05)


def is_within(meter, limit, words):
    """Return what a frame must be: lit, but no more than this, with the words that count."""
    return lambda frame: 0 < frame.photopic <= limit and all(word in meter.shown() for word in words)


def assert_within(meter, pages):
    """Look at pages at both glows, for their light and words that must stand on them.

    A page that is half drawn may need a moment more than its first rest.
    """
    for steps, limit in LIMITS.values():
        meter.press(*"-" * steps)
        for page, words in pages.items():
            there, back = PAGES[page]
            pressed(meter, there)
            meter.wait_until(is_within(meter, limit, words), seconds=5)
            pressed(meter, back)
    meter.press("ctrl+c", "ctrl+c")
    reading = meter.end()
    assert (reading.code, reading.leaks) == (0, [])


@pytest.mark.parametrize("kind", DAILY)
def test_the_pages_that_light_most_give_no_more_than_they_may_and_keep_what_matters(opened, kind):
    assert_within(opened(kind, (80, 24)), MOST_LIT)


@pytest.mark.long
@pytest.mark.parametrize("size", [(80, 24), (120, 40)], ids=str)
@pytest.mark.parametrize("kind", KINDS)
def test_no_page_gives_more_light_than_it_may(opened, kind, size):
    assert_within(opened(kind, size), dict.fromkeys(PAGES, ()))
