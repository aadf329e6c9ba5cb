"""What there is to look at as the session stands: now, later, or why nothing. Asking changes nothing."""

from collections.abc import Sequence

from nightmode.night.table import Night
from nightmode.walk.order import Idle, Standing, coming, minutes_per_target, octant, queue, standing
from nightmode.walk.state import OCTANTS, State


class Outlook:
    """What a night holds at an instant; who walks through it says which night, and what has been noted."""

    @property
    def night(self) -> Night:
        """The night."""
        raise NotImplementedError

    @property
    def state(self) -> State:
        """The session so far."""
        raise NotImplementedError

    def standing(self, row: int, now_s: float) -> Standing:
        """Return the state of a target in the walk: to do, set aside, done and so on."""
        return standing(self.night.targets[row].chance, self.state, now_s)

    def standings(self, now_s: float) -> list[Standing]:
        """Return the state of each target in the walk, in the order of rows."""
        state = self.state
        return [standing(chance, state, now_s) for chance in self.night.chances]

    def queue(self, now_s: float) -> list[int]:
        """Return the rows of the targets that can be looked at now, in the order in which they come."""
        return queue(self.night.chances, self.state, now_s, self._azimuths_under_clouds(now_s))

    def pace_min(self, now_s: float) -> float | None:
        """Return the minutes that each target in the clear may take, None if nothing to do is up there."""
        azimuth_deg = self._azimuths_under_clouds(now_s)
        return minutes_per_target(self.night.chances, self.state, now_s, azimuth_deg)

    def _azimuths_under_clouds(self, now_s: float) -> Sequence[float] | None:
        return self.night.azimuths_at(now_s) if self._is_clouded else None

    @property
    def _is_clouded(self) -> bool:
        return len(self.state.clear_octants) < len(OCTANTS)

    def coming(self, now_s: float) -> list[tuple[float, int]]:
        """Return (start in Unix seconds, row) of each open target that comes up later, soonest first.

        Of a sky with clouds only what comes up in its clear part.
        """
        clear = self.state.clear_octants
        if not clear:
            return []
        found = coming(self.night.chances, self.state, now_s)
        if not self._is_clouded:
            return found
        return [(at_s, row) for at_s, row in found if octant(self.night.azimuth_at(row, at_s)) in clear]

    def idle(self, now_s: float) -> Idle:
        """Return why nothing can be looked at now; of meaning only while that is so."""
        clear, targets = self.state.clear_octants, self.night.targets
        if not targets:
            return Idle.NO_TARGETS
        if not any(target.usable for target in targets):
            return Idle.NEVER_UP
        if self.coming(now_s):
            return Idle.NOT_IN_THE_CLEAR if self._is_clouded else Idle.NOT_NOW
        if {Standing.TO_DO, Standing.SET_ASIDE} & set(self.standings(now_s)):
            return Idle.NOT_IN_THE_CLEAR if clear else Idle.ALL_CLOUDED
        return Idle.DONE

    def order(self, now_s: float) -> list[int]:
        """Return all rows in walk order."""
        return self.night.in_walk_order(now_s)

    def is_current(self, row: int, now_s: float) -> bool:
        """Return whether a target is among those that can be looked at now."""
        azimuth_deg = [self.night.azimuths_at(now_s)[row]] if self._is_clouded else None
        return bool(queue([self.night.targets[row].chance], self.state, now_s, azimuth_deg))
