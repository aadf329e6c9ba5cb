"""What a terminal promises is told by its own answers: obedient, stubborn, forgetful and deaf ones."""

import os
import pty
import re
import select
import threading

import pytest

from nightmode.light.depth import Depth
from nightmode.light.promises import SIGNS, Promises, ask_promises
from nightmode.light.returning import Returns
from nightmode.report.terminal_page import terminal_page

SEQUENCE = re.compile(r"\x1b\](\d+)(?:;([^\x07\x1b]*))?\x1b\\|\x1b\[\?1002\$p|\x1b\[6n|\x1b\[c")
OWN = {"10": "rgb:0000/0000/0000", "11": "rgb:ffff/ffff/ffff", "4;1": "rgb:cdcd/0000/0000"}


class Terminal:
    """A terminal with a will of its own at the other end of a pseudo-terminal."""

    def __init__(self, tells=True, takes=True, gives_back=True, mouse="2", cells=4):
        self.outer, self.inner = pty.openpty()
        self.colours = dict(OWN)
        self.tells, self.takes, self.gives_back, self.mouse, self.cells = (
            tells,
            takes,
            gives_back,
            mouse,
            cells,
        )
        self._is_open, self._heard = True, ""
        self._thread = threading.Thread(target=self._live)
        self._thread.start()

    def _live(self):
        while self._is_open:
            if select.select([self.outer], [], [], 0.02)[0]:
                self._heard += os.read(self.outer, 4096).decode("utf-8", "ignore")
                answers = [self._answer(match) for match in SEQUENCE.finditer(self._heard)]
                self._heard = ""
                os.write(self.outer, "".join(answers).encode())

    def _answer(self, match):
        number, rest = match[1], match[2] or ""
        what = f"4;{rest.partition(';')[0]}" if number == "4" else number
        colour = rest.rpartition(";")[2]
        if match.group() == "\x1b[c":
            return "\x1b[?62;22c"
        if match.group() == "\x1b[6n":
            return f"\x1b[1;{self.cells + 1}R" if self.cells else ""
        if match.group() == "\x1b[?1002$p":
            return f"\x1b[?1002;{self.mouse}$y" if self.mouse else ""
        if colour == "?":
            return f"\x1b]{what};{self.colours[what]}\x1b\\" if self.tells else ""
        if what in OWN and self.takes:
            self.colours[what] = colour
        elif number in {"104", "110", "111"} and self.gives_back:
            back = "4;1" if number == "104" else number[1:]
            self.colours[back] = OWN[back]
        return ""

    def close(self):
        self._is_open = False
        self._thread.join()
        os.close(self.outer)
        os.close(self.inner)


@pytest.fixture
def tried():
    made = []

    def ask(term="xterm-256color", **will):
        made.append(Terminal(**will))
        return ask_promises(made[-1].inner, {"TERM": term})

    yield ask
    for terminal in made:
        terminal.close()


def page(found, name="xterm", size=(100, 30), is_utf8=True):
    return terminal_page(found, name, size, is_utf8)


def test_an_obedient_terminal_promises_everything(tried):
    found = tried()
    assert (found.takes, found.gives_back, found.mouse, found.cells) == (True, True, True, len(SIGNS))
    assert "given back" in page(found)
    assert "one cell each" in page(found)


def test_a_stubborn_one_keeps_its_colours(tried):
    found = tried(takes=False)
    assert found.takes is False
    assert "--stay-red cannot hold" in page(found)


def test_a_forgetful_one_does_not_give_them_back(tried):
    found = tried(gives_back=False)
    assert (found.takes, found.gives_back) == (True, False)
    assert "not given back" in page(found)


def test_where_nothing_is_told_nothing_is_promised(tried):
    found = tried(tells=False, mouse="", cells=0)
    assert (found.takes, found.gives_back, found.mouse, found.cells) == (None, None, None, None)
    assert page(found).count("it does not say") == 3


def test_a_terminal_known_to_keep_red_is_left_alone(tried):
    found = tried("rxvt-unicode-256color")
    assert found.how is Returns.NEVER
    assert found.takes is None
    assert "you are asked" in page(found)


def test_signs_that_take_two_cells_and_a_locale_without_them_are_told(tried):
    assert "columns will not line up" in page(tried(cells=7))
    assert "LC_ALL=C.UTF-8" in page(tried(), is_utf8=False)
    assert "60 by 18" in page(tried(), size=(40, 10))


@pytest.mark.parametrize("depth", Depth)
def test_every_depth_has_its_words(depth):
    found = Promises(depth, Returns.AT_ONCE, True, True, True, len(SIGNS))
    assert f"\nred {' ' * 9}" in page(found)


@pytest.mark.parametrize("depth", list(Depth))
@pytest.mark.parametrize("takes", [True, False, None])
def test_the_page_fits_80_columns(depth, takes):
    found = Promises(depth, Returns.AT_ONCE, takes, False, None, None)
    assert max(map(len, page(found).splitlines())) <= 80
