"""What the entries of a session add up to: State and the one function that advances it."""

import datetime as dt
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

from nightmode.model.session import Entry, Event, Outcome

#: Events that the undo key takes back; the others only tell what happened.
UNDOABLE = frozenset({Event.TICK, Event.NOTE, Event.LIGHT, Event.CLOUDS, Event.CLEAR, Event.SKY, Event.CHECK})
OCTANTS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")


def target_key(name: str) -> str:
    """Return what two spellings of one name have in common: letters and digits without case or blanks."""
    return re.sub(r"\s+", "", name).casefold()


@dataclass(frozen=True)
class State:
    """The session so far. `live` holds the entries that no undo has taken back."""

    live: tuple[Entry, ...] = ()

    @cached_property
    def ticks(self) -> Mapping[str, Entry]:
        """The last tick of each target, by key."""
        ticks = (entry for entry in self.live if entry.event is Event.TICK)
        return MappingProxyType({target_key(entry.target): entry for entry in ticks if entry.target})

    def outcome(self, key: str) -> Outcome | None:
        """Return the last outcome of a target, or None."""
        tick = self.ticks.get(key)
        return tick.outcome if tick else None

    def notes(self, key: str) -> list[str]:
        """Return what was jotted about a target, oldest first."""
        about = (entry for entry in self.live if entry.target and target_key(entry.target) == key)
        return [entry.note for entry in about if entry.note]

    @property
    def white_light_at(self) -> dt.datetime | None:
        """When white light was last reported."""
        return next((entry.at for entry in reversed(self.live) if entry.event is Event.LIGHT), None)

    @cached_property
    def sky_reading(self) -> Entry | None:
        """The entry of the observer's last reading of the sky."""
        return next((entry for entry in reversed(self.live) if entry.event is Event.SKY), None)

    @property
    def clear_octants(self) -> frozenset[str]:
        """The compass points that are clear; all of them unless clouds were reported."""
        for entry in reversed(self.live):
            if entry.event is Event.CLEAR:
                break
            if entry.event is Event.CLOUDS:
                return frozenset(entry.note.split()) & frozenset(OCTANTS)
        return frozenset(OCTANTS)

    @property
    def last_undoable(self) -> Entry | None:
        """The entry that the next undo takes back, or None."""
        return next((entry for entry in reversed(self.live) if entry.event in UNDOABLE), None)


def apply(state: State, entry: Entry) -> State:
    """Return the state after one more entry. An undo takes back the last undoable entry still live."""
    if entry.event is not Event.UNDO:
        return State(live=(*state.live, entry))
    for index in range(len(state.live) - 1, -1, -1):
        if state.live[index].event in UNDOABLE:
            return State(live=state.live[:index] + state.live[index + 1 :])
    return state


def fold(entries: Iterable[Entry]) -> State:
    """Return the state that a list of entries adds up to."""
    state = State()
    for entry in entries:
        state = apply(state, entry)
    return state
