"""What an object is, in a word or two, wherever objects are listed."""

from nightmode.history.objects import Identity
from nightmode.wording.figures import kind_and_place


def what(identity: Identity) -> str:
    """Return what an object is and in which constellation: "galaxy in And"."""
    return kind_and_place(identity.kind, identity.constellation)
