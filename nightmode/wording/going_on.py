"""The words with which a session begins, goes on, or is watched."""

import datetime as dt
from collections.abc import Iterator
from zoneinfo import ZoneInfo

from nightmode.model.session import Entry, Head
from nightmode.wording.figures import clock_time, duration

WATCHING = "watching only: nothing is noted from here"
#: What is said to those who have never walked a plan before.
FIRST_NIGHT = "the question mark lists all keys"
REHEARSAL = "rehearsal: nothing here is counted"
#: A site that has moved by less than this, in degrees, makes no difference to what was noted there.
MOVED_DEG = 0.05


def going_on_text(done: int, last: Entry | None, before: Head, now: Head) -> str:
    """Return how far a session had come, and what is different now from the head that it began with.

    last is the last tick, None if there is none.
    """
    changed = "".join(f"; {words}" for words in _changed(before, now))
    if last is None:
        return f"going on: nothing ticked yet{changed}"
    when = clock_time(last.at.timestamp(), now.zone)
    return f"going on: {done} done, last {last.target} at {when}{changed}"


def _changed(before: Head, now: Head) -> Iterator[str]:
    if before.digest != now.digest:
        yield "the plan has changed since"
    if before.site != now.site:
        yield f"the site was {before.site}, now {now.site}"
    elif _has_moved(before, now):
        yield f"{now.site} has another position since"
    if before.telescope != now.telescope:
        yield f"the telescope was {before.telescope}, now {now.telescope}"


def _has_moved(before: Head, now: Head) -> bool:
    pairs = (before.latitude_deg, now.latitude_deg), (before.longitude_deg, now.longitude_deg)
    return any(old is not None and new is not None and abs(old - new) > MOVED_DEG for old, new in pairs)


def half_note_text(note: Entry) -> str:
    """Return that a note which was being typed when the program was killed has been taken in."""
    return f"the note half typed on {note.target or 'the night'} is kept"


def lost_text(count: int) -> str:
    """Return that so many targets were ticked that the plan no longer has; nothing for none."""
    if not count:
        return ""
    return f"{count} {'target' if count == 1 else 'targets'} ticked, not in the plan now"


def clock_behind_text(behind_s: float) -> str:
    """Return what to say if the computer's clock shows a time before the last entry."""
    return f"the computer's clock is {duration(behind_s)} before the last entry: set it right"


def clock_change_text(zone: ZoneInfo, from_s: float, to_s: float) -> str:
    """Return that the clocks change between two instants (Unix seconds), and how; nothing if they do not."""
    first, last = int(from_s), int(to_s)
    before = _offset(zone, first)
    if _offset(zone, last) == before:
        return ""
    while last - first > 1:
        middle = (first + last) // 2
        first, last = (middle, last) if _offset(zone, middle) == before else (first, middle)
    old = dt.datetime.fromtimestamp(last, dt.timezone(before))
    return f"clocks: {old:%H:%M} becomes {clock_time(last, zone)} tonight"


def _offset(zone: ZoneInfo, at_s: int) -> dt.timedelta:
    return dt.datetime.fromtimestamp(at_s, zone).utcoffset() or dt.timedelta()
