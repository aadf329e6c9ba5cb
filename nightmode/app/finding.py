"""Finding a target by its name; one that the plan does not have is added to the night."""

from collections.abc import Callable
from contextlib import suppress
from typing import TYPE_CHECKING

from nightmode.app.say import Say, refusal
from nightmode.app.walker import Walker
from nightmode.errors import NightmodeError
from nightmode.kinds import ORBITING
from nightmode.model.session import Event
from nightmode.model.target import Subject
from nightmode.night.table import Night
from nightmode.walk.state import target_key

if TYPE_CHECKING:
    from nightmode.history.objects import Identity
    from nightmode.night.loading import Loaded


class Also:
    """Adds targets to a night and takes them out: each time it is opened again.

    `looks_back` is called with a night that has one more row.
    """

    def __init__(self, loaded: "Loaded", looks_back: Callable[[Night], None] | None = None) -> None:
        self._loaded, self._looks_back = loaded, looks_back
        #: The keys of what a session that is watched has added.
        self.followed: set[str] = set()

    def meant_by(self, name: str) -> Subject:
        """Return what a name means; NightmodeError if nobody knows it, and for the Sun."""
        return self._loaded.meant_by(name)

    def add(self, name: str) -> Night:
        """Return the night with a target of that name in its last row, after those added before."""
        self._loaded = self._loaded.with_targets([name])
        if self._looks_back is not None:
            self._looks_back(self._loaded.night)
        return self._loaded.night

    def take_out(self, row: int) -> Night:
        """Return the night without a target that was added; one that the plan has stays."""
        self._loaded = self._loaded.without_added(row)
        return self._loaded.night


def find(walker: Walker, name: str, also: Also | None, now_s: float) -> Say:
    """Show the target of that name, under whichever of its names the plan has it; return what to say.

    One that the plan does not have is added, and that is on the disk before it is said. Without `also`
    nothing can be added.
    """
    from nightmode.history.objects import identify  # reads the catalogue

    asked = identify(name)
    row = _named(walker.night, name, asked)
    if row is None:
        if also is None:
            return Say(f"{asked.name} is not in this plan")
        try:
            row = _orbiting(walker.night, also.meant_by(asked.name))
            if row is None:
                return walker.take_in(also.add(asked.name), now_s)
        except NightmodeError as error:
            return refusal(error)
    walker.show(row)
    return Say(f"this is {walker.name(row)}")


def undo(walker: Walker, also: Also | None, now_s: float) -> Say:
    """Take back the last entry; a target that was added by it is taken out again. Return what to say."""
    said = walker.undo(now_s)
    entry = said.undone
    if also is not None and entry is not None and entry.event is Event.ADD and entry.target:
        row = walker.night.row(target_key(entry.target))
        if row is not None:
            walker.take_over(also.take_out(row))
    return said


def keep_up(walker: Walker, also: Also) -> bool:
    """Add to the night what has been added where the session is held, and take out what was undone there.

    Return whether anything was taken out: rows of before may be those of other targets then, or of none.
    """
    added = {
        target_key(entry.target): entry.target
        for entry in walker.state.live
        if entry.event is Event.ADD and entry.target
    }
    for key in added.keys() - also.followed:
        also.followed.add(key)
        if walker.night.row(key) is None:
            with suppress(NightmodeError):  # known where the session is held, from a file of elements
                walker.take_over(also.add(added[key]))
    undone = also.followed - added.keys()
    for key in undone:
        row = walker.night.row(key)
        also.followed.remove(key)
        if row is not None:
            walker.back()
            walker.take_over(also.take_out(row))
    return bool(undone)


def _named(night: Night, name: str, asked: "Identity") -> int | None:
    """Return the first row with a name, or with one of those of what it means, or None."""
    from nightmode.history.objects import identify

    others = {asked.name, *asked.other_names}
    keys = {target_key(word) for word in (name, *others)}
    for row, target in enumerate(night.targets):
        subject = target.subject
        # 61 Cyg and 61 Cygni share other names; a star and its companion may, too, and are not the same.
        if target.chance.key in keys or (
            others & {*subject.other_names} and identify(subject.name).key == asked.key
        ):
            return row
    return None


def _orbiting(night: Night, subject: Subject) -> int | None:
    """Return the row of a comet or minor planet, whichever of its names the plan has it by, or None."""
    if subject.kind not in ORBITING:
        return None
    names = {subject.name, *subject.other_names}
    known = (target.subject for target in night.targets)
    return next((row for row, one in enumerate(known) if names & {one.name, *one.other_names}), None)
