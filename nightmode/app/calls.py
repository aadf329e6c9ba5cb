"""What happens by itself as the night goes on, for the voice: each once, soon after it has happened."""

from nightmode.app.walker import Walker
from nightmode.night.table import Night
from nightmode.night.telling import happenings, last_calls
from nightmode.walk.order import LAST_CALL_S, Standing
from nightmode.wording.spoken.moments import Happening

#: What happened so long ago, on the night's clock, is no longer told.
STALE_S = 300.0


class Calls:
    """Twilight, Moon, moments at a planet, last calls: counts on from the last time it was asked."""

    def __init__(self, walker: Walker, now_s: float) -> None:
        """Begin to count from now."""
        self._walker, self._until_s = walker, now_s
        self._night: Night | None = None
        self._happenings: tuple[Happening, ...] = ()

    def due(self, now_s: float) -> str:
        """Return what has happened since the last time, one sentence a call, or nothing."""
        night = self._walker.night
        if self._night is not night:
            self._night, self._happenings = night, happenings(night)
        since_s = max(self._until_s, now_s - STALE_S)
        calls = last_calls(night, self._ending(since_s, now_s))
        found = [one for one in (*self._happenings, *calls) if since_s < one.at_s <= now_s]
        first = min(found, key=lambda one: one.at_s, default=None)
        self._until_s = first.at_s if first else now_s
        return first.sentence if first else ""

    def _ending(self, since_s: float, now_s: float) -> list[int]:
        """Return the rows still open of which a stretch has its last call in this time: few of many."""
        first_s, last_s = since_s + LAST_CALL_S, now_s + LAST_CALL_S
        return [
            row
            for row, one in enumerate(self._walker.night.targets)
            if any(first_s < stretch.end <= last_s for stretch in one.usable)
            and self._walker.standing(row, now_s) in {Standing.TO_DO, Standing.SET_ASIDE}
        ]
