"""The targets that were added to a night on the walk, for the commands that go on with its session."""

import contextlib
from typing import TYPE_CHECKING

from nightmode.errors import NightmodeError

if TYPE_CHECKING:
    from nightmode.night.loading import Loaded
    from nightmode.session.record import Session


def with_added(loaded: "Loaded", session: "Session") -> "Loaded":
    """Return the night with the targets that were added to it when it was walked before.

    Journals of earlier versions do not tell of adding: there a target ticked or noted on that an unchanged
    plan does not have was added; one that a changed plan does not have may have been struck.
    """
    from nightmode.model.session import Event
    from nightmode.night.loading import new_head
    from nightmode.walk.state import target_key

    is_same = session.head.digest == new_head(loaded, rehearsal=session.head.rehearsal).digest
    planned = {chance.key for chance in loaded.night.chances}
    named = {
        target_key(entry.target): entry.target
        for entry in session.state.live
        if entry.target and (is_same or entry.event is Event.ADD)
    }
    added = [name for key, name in named.items() if key not in planned and _is_known(loaded, name)]
    return loaded.with_targets(added) if added else loaded


def _is_known(loaded: "Loaded", name: str) -> bool:
    with contextlib.suppress(NightmodeError):
        loaded.meant_by(name)
        return True
    return False
