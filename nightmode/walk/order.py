"""The order of the targets and what is offered next, by the rules of the walk."""

from collections.abc import Sequence, Set
from enum import Enum, StrEnum, auto
from functools import partial

import numpy as np

from nightmode.arrays import Array, Flags, Interval
from nightmode.model.session import Outcome
from nightmode.records import Record
from nightmode.walk.state import OCTANTS, State
from nightmode.walk.usable import Ending, Usable

#: A target set aside comes back when it has less than this left (our own rule).
LAST_CALL_S = 30 * 60.0


class Standing(StrEnum):
    """The state of a target in the walk: exactly one of these at any moment."""

    TO_DO = "to do"
    DONE = "done"
    SET_ASIDE = "set aside"
    MISSED = "missed"


class Idle(Enum):
    """Why there is nothing to look at just now."""

    NO_TARGETS = auto()
    NEVER_UP = auto()
    NOT_NOW = auto()
    NOT_IN_THE_CLEAR = auto()
    ALL_CLOUDED = auto()
    DONE = auto()


class Chance(Record):
    """What is needed of one target to put it in order."""

    key: str
    ra_deg: float
    usable: tuple[Usable, ...]
    #: Decides between targets that end together, before right ascension does; the smallest first.
    tie: tuple[float, ...] = ()
    #: Stretches in which it comes before the order, as when a shadow crosses Jupiter.
    watch: tuple[Interval, ...] = ()

    def stretch(self, now_s: float) -> Usable | None:
        """Return the usable stretch that holds now_s, else the next one, else None."""
        for stretch in self.usable:  # a plain loop, for speed: called for every target at every drawing
            if stretch.end_s > now_s:
                return stretch
        return None

    def is_up(self, now_s: float) -> bool:
        """Return whether the target can be observed now."""
        stretch = self.stretch(now_s)
        return stretch is not None and stretch.start_s <= now_s

    def has_its_moment(self, now_s: float) -> bool:
        """Return whether something is happening at the target, or is about to happen."""
        return any(start <= now_s < end for start, end in self.watch)


Rank = tuple[int, float, tuple[float, ...], float, str]


def walk_order(chances: Sequence[Chance], now_s: float) -> list[int]:
    """Return the indices of the targets in walk order, seen from now.

    First those that set, or lose their light, in this night, by that time; then those still up at its end,
    the lowest then first; last those that cannot be observed any more. Ties are decided by `tie`, then by
    right ascension.
    """
    return sorted(range(len(chances)), key=partial(_rank_of, chances, now_s))


def _rank_of(chances: Sequence[Chance], now_s: float, index: int) -> Rank:
    return _rank(chances[index], now_s)


def _rank(chance: Chance, now_s: float) -> Rank:
    stretch = chance.stretch(now_s)
    if stretch is None:
        last = chance.usable[-1].end_s if chance.usable else float("inf")
        return 2, last, chance.tie, chance.ra_deg, chance.key
    if stretch.ends_by is Ending.DAWN:
        return 1, stretch.end_altitude_deg, chance.tie, chance.ra_deg, chance.key
    return 0, stretch.end_s, chance.tie, chance.ra_deg, chance.key


def standing(chance: Chance, state: State, now_s: float) -> Standing:
    """Return the state of a target. One that has set, or never comes up, without a tick is missed."""
    outcome = state.outcome(chance.key)
    if outcome not in (None, Outcome.SET_ASIDE):
        return Standing.DONE
    if chance.stretch(now_s) is None:
        return Standing.MISSED
    return Standing.SET_ASIDE if outcome is Outcome.SET_ASIDE else Standing.TO_DO


def on_last_call(chance: Chance, state: State, now_s: float) -> bool:
    """Return whether a target is about to set that had been set aside before that."""
    stretch, tick = chance.stretch(now_s), state.ticks.get(chance.key)
    if stretch is None or tick is None or tick.outcome is not Outcome.SET_ASIDE:
        return False
    last_call_s = stretch.end_s - LAST_CALL_S
    return now_s >= last_call_s and tick.at.timestamp() < last_call_s


def queue(
    chances: Sequence[Chance], state: State, now_s: float, azimuth_deg: Sequence[float] | None = None
) -> list[int]:
    """Return the indices of the targets that can be looked at now, in the order in which they are offered.

    First those at which something is happening; then those to do, in walk order, and among them those set
    aside that are about to set; last the others set aside, those first that were set aside least often, and
    the one set aside just now behind all: so it makes room for the others. With azimuth_deg, one for each
    target, only those in a clear part of the sky are kept.
    """
    first, later = [], []
    for index, chance in enumerate(chances):
        if not chance.is_up(now_s):
            continue
        if azimuth_deg is not None and octant(azimuth_deg[index]) not in state.clear_octants:
            continue
        stands = standing(chance, state, now_s)
        if stands is Standing.TO_DO or on_last_call(chance, state, now_s):
            first.append(index)
        elif stands is Standing.SET_ASIDE:
            later.append(index)
    rank = partial(_rank_of, chances, now_s)
    first.sort(key=lambda index: (not chances[index].has_its_moment(now_s), rank(index)))
    last = state.last_ticked

    def turn(index: int) -> tuple[bool, int, Rank]:
        key = chances[index].key
        return key == last, state.times_set_aside(key), rank(index)

    return first + sorted(later, key=turn)


def coming(chances: Sequence[Chance], state: State, now_s: float) -> list[tuple[float, int]]:
    """Return (start, index) of targets to do or set aside that are not up yet, soonest first."""
    waiting = []
    for index, chance in enumerate(chances):
        stretch = chance.stretch(now_s)
        if stretch is None or stretch.start_s <= now_s:
            continue
        if standing(chance, state, now_s) in (Standing.TO_DO, Standing.SET_ASIDE):
            waiting.append((stretch.start_s, index))
    return sorted(waiting)


def octant(azimuth_deg: float) -> str:
    """Return the compass point, one of eight, nearest to an azimuth."""
    return OCTANTS[round(azimuth_deg / 45.0) % 8]


def in_octants(azimuth_deg: Array, points: Set[str]) -> Flags:
    """Return which azimuths, (N,), are nearest to one of these compass points."""
    chosen = np.array([point in points for point in OCTANTS])
    return np.asarray(chosen[np.round(azimuth_deg / 45.0).astype(int) % len(OCTANTS)])


def minutes_per_target(
    chances: Sequence[Chance], state: State, now_s: float, azimuth_deg: Sequence[float] | None = None
) -> float | None:
    """Return the pace, in minutes for each target, at which all that is up now can be reached before it sets.

    For each setting time, the minutes until then are divided by the number of targets that set by then; the
    least result counts. None if nothing that is to do is up. Common practice, no published source. With
    azimuth_deg, one for each target, only those in a clear part of the sky count.
    """
    ends = sorted(
        stretch.end_s
        for index, chance in enumerate(chances)
        if (stretch := chance.stretch(now_s)) is not None
        and stretch.start_s <= now_s
        and standing(chance, state, now_s) is Standing.TO_DO
        and (azimuth_deg is None or octant(azimuth_deg[index]) in state.clear_octants)
    )
    if not ends:
        return None
    return min((end - now_s) / 60 / count for count, end in enumerate(ends, start=1))
