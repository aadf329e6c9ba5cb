"""What the hour means for the observer: the Sun, the evening, the time in the dark. No screen, no clock."""

from nightmode.app.pages.line import Piece
from nightmode.app.walker import Walker
from nightmode.night.table import Night
from nightmode.sky.dark import SUNSET_DEG
from nightmode.walk.state import State
from nightmode.wording.figures import time_of_day

#: A pause between two entries up to which the eyes count as kept in the dark.
PAUSE_S = 30 * 60.0
SUN_IS_UP = "THE SUN IS UP: caps on, never point telescope, finder or eye near it"


def is_sun_up(night: Night, now_s: float) -> bool:
    """Return whether the Sun stands above the horizon."""
    return night.sun_altitude_at(now_s) > SUNSET_DEG


def is_before_dusk(night: Night, now_s: float) -> bool:
    """Return whether the walk has not begun: then the set-up list stands before it."""
    return now_s < (night.twilights.civil_dusk or 0.0)


def is_evening(night: Night, now_s: float) -> bool:
    """Return whether the first half of the night still runs."""
    return now_s < night.twilights.darkest


def sun_words(night: Night, now_s: float) -> tuple[Piece, ...]:
    """Return what to say about the Sun: the caution while it is up, then the times of twilight."""
    zone, lights = night.site.zone, night.twilights
    words: tuple[Piece, ...] = ((SUN_IS_UP, "alert"),) if is_sun_up(night, now_s) else ()
    dusks = (
        ("sunset", lights.sunset),
        ("civil dusk", lights.civil_dusk),
        ("nautical dusk", lights.nautical_dusk),
        ("dark", lights.astronomical_dusk),
    )
    ahead = [f"{name} {time_of_day(when, zone)}" for name, when in dusks if when and when > now_s]
    return (*words, ("   ".join(ahead), "text")) if ahead else words


def dark_before(state: State, now_s: float) -> float:
    """Return when the entries that lead up to now without a long pause between them began, or now."""
    since_s = now_s
    for entry in reversed(state.live):
        at_s = entry.at.timestamp()
        if since_s - at_s > PAUSE_S:
            break
        since_s = min(since_s, at_s)
    return since_s


def dark_since(walker: Walker, from_s: float) -> float:
    """Return since when the eyes have been in the dark: dusk, the last white light, or from_s, the start."""
    light = walker.state.white_light_at
    dusk = walker.night.twilights.civil_dusk
    return max(from_s, light.timestamp() if light else 0.0, dusk or 0.0)
