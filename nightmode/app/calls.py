"""What happens by itself as the night goes on, for the voice: each once, soon after it has happened."""

from nightmode.app.walker import Walker
from nightmode.night.telling import happenings
from nightmode.walk.order import Standing

#: What happened so long ago, on the night's clock, is no longer told.
STALE_S = 300.0


class Calls:
    """Twilight, Moon, moments at a planet, last calls: counts on from the last time it was asked."""

    def __init__(self, walker: Walker, now_s: float) -> None:
        """Begin to count from now."""
        self._walker, self._until_s = walker, now_s

    def due(self, now_s: float) -> str:
        """Return what has happened since the last time, one sentence a call, or nothing."""
        since_s = max(self._until_s, now_s - STALE_S)

        def is_open(row: int) -> bool:
            return self._walker.standing(row, now_s) in {Standing.TO_DO, Standing.SET_ASIDE}

        found = happenings(self._walker.night, since_s, now_s, is_open)
        self._until_s = found[0].at_s if found else now_s
        return found[0].sentence if found else ""
