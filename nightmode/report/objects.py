"""What an object is, in a word or two, for the reports that list objects."""

from nightmode.history.objects import Identity
from nightmode.wording.figures import kind_and_place


def kind_text(identity: Identity) -> str:
    """Return the kind and the constellation of an object: "galaxy in And"."""
    return kind_and_place(identity.kind, identity.constellation)
