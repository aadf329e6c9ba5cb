"""What was seen of tonight's targets on earlier nights: the best outcome, and the last note."""

import datetime as dt
from collections.abc import Iterable

from nightmode.history.objects import identify
from nightmode.history.tally import Looks, best_outcome
from nightmode.model.session import Outcome
from nightmode.records import Record
from nightmode.walk.state import target_key


class Earlier(Record):
    """The best outcome of all earlier nights, the last night that had it, and the note written last."""

    outcome: Outcome
    night: dt.date
    note: str = ""


def earlier_looks(names: Iterable[str], looks: Looks, tonight: dt.date) -> dict[str, Earlier]:
    """Return what is known of targets from nights before tonight, by `target_key` of their names."""
    found = {name: _earlier(name, looks, tonight) for name in names}
    return {target_key(name): earlier for name, earlier in found.items() if earlier is not None}


def _earlier(name: str, looks: Looks, tonight: dt.date) -> Earlier | None:
    before = [(night, look) for night, look in looks.get(identify(name).key, ()) if night < tonight]
    outcome = best_outcome(before)
    if outcome is None:
        return None
    notes = [(look.at, look.notes[-1]) for _, look in before if look.notes]
    night = max(night for night, look in before if look.outcome is outcome)
    return Earlier(outcome, night, max(notes)[1] if notes else "")
