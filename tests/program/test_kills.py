"""The program killed at random moments while keys come in at speed: what it had confirmed is on the disk."""

import random
import re
import time
from itertools import groupby

import pytest

from nightmode.app.hand import FIRST_REPEAT_S
from nightmode.catalog.columns import all_objects
from nightmode.files.places import shipped
from nightmode.files.toml import read_toml
from nightmode.model.observer import PHRASES
from nightmode.model.plan import Plan
from nightmode.model.session import Event
from nightmode.session.journal import read
from nightmode.walk.state import UNDOABLE, apply, fold
from nightmode.wording.entries import ADDED

TICKS = {" ": "seen", "s": "suspected", "x": "not seen", "z": "set aside"}
_CONFIRMED = re.compile(
    r"^ ([A-Z][^:]*: (?:seen|suspected|not seen|set aside)|(?:noted on|undone:) .+|.+ is added for tonight)$"
)
#: More than this many ticks at once would leave nothing up to tick.
MOST_TICKED = 8
#: How often a target is added: the night is opened anew for it, and keys come faster than that can go on.
ADDS = 0.02
#: So many messages at least are seen before a kill, or it would have looked at next to nothing.
LEAST_SEEN = 3
#: 10,000 kills, in pieces that can be run side by side, each with chances of its own.
PIECES, KILLS_A_PIECE = 25, 400


class Typist:
    """Chooses keys, and knows what entry each of them makes."""

    def __init__(self, seed, phrases):
        self._chance = random.Random(seed)
        self._numbers = {str(number): phrase for number, phrase in enumerate(phrases, 1)}
        planned = {target.name for target in read_toml(shipped("plans") / "hillside.toml", Plan).target}
        others = [name for name in all_objects().name if name.startswith("NGC ") and name not in planned]
        self._not_planned = iter(self._chance.sample(others, len(others)))
        self._rested_s = {}
        self._number = 0

    def between(self, low, high):
        return self._chance.uniform(low, high)

    def go_on_from(self, state):
        """Begin where the session stands."""
        self.live = [entry.event is Event.TICK for entry in state.live if entry.event in UNDOABLE]

    def next_key(self):
        """Return keys to press at once and the (event, outcome or note) that they make.

        No key comes again so soon that it would be taken for one that is held.
        """
        self._number += 1
        self._rested_s = {key: at_s for key, at_s in self._rested_s.items() if at_s > time.monotonic()}
        rested = [key for key in [*TICKS, *self._numbers, "u"] if key not in self._rested_s]
        if not self.live:
            rested = [key for key in rested if key != "u"]
        if sum(self.live) >= MOST_TICKED:
            rested = [key for key in rested if key not in TICKS]
        key = "/" if self._chance.random() < ADDS else self._chance.choice([*rested, "n"])
        self._rested_s[key] = time.monotonic() + FIRST_REPEAT_S + 0.2
        if key == "u":
            self.live.pop()
            return key, (Event.UNDO, "")
        self.live.append(key in TICKS)
        if key in TICKS:
            return key, (Event.TICK, TICKS[key])
        if key == "/":
            return f"/{next(self._not_planned)}\r", (Event.ADD, "")
        if key == "n":
            return f"nmark {self._number}\r", (Event.NOTE, f"mark {self._number}")
        return key, (Event.NOTE, self._numbers[key])


def what(entry):
    return entry.event, entry.outcome.value if entry.outcome else entry.note


def keyed(entries):
    """Return the entries that keys made."""
    return [entry for entry in entries if entry.event in UNDOABLE | {Event.UNDO}]


def messages(before, entries):
    """Return what the screen says of each of these entries, once it is on the disk."""
    told, state = [], before
    for entry in entries:
        if entry.event is Event.UNDO:
            last = state.last_undoable
            what_was = last.outcome.value if last.outcome else last.note or ADDED
            told.append(f"undone: {last.target}: {what_was}")
        elif entry.event is Event.ADD:
            told.append(f"{entry.target} is {ADDED}")
        elif entry.event is Event.NOTE:
            told.append(f"noted on {entry.target}: {entry.note}")
        else:
            told.append(f"{entry.target}: {entry.outcome.value}")
        state = apply(state, entry)
    return told


def confirmed(program):
    """Return the messages that stood on the screen, in order; one that stays is drawn again now and then."""
    rows = (line.rstrip() for line in program.said.splitlines())
    found = [match[1] for row in rows if (match := _CONFIRMED.match(row))]
    return [text for text, _ in groupby(found)]


def is_subsequence(some, whole):
    rest = iter(whole)
    return all(text in rest for text in some)


def type_at_speed(program, typist, seconds):
    """Press keys until the time is up and some are confirmed; return what they should have made."""
    made = []
    until = time.monotonic() + seconds
    while time.monotonic() < until or len(confirmed(program)) < LEAST_SEEN:
        assert time.monotonic() < until + 40
        keys, makes = typist.next_key()
        made.append(makes)
        program.press(keys)
        program.run(typist.between(0, 0.04))
    return made


@pytest.mark.parametrize(
    ("kills", "seed"),
    [
        pytest.param(4, 2027, id="4"),
        *(
            pytest.param(KILLS_A_PIECE, seed, id=f"piece-{seed:02}", marks=pytest.mark.long)
            for seed in range(1, PIECES + 1)
        ),
    ],
)
def test_killed_at_any_moment_all_that_the_screen_confirmed_is_there_once(
    start, demo_journal, kills, seed, record_property
):
    typist = Typist(seed, PHRASES)
    seen = written = 0
    for kill in range(kills):
        before = read(demo_journal).entries if demo_journal.exists() else ()
        typist.go_on_from(fold(before))
        in_its_start = kill % 4 == 2
        program = start("demo", "--at", "21:00", cold=in_its_start)
        if in_its_start:
            program.run(typist.between(0, 1.2))
            made = []
        else:
            program.wait_for("going on" if demo_journal.exists() and before else "to do")
            made = type_at_speed(program, typist, typist.between(0.05, 0.6))
        assert program.kill() == -9
        if not demo_journal.exists():
            continue
        found = read(demo_journal)
        assert found.entries[: len(before)] == before
        entries = keyed(found.entries[len(before) :])
        assert [what(entry) for entry in entries] == made[: len(entries)]
        on_screen = confirmed(program)
        told = messages(fold(before), entries)
        assert is_subsequence(on_screen, told), (on_screen, told)
        seen += len(on_screen)
        written += len(entries)
        if kill % 40 == 20:  # a night has an end
            demo_journal.rename(demo_journal.with_suffix(f".{kill}"))
    record_property("confirmed", seen)
    record_property("written", written)
    assert seen >= LEAST_SEEN * kills // 2
    program = start("demo")
    program.wait_for("going on: ")
    program.press("q", then="q again leaves")
    program.press("q")
    assert program.end() == 0
    assert read(demo_journal).entries[-1].event is Event.PAUSE
