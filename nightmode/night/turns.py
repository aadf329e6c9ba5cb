"""The walk as it would go without interruption: which target has its turn when."""

import datetime as dt
from math import inf

from nightmode.model.session import Entry, Event, Outcome
from nightmode.night.hours import spans_in_hours
from nightmode.night.table import Night
from nightmode.walk.order import coming, minutes_per_target, queue
from nightmode.walk.state import State, apply

#: The shortest and longest look at a target, in minutes; the pace decides between them (our own rule).
SHORTEST_MIN, LONGEST_MIN = 2.0, 15.0


def turns(night: Night) -> list[tuple[float, int]]:
    """Return (instant in Unix seconds, row) of each target that has a turn, by the rules of the walk.

    Every target is taken to be seen. The walk begins when the first target can be observed. Each turn is as
    long as possible while all targets that are up can still be reached before they set. An observer's hours
    are kept to: the targets share what is left of them.
    """
    first_s, last_s = night.hours_s or (-inf, inf)
    starts = [stretch.start_s for chance in night.chances for stretch in chance.usable]
    if not starts:
        return []
    count = sum(bool(spans_in_hours(night, chance)) for chance in night.chances)
    found: list[tuple[float, int]] = []
    state, now_s = State(), _next_minute(max(min(starts), first_s - 1.0))
    while now_s < last_s:
        offered = queue(night.chances, state, now_s)
        if not offered:
            later = coming(night.chances, state, now_s)
            if not later:
                return found
            now_s = _next_minute(later[0][0])
            continue
        found.append((now_s, offered[0]))
        pace = minutes_per_target(night.chances, state, now_s) or LONGEST_MIN
        share = (last_s - now_s) / 60.0 / max(1, count - len(found) + 1)
        now_s += min(max(min(pace, share), SHORTEST_MIN), LONGEST_MIN) * 60.0
        state = apply(state, _seen(night, offered[0], now_s))
    return found


def _next_minute(at_s: float) -> float:
    """Return the first whole minute after an instant, in Unix seconds."""
    return (at_s // 60.0 + 1.0) * 60.0


def _seen(night: Night, row: int, at_s: float) -> Entry:
    at = dt.datetime.fromtimestamp(at_s, night.site.zone)
    name = night.targets[row].subject.name
    return Entry(at=at, event=Event.TICK, target=name, outcome=Outcome.SEEN)
