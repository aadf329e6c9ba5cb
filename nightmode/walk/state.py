"""What the entries of a session add up to: State and the one function that advances it."""

import datetime as dt
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from types import MappingProxyType

from nightmode.model.session import Entry, Event, Outcome

#: Events that the undo key takes back; the others only tell what happened.
UNDOABLE = frozenset({Event.TICK, Event.NOTE, Event.LIGHT, Event.CLOUDS, Event.CLEAR, Event.SKY, Event.CHECK})
OCTANTS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")

#: Notes on one target, the newest first: (note, those before it). One more note leaves the old ones shared.
_Notes = tuple[str, "_Notes | None"]


@lru_cache(20_000)
def target_key(name: str) -> str:
    """Return what two spellings of one name have in common: letters and digits without case or blanks."""
    return re.sub(r"\s+", "", name).casefold()


@dataclass
class Facts:
    """What can be asked of the live entries, kept at hand so that nobody has to search them."""

    ticks: dict[str, Entry] = field(default_factory=dict)
    notes: dict[str, _Notes] = field(default_factory=dict)
    white_light_at: dt.datetime | None = None
    sky_reading: Entry | None = None
    clear_octants: frozenset[str] = frozenset(OCTANTS)

    def take(self, entry: Entry) -> None:
        """Take in one more entry, the newest."""
        event = entry.event
        if entry.target and (event is Event.TICK or entry.note):
            key = target_key(entry.target)
            if event is Event.TICK:
                self.ticks[key] = entry
            if entry.note:
                self.notes[key] = (entry.note, self.notes.get(key))
        if event is Event.LIGHT:
            self.white_light_at = entry.at
        elif event is Event.SKY:
            self.sky_reading = entry
        elif event is Event.CLEAR:
            self.clear_octants = frozenset(OCTANTS)
        elif event is Event.CLOUDS:
            self.clear_octants = frozenset(entry.note.split()) & frozenset(OCTANTS)

    def after(self, entry: Entry) -> "Facts":
        """Return the facts with one more entry; these stay as they are."""
        more = replace(self, ticks=self.ticks.copy(), notes=self.notes.copy())
        more.take(entry)
        return more


@dataclass(frozen=True)
class State:
    """The session so far: made by `fold` and `apply`.

    live holds the entries that no undo has taken back; facts is what they say, and follows from them.
    """

    live: tuple[Entry, ...] = ()
    facts: Facts = field(default_factory=Facts, compare=False, repr=False)

    @property
    def ticks(self) -> Mapping[str, Entry]:
        """The last tick of each target, by key."""
        return MappingProxyType(self.facts.ticks)

    def outcome(self, key: str) -> Outcome | None:
        """Return the last outcome of a target, or None."""
        tick = self.facts.ticks.get(key)
        return tick.outcome if tick else None

    def notes(self, key: str) -> list[str]:
        """Return what was jotted about a target, oldest first."""
        found, left = [], self.facts.notes.get(key)
        while left is not None:
            note, left = left
            found.append(note)
        return found[::-1]

    @property
    def white_light_at(self) -> dt.datetime | None:
        """When white light was last reported."""
        return self.facts.white_light_at

    @property
    def sky_reading(self) -> Entry | None:
        """The entry of the observer's last reading of the sky."""
        return self.facts.sky_reading

    @property
    def clear_octants(self) -> frozenset[str]:
        """The compass points that are clear; all of them unless clouds were reported."""
        return self.facts.clear_octants

    @property
    def last_undoable(self) -> Entry | None:
        """The entry that the next undo takes back, or None."""
        return next((entry for entry in reversed(self.live) if entry.event in UNDOABLE), None)


def apply(state: State, entry: Entry) -> State:
    """Return the state after one more entry. An undo takes back the last undoable entry still live."""
    if entry.event is not Event.UNDO:
        return State((*state.live, entry), state.facts.after(entry))
    for index in range(len(state.live) - 1, -1, -1):
        if state.live[index].event in UNDOABLE:
            return _state_of(state.live[:index] + state.live[index + 1 :])
    return state


def fold(entries: Iterable[Entry]) -> State:
    """Return the state that a list of entries adds up to: `apply` on one after the other, in one pass."""
    live: list[Entry | None] = []
    undoable: list[int] = []  # where in live the next undo finds what it takes back
    for entry in entries:
        if entry.event is Event.UNDO:
            if undoable:
                live[undoable.pop()] = None
            continue
        if entry.event in UNDOABLE:
            undoable.append(len(live))
        live.append(entry)
    return _state_of(tuple(entry for entry in live if entry is not None))


def _state_of(live: tuple[Entry, ...]) -> State:
    facts = Facts()
    for entry in live:
        facts.take(entry)
    return State(live, facts)
