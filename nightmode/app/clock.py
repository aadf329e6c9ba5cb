"""The clock the screen runs by: the real one, or one of its own for rehearsals."""

import time
from collections.abc import Callable

#: A difference between the system clock and the steady one that counts as a jump.
JUMP_S = 5.0


def _steady_s() -> float:
    """Seconds that nobody can set; they go on while the laptop sleeps where the system offers that."""
    boottime = getattr(time, "CLOCK_BOOTTIME", None)
    return time.clock_gettime(boottime) if boottime is not None else time.monotonic()


class Wakefulness:
    """Notices that the laptop slept, or the program was stopped, while the night went on."""

    def __init__(self, longest_s: float, steady_s: Callable[[], float] = _steady_s) -> None:
        """Begin awake; between two looks no more than so many seconds pass while the program runs."""
        self._longest_s, self._steady_s = longest_s, steady_s
        self._looked_s = steady_s()

    def has_slept(self) -> bool:
        """Whether it slept since the last look."""
        before_s, self._looked_s = self._looked_s, self._steady_s()
        return self._looked_s - before_s > self._longest_s


class Clock:
    """Tells the time in Unix seconds.

    It reads the system clock once and counts on by the steady one, so that a system clock set back
    or forward during the night changes neither order nor elapsed times. With at_s it starts there
    instead, and with rate it runs so many times faster: a rehearsal.
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
        """Return by how much the system clock has been set since the last call, 0.0 if it has not.

        On systems whose steady clock stops in sleep a jump forward is taken to be sleep and is followed.
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
