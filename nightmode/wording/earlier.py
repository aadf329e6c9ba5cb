"""The words for a look at a target on an earlier night, and for a target under two names."""

import datetime as dt
from collections.abc import Sequence

from nightmode.model.session import Outcome

_WORDS = {
    Outcome.SEEN: "seen before",
    Outcome.SUSPECTED: "suspected before",
    Outcome.NOT_SEEN: "looked for before, not seen",
}
#: In days: only a date longer ago than this is told with its year.
_SAME_YEAR_DAYS = 330


def earlier_text(outcome: Outcome, night: dt.date, tonight: dt.date, note: str = "") -> str:
    """Return "seen before, 12 Oct: its note", with the year where it is longer ago."""
    year = f" {night.year}" if (tonight - night).days > _SAME_YEAR_DAYS else ""
    when = f"{_WORDS[outcome]}, {night.day} {night:%b}{year}"
    return f"{when}: {note}" if note else when


def same_text(names: Sequence[str]) -> str:
    """Return that several names of a list mean one object."""
    return f"the same object: {', '.join(names)}"
