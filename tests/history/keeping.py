"""Sessions for tests, written by the program's own journal into the user's folder."""

import datetime as dt
from typing import Any

from nightmode.files.places import journal_name, prepare, sessions_folder
from nightmode.model.session import Entry, Event, Head, Outcome
from nightmode.session.journal import create

EVENING = dt.timezone(dt.timedelta(hours=1))


def head(night="2027-01-09", plan="Winter", **more):
    values: dict[str, Any] = {
        "digest": "0123456789abcdef",
        "site": "Larch Hill",
        "latitude_deg": 47.1,
        "longitude_deg": 15.4,
        "timezone": "Europe/Vienna",
        "telescope": "Grey tube",
    }
    return Head(plan=plan, night=dt.date.fromisoformat(night), **values | more)


def at(minute, night="2027-01-09"):
    return dt.datetime.fromisoformat(f"{night}T19:00:00").replace(tzinfo=EVENING) + dt.timedelta(
        minutes=minute
    )


def tick(target, outcome="seen", minute=0, night="2027-01-09", **more):
    return Entry(at=at(minute, night), event=Event.TICK, target=target, outcome=Outcome(outcome), **more)


def note(words, target=None, minute=0, night="2027-01-09"):
    return Entry(at=at(minute, night), event=Event.NOTE, target=target, note=words)


def undo(minute=0):
    return Entry(at=at(minute), event=Event.UNDO)


def keep(*entries, night="2027-01-09", plan="Winter", path=None, **more):
    """Write a session; ticks are moved to its night. Return its path."""
    about = head(night, plan, **more)
    folder = sessions_folder(about.rehearsal)
    path = path or prepare(folder / journal_name(plan, about.night, about.site))
    journal = create(path, about)
    for entry in entries:
        journal.append(entry)
    return path
