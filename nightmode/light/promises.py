"""What the terminal can do, by its own answers: take colours, give them back, send clicks.

Each colour is read, set, read again, restored and read a third time. What a terminal does not answer stays
unknown, and must be checked by eye.
"""

import os
import re
from collections.abc import Mapping

from nightmode.light.depth import ST, Depth
from nightmode.light.returning import Returns, ask_all, give_back_colours, returns
from nightmode.light.terminal import terminal_depth
from nightmode.records import Record

#: The colours that are tested, by the number of their sequence, with the values they are set to.
TRIED = {"10": "rgb:64/00/00", "11": "rgb:01/00/00", "4;1": "rgb:5f/00/00"}
SIGNS = "●⣿°″"
#: How long a terminal may take for all its answers.
ANSWERS_S = 1.5
_COLOUR = re.compile(r"\x1b\](10|11|4;1);([^\x07\x1b]+)")
_MODE = re.compile(r"\x1b\[\?1002;(\d)\$y")
_CURSOR = re.compile(r"\x1b\[\d+;(\d+)R")


class Promises(Record):
    """What a terminal can do; None where it does not answer.

    depth       its depth of colour
    how         what it needs to get its own colours back
    takes       whether it shows a default and a palette colour that a program sets
    gives_back  whether its own colours return afterwards
    mouse       whether clicks and drags can be sent to the program
    cells       how many cells the signs of the screen take; one each is right
    """

    depth: Depth
    how: Returns
    takes: bool | None
    gives_back: bool | None
    mouse: bool | None
    cells: int | None


def ask_promises(fd: int, env: Mapping[str, str] = os.environ) -> Promises:
    """Test a terminal, and leave it as it was."""
    how, depth = returns(env), terminal_depth()
    asked = "".join(f"\x1b]{what};?{ST}" for what in TRIED)
    before = _colours(_answers(fd, asked))
    if not before or how is Returns.NEVER:
        takes = gives_back = None
    else:
        was_set = _colours(_answers(fd, "".join(f"\x1b]{w};{c}{ST}" for w, c in TRIED.items()) + asked))
        told = {int(what): colour for what, colour in before.items() if what.isdigit()}
        after = _colours(_answers(fd, give_back_colours(depth, how, told) + asked))
        takes = all(was_set.get(what) != before[what] for what in before)
        gives_back = all(after.get(what) == colour for what, colour in before.items())
    rest = _answers(fd, f"\x1b[?1002$p\r{SIGNS}\x1b[6n\r\x1b[K")
    mode, cursor = _MODE.search(rest), _CURSOR.search(rest)
    return Promises(
        depth=depth,
        how=how,
        takes=takes,
        gives_back=gives_back,
        mouse=mode[1] != "0" if mode else None,
        cells=int(cursor[1]) - 1 if cursor else None,
    )


def _answers(fd: int, questions: str) -> str:
    return ask_all(fd, questions, ANSWERS_S).decode("utf-8", "replace")


def _colours(heard: str) -> dict[str, str]:
    """Return the colours in the answers, by the number of their sequence."""
    return dict(_COLOUR.findall(heard))
