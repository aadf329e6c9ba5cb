"""Questions for the ear, in place of the short ones of the screen; and the keys of the black screen."""

from collections.abc import Iterable, Sequence

from nightmode.walk.state import OCTANTS
from nightmode.wording.spoken.ear import for_ear, name_for_ear
from nightmode.wording.spoken.sentences import sentences

SEEING = sentences("Seeing? One is perfect, five is very bad.", "Any other key leaves it as it was.")
AIR = sentences("Air? One is milky, five as clear as it gets.", "Or dew: N none, S some, H heavy.")
CLOUDS = sentences(
    "Where is it clear? One is north, two north-east, and so on by the east to eight, north-west.",
    "Zero is all round. Enter keeps it, escape drops it.",
)
SKY = sentences("Sky reading. Type the number, then enter. Escape drops it.")
FIND = sentences("Which target? Type its name, then enter. Escape drops it.")
#: The question of each key, by its action; those of a note and of leaving depend on more.
ASKED = {"seeing": SEEING, "air": AIR, "clouds": CLOUDS, "sky": SKY, "find": FIND}
CHECKLIST = sentences("Space ticks it, J and K move. Escape goes on to the walk.")
BLACK = sentences("Black. B lights the screen again.")
DROPPED = sentences("Dropped.")
NOTHING_TYPED = sentences("Nothing is typed yet.")


def leaving(unsaved: int) -> tuple[str, ...]:
    """Return the question before leaving; unsaved counts the entries that are not on disk."""
    if unsaved:
        count = for_ear(f"{unsaved} {'entry is' if unsaved == 1 else 'entries are'}")
        return sentences(f"{count} not saved. Q again leaves, other keys stay.")
    return sentences(
        "Everything is saved. Q again leaves.", "The terminal's own light comes back, maybe white."
    )


def note(name: str | None) -> tuple[str, ...]:
    """Return the request to type a note on the target of this name, or with None on the night."""
    about = name_for_ear(name) if name else "the night"
    return sentences(f"Note on {about}. Type it, then enter.", "Escape drops it, up reads it back.")


def clear(points: Iterable[str]) -> tuple[str, ...]:
    """Return the compass points marked as clear so far, and how to go on; points holds their letters."""
    chosen = set(points)
    said = [for_ear(point) for point in OCTANTS if point in chosen]
    return sentences(f"Clear: {', '.join(said) or 'nowhere'}. Enter keeps it, escape drops it.")


def echo(text: str) -> tuple[str, ...]:
    """Return typed text word by word, one sentence for each; what cannot be spoken is left out."""
    words = [sentences(for_ear(word)) for word in text.split()]
    return tuple(sentence for word in words for sentence in word) or NOTHING_TYPED


def keys(rows: Sequence[tuple[str, str]]) -> tuple[str, ...]:
    """Return the keys of the black screen as sentences, from rows of (label, what it does)."""
    return tuple(sentence for label, does in rows for sentence in sentences(f"{label}: {does}"))
