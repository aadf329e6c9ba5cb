"""The order of the targets and what is offered next, by the rules of the walk."""

from collections.abc import Sequence
from enum import StrEnum
from functools import partial

from nightmode.arrays import Interval
from nightmode.model.session import Outcome
from nightmode.records import Record
from nightmode.walk.state import OCTANTS, State
from nightmode.walk.usable import Usable

#: A target set aside comes back when it has less than this left (our own rule).
LAST_CALL_S = 30 * 60.0


class Standing(StrEnum):
    """Where a target stands: exactly one of these at any moment."""

    TO_DO = "to do"
    DONE = "done"
    SET_ASIDE = "set aside"
    MISSED = "missed"


class Chance(Record):
    """What the order needs to know of one target."""

    key: str
    ra_deg: float
    usable: tuple[Usable, ...]
    #: What decides before right ascension between targets that end together, smallest first.
    tie: tuple[float, ...] = ()
    #: Stretches in which it is worth leaving the order for it: a shadow crosses Jupiter.
    looks: tuple[Interval, ...] = ()

    def stretch(self, now_s: float) -> Usable | None:
        """Return the usable stretch that holds now, else the next one, else None."""
        for stretch in self.usable:  # a plain loop: asked for every target at every drawing
            if stretch.end_s > now_s:
                return stretch
        return None

    def is_up(self, now_s: float) -> bool:
        """Return whether the target can be observed now."""
        stretch = self.stretch(now_s)
        return stretch is not None and stretch.start_s <= now_s

    def has_its_moment(self, now_s: float) -> bool:
        """Return whether something happens at it now, or is about to."""
        return any(start <= now_s < end for start, end in self.looks)


Rank = tuple[int, float, tuple[float, ...], float, str]


def walk_order(chances: Sequence[Chance], now_s: float) -> list[int]:
    """Return the indices of the targets in walk order, seen from now.

    By setting time, earliest first, the end of the light on a feature of the Moon counting as its setting;
    then those that outlast the night, the one lowest at its end first; ties as each chance says, then by
    right ascension; last those whose chance is over or never comes.
    """
    return sorted(range(len(chances)), key=partial(_rank_of, chances, now_s))


def _rank_of(chances: Sequence[Chance], now_s: float, index: int) -> Rank:
    return _rank(chances[index], now_s)


def _rank(chance: Chance, now_s: float) -> Rank:
    stretch = chance.stretch(now_s)
    if stretch is None:
        last = chance.usable[-1].end_s if chance.usable else float("inf")
        return 2, last, chance.tie, chance.ra_deg, chance.key
    if stretch.ends_by == "dawn":
        return 1, stretch.end_altitude_deg, chance.tie, chance.ra_deg, chance.key
    return 0, stretch.end_s, chance.tie, chance.ra_deg, chance.key


def standing(chance: Chance, state: State, now_s: float) -> Standing:
    """Return where a target stands. One that set, or never comes up, without a tick is missed."""
    outcome = state.outcome(chance.key)
    if outcome not in (None, Outcome.SET_ASIDE):
        return Standing.DONE
    if chance.stretch(now_s) is None:
        return Standing.MISSED
    return Standing.SET_ASIDE if outcome is Outcome.SET_ASIDE else Standing.TO_DO


def on_last_call(chance: Chance, state: State, now_s: float) -> bool:
    """Return whether a target is about to set that was set aside before its last call began."""
    stretch, tick = chance.stretch(now_s), state.ticks.get(chance.key)
    if stretch is None or tick is None or tick.outcome is not Outcome.SET_ASIDE:
        return False
    last_call_s = stretch.end_s - LAST_CALL_S
    return now_s >= last_call_s and tick.at.timestamp() < last_call_s


def queue(
    chances: Sequence[Chance], state: State, now_s: float, azimuth_deg: Sequence[float] | None = None
) -> list[int]:
    """Return the indices of what can be looked at now, in the order in which it is offered.

    To do and up, in walk order, with those set aside that are about to set among them, and first of all what
    has its moment now; then the others set aside. azimuth_deg, one per target, keeps what stands in a clear
    part of the sky.
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
    return first + sorted(later, key=rank)


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


def minutes_per_target(chances: Sequence[Chance], state: State, now_s: float) -> float | None:
    """Return the pace in minutes a target that lets everything up now be reached before it sets.

    For each deadline, the minutes left are shared among all that must be done by then; the tightest
    share counts. None when nothing to do is up. Common practice, no published source.
    """
    ends = sorted(
        stretch.end_s
        for chance in chances
        if (stretch := chance.stretch(now_s)) is not None
        and stretch.start_s <= now_s
        and standing(chance, state, now_s) is Standing.TO_DO
    )
    if not ends:
        return None
    return min((end - now_s) / 60 / count for count, end in enumerate(ends, start=1))
