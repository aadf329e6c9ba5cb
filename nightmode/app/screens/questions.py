"""Questions that the message line asks and single keys answer."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import get_args

from nightmode.app.say import Say
from nightmode.app.walker import Walker
from nightmode.model.session import Dew, Seeing
from nightmode.walk.state import OCTANTS

SEEING = get_args(Seeing)
DEW: dict[str, Dew] = {"n": "none", "s": "some", "h": "heavy"}
DROPPED = Say("as it was")
#: What opens a question, or a row to type in, whose answer goes into the journal.
ASKS_TO_NOTE = frozenset({"seeing", "air", "clouds", "sky", "note"})


@dataclass
class Prompt:
    """A question on the message line. `answer` takes a key and returns what to say, None to go on asking."""

    ask: Say
    answer: Callable[[str], Say | None]


def ask_leave(unsaved: int, leave: Callable[[], None]) -> Prompt:
    """Ask before leaving: q again leaves, any other key stays. unsaved counts entries not on disk."""

    def answer(key: str) -> Say | None:
        if key != "q":
            return Say("still here")
        leave()
        return None

    if unsaved:
        count = "1 entry" if unsaved == 1 else f"{unsaved} entries"
        return Prompt(
            Say("q again leaves and tells them, other keys stay", alert=f"{count} NOT SAVED"), answer
        )
    return Prompt(Say("the terminal's own colours come, maybe white", alert="q again leaves"), answer)


def ask_seeing(walker: Walker, now_s: Callable[[], float]) -> Prompt:
    """Ask for the seeing on Antoniadi's scale."""

    def answer(key: str) -> Say | None:
        if key in "12345" and len(key) == 1:
            return walker.seeing(SEEING[int(key) - 1], now_s())
        return DROPPED

    return Prompt(Say("seeing, Antoniadi: 1 perfect .. 5 very bad; any other key: as it was"), answer)


def ask_air(walker: Walker, now_s: Callable[[], float]) -> Prompt:
    """Ask for the transparency (digits 1 to 5) or the dew (letters n, s, h)."""

    def answer(key: str) -> Say | None:
        if key in "12345" and len(key) == 1:
            return walker.transparency(int(key), now_s())
        if key in DEW:
            return walker.dew(DEW[key], now_s())
        return DROPPED

    return Prompt(Say("air: 1 milky .. 5 as clear as it gets; dew: n none  s some  h heavy"), answer)


@dataclass
class Clearing:
    """A question: which compass points are clear? Digits switch them, enter keeps the answer, esc drops it.

    Any other key does nothing, for several keys make one answer, and a slip must not cost those before it.
    """

    walker: Walker
    now_s: Callable[[], float]
    clear: set[str] = field(default_factory=set)

    def question(self) -> Prompt:
        """Return the question with the points chosen so far."""
        marks = " ".join(f"{n}{name}{'*' if name in self.clear else ''}" for n, name in enumerate(OCTANTS, 1))
        return Prompt(Say(f"clear where? {marks}  0 all  enter keeps", hint="esc drops"), self.answer)

    def answer(self, key: str) -> Say | None:
        """Switch a point, choose all, keep the answer or drop it; None for what the question goes on with."""
        if key == "enter":
            return self.walker.clear_octants(frozenset(self.clear), self.now_s())
        if key == "0":
            return self.walker.clear_octants(frozenset(OCTANTS), self.now_s())
        if len(key) == 1 and key in "12345678":
            self.clear ^= {OCTANTS[int(key) - 1]}
        return DROPPED if key == "escape" else None
