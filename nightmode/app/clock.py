"""The clock of the screen: the real time, or for a rehearsal a time of its own."""

import time
from collections.abc import Callable

#: From this difference between the system clock and the steady clock on, the system clock has been set.
JUMP_S = 5.0


def _steady_s() -> float:
    """Return seconds of a clock that nobody can set; on most systems it runs on while the laptop sleeps."""
    boottime = getattr(time, "CLOCK_BOOTTIME", None)
    return time.clock_gettime(boottime) if boottime is not None else time.monotonic()


class Wakefulness:
    """Notices that the laptop has slept, or that the program was stopped for a while."""

    def __init__(self, longest_s: float, steady_s: Callable[[], float] = _steady_s) -> None:
        """Begin awake. While the program runs, `has_slept` is called at least every longest_s seconds."""
        self._longest_s, self._steady_s = longest_s, steady_s
        self._looked_s = steady_s()

    def has_slept(self) -> bool:
        """Return whether it has slept since the last call."""
        before_s, self._looked_s = self._looked_s, self._steady_s()
        return self._looked_s - before_s > self._longest_s


class Clock:
    """Tells the time in Unix seconds.

    It reads the system clock once and then counts by a steady clock. So a system clock that is set back or
    forward during the night changes neither the order of entries nor elapsed times. For a rehearsal it starts
    at at_s instead, and runs `rate` times as fast.
    """

    def __init__(self, at_s: float | None = None, rate: float = 1.0) -> None:
        self._began_steady_s = _steady_s()
        self._offset_s = time.time() - self._began_steady_s
        self._began_s = time.time() if at_s is None else at_s
        self.rate = rate
        self.is_real = at_s is None and rate == 1.0

    def now_s(self) -> float:
        """Return the time in Unix seconds."""
        return self._began_s + self.rate * (_steady_s() - self._began_steady_s)

    def jump_s(self) -> float:
        """Return by how many seconds the system clock has been set since the last call, 0.0 for not at all.

        Where the steady clock stops during sleep, a jump forward is taken for sleep: the clock follows it.
        """
        offset_s = time.time() - _steady_s()
        jump_s = offset_s - self._offset_s
        if abs(jump_s) < JUMP_S:
            return 0.0
        self._offset_s = offset_s
        if jump_s > 0 and self.is_real and not hasattr(time, "CLOCK_BOOTTIME"):
            self._began_s += jump_s
            return 0.0
        return jump_s
