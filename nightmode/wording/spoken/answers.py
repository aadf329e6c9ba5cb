"""The answers to keys: what a key did, whether that is saved, what comes next."""

from collections.abc import Sequence

from nightmode.model.session import Entry, Event
from nightmode.wording.entries import ADDED
from nightmode.wording.spoken.ear import for_ear, name_for_ear
from nightmode.wording.spoken.sentences import said, sentences

#: What the voice calls an entry without a target when it has been undone.
_UNDONE = {
    Event.LIGHT: "the white light",
    Event.SKY: "the reading of the sky",
    Event.CLOUDS: "the clouds",
    Event.CLEAR: "the clear sky",
    Event.CHECK: "the reading of the air",
}
NEXT = "Next: "


def ticked(name: str, outcome: str) -> tuple[str, ...]:
    """Return "M 57 seen."; said only when the entry is on disk."""
    return sentences(f"{name_for_ear(name)} {for_ear(outcome)}")


def undone(entry: Entry) -> tuple[str, ...]:
    """Return what was taken back: "Undone: M 57 seen." or "Undone: the note on M 57."."""
    name = name_for_ear(entry.target) if entry.target else ""
    if entry.event is Event.TICK and entry.outcome:
        what = f"{name} {entry.outcome.value}"
    elif entry.event is Event.NOTE:
        what = f"the note on {name or 'the night'}"
    elif entry.event is Event.ADD:
        what = f"{name} {ADDED}"
    else:
        what = _UNDONE.get(entry.event, entry.event.value)
    return sentences(f"undone: {what}")


def nexts(names: Sequence[str], done: int, to_do: int) -> tuple[str, ...]:
    """Return the names of the next targets, and how many targets are done and to do."""
    counts = said(f"{done or 'none'} done, {to_do or 'none'} to do")
    if not names:
        return (*sentences("nothing comes after this"), *counts)
    after = [name_for_ear(name) for name in names[:2]]
    return (*sentences(f"{NEXT}{', then '.join(after)}"), *counts)


def check(item: str, is_done: bool) -> tuple[str, ...]:
    """Return an item of a checklist and whether it is ticked."""
    return said(f"{item}: {'done' if is_done else 'open'}")
