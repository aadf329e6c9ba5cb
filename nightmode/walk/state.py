"""The state of a session, which follows from its entries, and the one function that advances it."""

import datetime as dt
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from types import MappingProxyType

from nightmode.constants import COMPASS
from nightmode.model.session import Entry, Event, Outcome

#: Events that the undo key takes back; the others only tell what happened.
UNDOABLE = frozenset(Event) - {Event.UNDO, Event.PAUSE, Event.RESUME}
OCTANTS = COMPASS[::2]

#: Entries of one sort as a linked list, the newest first: (entry, those before it). So states share the old
#: entries, and taking back the newest one gives the list before it. And counts, one at each entry.
_Linked = tuple[Entry, "_Linked | None"]
_Counts = tuple[int, "_Counts | None"]


@lru_cache(20_000)
def target_key(name: str) -> str:
    """Return the key of a name, the same for all its spellings: letters and digits without case or blanks."""
    return re.sub(r"\s+", "", name).casefold()


@dataclass
class Facts:
    """What follows from the live entries, kept so that they need not be searched.

    By key of the target: ticks holds the last tick, earlier the ticks before it, notes the notes, set_aside
    for each tick how often it had been set aside by then without another outcome since.
    """

    ticks: dict[str, Entry] = field(default_factory=dict)
    earlier: dict[str, _Linked] = field(default_factory=dict)
    notes: dict[str, _Linked] = field(default_factory=dict)
    set_aside: dict[str, _Counts] = field(default_factory=dict)
    white_light: _Linked | None = None
    sky: _Linked | None = None
    clouds: _Linked | None = None

    def copy(self) -> "Facts":
        """Return facts that can be changed without changing these."""
        copies = {name: getattr(self, name).copy() for name in ("ticks", "earlier", "notes", "set_aside")}
        return replace(self, **copies)

    def take(self, entry: Entry) -> None:
        """Add one more entry, the newest."""
        event = entry.event
        if entry.target and (event is Event.TICK or entry.note):
            key = target_key(entry.target)
            if event is Event.TICK:
                if (before := self.ticks.get(key)) is not None:
                    self.earlier[key] = (before, self.earlier.get(key))
                self.ticks[key] = entry
                counts = self.set_aside.get(key)
                so_far = counts[0] if counts else 0
                self.set_aside[key] = (so_far + 1 if entry.outcome is Outcome.SET_ASIDE else 0, counts)
            if entry.note:
                self.notes[key] = (entry, self.notes.get(key))
        if event is Event.LIGHT:
            self.white_light = (entry, self.white_light)
        elif event is Event.SKY:
            self.sky = (entry, self.sky)
        elif event in (Event.CLOUDS, Event.CLEAR):
            self.clouds = (entry, self.clouds)

    def drop(self, entry: Entry) -> None:
        """Remove an entry; there must be no later entry about the same thing."""
        event = entry.event
        if entry.target and (event is Event.TICK or entry.note):
            key = target_key(entry.target)
            if event is Event.TICK:
                before = self.earlier.pop(key, None)
                if before is None:
                    del self.ticks[key]
                else:
                    self.ticks[key] = before[0]
                    _put(self.earlier, key, before[1])
                _, counts = self.set_aside.pop(key)
                if counts is not None:
                    self.set_aside[key] = counts
            if entry.note:
                _put(self.notes, key, self.notes.pop(key)[1])
        if event is Event.LIGHT:
            self.white_light = _before(self.white_light)
        elif event is Event.SKY:
            self.sky = _before(self.sky)
        elif event in (Event.CLOUDS, Event.CLEAR):
            self.clouds = _before(self.clouds)


def _put(chains: dict[str, _Linked], key: str, chain: _Linked | None) -> None:
    if chain is not None:
        chains[key] = chain


def _before(chain: _Linked | None) -> _Linked | None:
    return chain[1] if chain else None


@dataclass(frozen=True)
class State:
    """The session so far: made by `fold` and `apply`.

    live holds the entries that no undo has taken back; facts follows from them.
    """

    live: tuple[Entry, ...] = ()
    facts: Facts = field(default_factory=Facts, compare=False, repr=False)

    @property
    def ticks(self) -> Mapping[str, Entry]:
        """The last tick of each target, by key."""
        return MappingProxyType(self.facts.ticks)

    @property
    def done_count(self) -> int:
        """How many targets have been looked at: ticked, and not set aside since."""
        return sum(tick.outcome is not Outcome.SET_ASIDE for tick in self.facts.ticks.values())

    def outcome(self, key: str) -> Outcome | None:
        """Return the last outcome of a target, or None."""
        tick = self.facts.ticks.get(key)
        return tick.outcome if tick else None

    @property
    def last_ticked(self) -> str | None:
        """The key of the target ticked last, or None."""
        ticks = (entry for entry in reversed(self.live) if entry.event is Event.TICK and entry.target)
        last = next(ticks, None)
        return target_key(last.target) if last else None

    def times_set_aside(self, key: str) -> int:
        """Return how often a target has been set aside without another outcome since."""
        counts = self.facts.set_aside.get(key)
        return counts[0] if counts else 0

    def noted(self, key: str) -> list[Entry]:
        """Return the entries with notes on a target, oldest first."""
        found, left = [], self.facts.notes.get(key)
        while left is not None:
            entry, left = left
            found.append(entry)
        return found[::-1]

    def notes(self, key: str) -> list[str]:
        """Return the notes on a target, oldest first."""
        return [entry.note for entry in self.noted(key)]

    @property
    def white_light_at(self) -> dt.datetime | None:
        """When white light was last reported."""
        return self.facts.white_light[0].at if self.facts.white_light else None

    @property
    def sky_reading(self) -> Entry | None:
        """The entry of the observer's last reading of the sky."""
        return self.facts.sky[0] if self.facts.sky else None

    @cached_property
    def clear_octants(self) -> frozenset[str]:
        """The compass points that are clear; all of them unless clouds were reported."""
        last = self.facts.clouds[0] if self.facts.clouds else None
        if last is None or last.event is Event.CLEAR:
            return frozenset(OCTANTS)
        return frozenset(last.note.split()) & frozenset(OCTANTS)

    @property
    def last_undoable(self) -> Entry | None:
        """The entry that the next undo takes back, or None."""
        return next((entry for entry in reversed(self.live) if entry.event in UNDOABLE), None)


def apply(state: State, entry: Entry) -> State:
    """Return the state after one more entry. An undo takes back the last undoable entry still live."""
    if entry.event is not Event.UNDO:
        facts = state.facts.copy()
        facts.take(entry)
        return State((*state.live, entry), facts)
    for index in range(len(state.live) - 1, -1, -1):
        if state.live[index].event in UNDOABLE:
            return _without(state, index)
    return state


def _without(state: State, index: int) -> State:
    """Return the state without one of its entries, the last that can be undone."""
    undone, later = state.live[index], state.live[index + 1 :]
    live = (*state.live[:index], *later)
    if any(entry.note for entry in later):  # a later entry about the same thing: begin again
        return _state_of(live)
    facts = state.facts.copy()
    facts.drop(undone)
    return State(live, facts)


def fold(entries: Iterable[Entry]) -> State:
    """Return the state after a list of entries: the same as `apply` on one after the other, but faster."""
    live: list[Entry | None] = []
    undoable: list[int] = []  # the places in live of the entries that undo can take back
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
