"""The words with which a session begins, goes on, or is watched."""

from zoneinfo import ZoneInfo

from nightmode.model.session import Entry
from nightmode.wording.figures import clock_time, duration

WATCHING = "watching only: nothing is noted from here"
REHEARSAL = "rehearsal: nothing here is counted"


def going_on_text(done: int, last: Entry | None, has_plan_changed: bool, zone: ZoneInfo) -> str:
    """Return how far a session had come; last is the last tick, None if there is none."""
    changed = "; the plan has changed since" if has_plan_changed else ""
    if last is None:
        return f"going on: nothing ticked yet{changed}"
    when = clock_time(last.at.timestamp(), zone)
    return f"going on: {done} done, last {last.target} at {when}{changed}"


def clock_behind_text(behind_s: float) -> str:
    """Return what to say if the computer's clock shows a time before the last entry."""
    return f"the computer's clock is {duration(behind_s)} before the last entry: set it right"
