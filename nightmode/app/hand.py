"""Tells a key that is pressed from one that is held, bounces, or is hit twice by a cold finger. Pure.

A keyboard repeats a key that is held: first after a quarter of a second to a second, then ten to forty times
a second. Nothing else marks a repeat, so only the times of arrival can tell.
"""

from enum import Enum

#: A key counts once; it counts again when it has not arrived for this long.
PAUSE_S = 0.5
#: Repeats may begin this long after the key went down (the longest delay that desktops offer) ...
FIRST_REPEAT_S = 1.1
#: ... and the next repeat then comes within this time.
NEXT_REPEAT_S = 0.12


class Press(Enum):
    """What to do with a key that has arrived."""

    COUNTS = "it counts at once"
    HELD = "it is the key before, held: it does not count"
    PERHAPS = "it counts unless the same key comes again within NEXT_REPEAT_S"


class Hand:
    """Tells presses from repeats, key by key. Times are seconds on a clock that only runs forward."""

    def __init__(self, pause_s: float = PAUSE_S) -> None:
        """Begin with no key down. With pause_s = 0 every key counts."""
        self._pause_s = pause_s
        self._last_s: dict[str, float] = {}
        self._held: set[str] = set()
        self._perhaps: str | None = None

    def forget(self, key: str) -> None:
        """Treat the next press of this key as its first."""
        self._last_s.pop(key, None)

    def press(self, key: str, at_s: float, twice: bool = False) -> Press:
        """Return what to do with a key that arrived at at_s.

        twice  two presses of this key have a meaning, however fast: only a third one shows that it is held
        """
        since_s = at_s - self._last_s.get(key, float("-inf"))
        self._last_s[key] = at_s
        if since_s >= self._pause_s:
            self._held.discard(key)
        if self._perhaps == key and since_s <= NEXT_REPEAT_S:
            self._held.add(key)
        self._perhaps = None
        if key in self._held or (since_s < self._pause_s and not twice):
            return Press.HELD
        if self._pause_s and since_s < FIRST_REPEAT_S:
            self._perhaps = key
            return Press.PERHAPS
        return Press.COUNTS
