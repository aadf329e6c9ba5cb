"""What the voice tells unasked as the night goes on: each event once, soon after it has happened."""

from nightmode.app.walker import Walker
from nightmode.night.telling import happenings
from nightmode.walk.order import Standing

#: What happened longer ago than this, on the night's clock, is no longer told.
STALE_S = 300.0


class Calls:
    """Twilight, Moon, moments at a planet, last calls: each call goes on where the last one ended."""

    def __init__(self, walker: Walker, now_s: float) -> None:
        """Begin now: nothing earlier is told."""
        self._walker, self._until_s = walker, now_s

    def due(self, now_s: float) -> str:
        """Return the first thing that has happened since the last call as one sentence, "" for nothing."""
        since_s = max(self._until_s, now_s - STALE_S)

        def is_open(row: int) -> bool:
            return self._walker.standing(row, now_s) in {Standing.TO_DO, Standing.SET_ASIDE}

        found = happenings(self._walker.night, since_s, now_s, is_open)
        self._until_s = found[0].at_s if found else now_s
        return found[0].sentence if found else ""
