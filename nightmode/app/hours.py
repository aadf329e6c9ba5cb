"""What the time of night means: is the Sun up, is it evening, since when have the eyes been in the dark."""

from nightmode.app.pages.line import Piece
from nightmode.app.walker import Walker
from nightmode.night.table import Night
from nightmode.walk.state import State
from nightmode.wording.figures import time_of_day

#: Between two entries no further apart than this the eyes are taken to have stayed in the dark.
PAUSE_S = 30 * 60.0
SUN_IS_UP = "THE SUN IS UP: caps on, never point telescope, finder or eye near it"


def is_before_dusk(night: Night, now_s: float) -> bool:
    """Return whether civil dusk is still to come; until then the set-up list is shown first."""
    return now_s < (night.twilights.civil_dusk_s or 0.0)


def is_evening(night: Night, now_s: float) -> bool:
    """Return whether it is still the first half of the night: before the Sun is lowest."""
    return now_s < night.twilights.darkest_s


def sun_words(night: Night, now_s: float) -> tuple[Piece, ...]:
    """Return what to say about the Sun: the caution while it is up, and the times of dusk still to come."""
    zone, twilight = night.site.zone, night.twilights
    words: tuple[Piece, ...] = ((SUN_IS_UP, "alert"),) if night.is_sun_up(now_s) else ()
    dusks = (
        ("sunset", twilight.sunset_s),
        ("civil dusk", twilight.civil_dusk_s),
        ("nautical dusk", twilight.nautical_dusk_s),
        ("dark", twilight.astronomical_dusk_s),
    )
    ahead = [f"{name} {time_of_day(when, zone)}" for name, when in dusks if when and when > now_s]
    return (*words, ("   ".join(ahead), "text")) if ahead else words


def dark_before(state: State, now_s: float) -> float:
    """Return since when entries have followed each other without a pause over PAUSE_S, in Unix seconds.

    now_s, if the last entry is longer ago than that.
    """
    since_s = now_s
    for entry in reversed(state.live):
        at_s = entry.at.timestamp()
        if since_s - at_s > PAUSE_S:
            break
        since_s = min(since_s, at_s)
    return since_s


def dark_since(walker: Walker, from_s: float) -> float:
    """Return since when the eyes have been in the dark, in Unix seconds.

    The latest of civil dusk, the last white light and from_s, the start of the program.
    """
    light = walker.state.white_light_at
    dusk = walker.night.twilights.civil_dusk_s
    return max(from_s, light.timestamp() if light else 0.0, dusk or 0.0)
