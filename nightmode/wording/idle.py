"""Why a walk has nothing to look at just now, and what it waits for."""

from zoneinfo import ZoneInfo

from nightmode.walk.order import Idle
from nightmode.wording.figures import duration, time_of_day

_WORDS = {
    Idle.NO_TARGETS: "this plan has no targets",
    Idle.NEVER_UP: "nothing of this plan can be observed tonight",
    Idle.NOT_NOW: "nothing to do just now",
    Idle.NOT_IN_THE_CLEAR: "nothing to do in the clear part of the sky",
    Idle.ALL_CLOUDED: "clouds everywhere",
    Idle.DONE: "the walk is done",
}


def idle_text(idle: Idle) -> str:
    """Return why there is nothing to look at."""
    return _WORDS[idle]


def coming_text(name: str, start_s: float, now_s: float, zone: ZoneInfo) -> str:
    """Return which target comes next, and when: "M 57 from 23:10, in 25 min"."""
    return f"{name} from {time_of_day(start_s, zone)}, in {duration(start_s - now_s)}"
