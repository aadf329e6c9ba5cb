"""Terminals that do not give their colours back as most do: they are told so, or the observer is asked."""

import time

import pytest

from nightmode.errors import NightmodeError
from nightmode.light.depth import CUBE_INDICES, Depth, own_colours, set_palette
from nightmode.light.returning import (
    KEEPS_RED,
    Returns,
    give_back_colours,
    learn_colours,
    red_stays,
    returns,
    takes_palette,
)

ST = "\x1b\\"


@pytest.fixture
def terminal(monkeypatch, pretend):
    """Return a function that pretends to be a terminal of a name, on which no multiplexer runs."""

    def make(term, answers=()):
        monkeypatch.setenv("TERM", term)
        monkeypatch.delenv("TMUX", raising=False)
        monkeypatch.delenv("STY", raising=False)
        return pretend(answers)

    return make


@pytest.mark.parametrize(
    ("term", "how"),
    [
        ("xterm-256color", Returns.AT_ONCE),
        ("alacritty", Returns.AT_ONCE),
        ("xterm-kitty", Returns.AT_ONCE),
        ("st-256color", Returns.ONE_BY_ONE),
        ("mlterm", Returns.BY_NAME),
        ("rxvt-unicode-256color", Returns.NEVER),
    ],
)
def test_a_terminal_is_known_by_its_name(term, how):
    assert returns({"TERM": term}) is how
    assert returns({"TERM": term, "TMUX": "/tmp/x"}) is Returns.AT_ONCE


def test_st_gets_every_colour_back_that_can_have_been_taken():
    taken = own_colours(Depth.CUBE, 95) + set_palette(Depth.CUBE, dict.fromkeys(CUBE_INDICES, 60))
    back = give_back_colours(Depth.CUBE, Returns.ONE_BY_ONE)
    for index in [*range(16), *CUBE_INDICES]:
        assert f"\x1b]4;{index};" in taken
        assert f"\x1b]104;{index}{ST}" in back
    for default in (256, 258, 259):  # cursor, ink, ground: config.def.h of st 0.9
        assert f"\x1b]104;{default}{ST}" in back


def test_what_mlterm_told_is_named_again(terminal):
    answers = {"]10;?": f"\x1b]10;rgb:0000/0000/0000{ST}", "]11;?": "\x1b]11;rgb:ffff/ffff/eeee\x07"}
    asked = terminal("mlterm", answers)
    told = learn_colours(asked.inner, stay_red=False)
    assert told == {10: "rgb:0000/0000/0000", 11: "rgb:ffff/ffff/eeee"}
    back = give_back_colours(Depth.CUBE, Returns.BY_NAME, told)
    assert back.endswith(f"\x1b]10;rgb:0000/0000/0000{ST}\x1b]11;rgb:ffff/ffff/eeee{ST}")


@pytest.mark.parametrize("term", ["rxvt-unicode", "mlterm"])
@pytest.mark.parametrize("pressed", ["n", "\r"])
def test_where_red_would_stay_the_observer_is_asked_before_anything_is_taken(terminal, term, pressed):
    window = terminal(term, {KEEPS_RED: pressed})
    if pressed == "n":
        with pytest.raises(NightmodeError, match="left as it is"):
            learn_colours(window.inner, stay_red=False)
    else:
        assert learn_colours(window.inner, stay_red=False) == {}
    time.sleep(0.05)
    assert KEEPS_RED in window.heard
    assert not any(f"\x1b]{what};rgb" in window.heard for what in (4, 10, 11))


def test_who_wants_red_to_stay_is_not_asked(terminal):
    window = terminal("rxvt-unicode")
    assert learn_colours(window.inner, stay_red=True) == {}


def test_each_colour_is_set_by_a_sequence_of_its_own():
    """Some terminals read no more than the first few colours of one long sequence."""
    taken = own_colours(Depth.CUBE, 95) + set_palette(Depth.CUBE, dict.fromkeys(CUBE_INDICES, 60))
    said = [part.split(";") for part in taken.split(ST) if part.startswith("\x1b]4;")]
    assert all(len(part) == 3 for part in said)
    assert {int(part[1]) for part in said} == {*range(16), *CUBE_INDICES}


@pytest.mark.parametrize("depth", [Depth.TRUE, Depth.CUBE, Depth.SIXTEEN])
def test_ink_ground_cursor_pointer_and_what_is_marked_are_set_red_or_black_and_given_back(depth):
    taken = {part.split(";")[0].removeprefix("\x1b]") for part in own_colours(depth, 95).split(ST) if part}
    assert taken == {"4", "10", "11", "12", "13", "14", "17", "19"}
    back = {part.split(";")[0].removeprefix("\x1b]") for part in give_back_colours(depth).split(ST) if part}
    assert back == {str(int(what) + 100) for what in taken}
    assert all(colour.endswith("/00/00") for colour in own_colours(depth, 95).split(ST) if colour)


def test_rxvt_is_sent_nothing_that_it_would_print():
    assert give_back_colours(Depth.CUBE, Returns.NEVER) == ""
    assert "Open a new one" in red_stays(Returns.NEVER)
    assert red_stays(Returns.AT_ONCE) == ""


@pytest.mark.parametrize(
    ("term", "depth", "told", "takes"),
    [
        ("xterm-256color", Depth.CUBE, "rgb:4040/0000/0000", True),
        ("xterm", Depth.SIXTEEN, "rgb:40/00/00", True),
        ("xterm-256color", Depth.CUBE, "rgb:5f5f/0000/0000", False),
        ("xterm-256color", Depth.CUBE, "rgb:4040/0000/4040", False),
        ("xterm-256color", Depth.CUBE, "", False),
    ],
)
def test_a_palette_is_taken_where_the_terminal_tells_the_level_that_it_was_given(
    terminal, term, depth, told, takes
):
    colour = f"\x1b]4;52;{told}\x1b\\" if told else ""
    asked = terminal(term, {"\x1b[c": f"{colour}\x1b[?62;22c"})
    assert takes_palette(asked.inner, depth) is takes


@pytest.mark.parametrize(
    ("term", "depth", "takes"),
    [("linux", Depth.CONSOLE, True), ("xterm-direct", Depth.TRUE, True), ("dumb", Depth.SIXTEEN, False)],
)
def test_nothing_is_asked_where_it_is_known_whether_levels_are_exact(terminal, term, depth, takes):
    asked = terminal(term)
    assert takes_palette(asked.inner, depth) is takes
    time.sleep(0.1)
    assert asked.heard == ""
