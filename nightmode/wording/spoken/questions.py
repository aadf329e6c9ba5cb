"""What is asked aloud where the screen asks in few words, and what the keys do on a black screen."""

from collections.abc import Iterable, Sequence

from nightmode.walk.state import OCTANTS
from nightmode.wording.spoken.ear import for_ear, name_for_ear
from nightmode.wording.spoken.sentences import sentences

SEEING = sentences("Seeing? One is perfect, five is very bad.", "Any other key leaves it as it was.")
AIR = sentences("Air? One is milky, five as clear as it gets.", "Or dew: N none, S some, H heavy.")
CLOUDS = sentences(
    "Where is it clear? One is north, two north-east, and so on by the east to eight, north-west.",
    "Zero is all round. Enter keeps it.",
)
SKY = sentences("Sky reading. Type the number, then enter. Escape drops it.")
#: What the keys ask, by their action; a note and leaving ask with more.
ASKED = {"seeing": SEEING, "air": AIR, "clouds": CLOUDS, "sky": SKY}
CHECKLIST = sentences("Space ticks it, J and K move. Escape goes on to the walk.")
BLACK = sentences("Black. B lights the screen again.")
DROPPED = sentences("Dropped.")
NOTHING_TYPED = sentences("Nothing is typed yet.")


def leaving(unsaved: int) -> tuple[str, ...]:
    """Return the question before leaving, with how many entries are not saved."""
    if unsaved:
        count = for_ear(f"{unsaved} {'entry is' if unsaved == 1 else 'entries are'}")
        return sentences(f"{count} not saved. Q again leaves, other keys stay.")
    return sentences(
        "Everything is saved. Q again leaves.", "The terminal's own light comes back, maybe white."
    )


def note(name: str | None) -> tuple[str, ...]:
    """Return what is asked for when a note on a target, or on the night, is to be typed."""
    about = name_for_ear(name) if name else "the night"
    return sentences(f"Note on {about}. Type it, then enter.", "Escape drops it, up reads it back.")


def clear(points: Iterable[str]) -> tuple[str, ...]:
    """Return which compass points are to count as clear, by their letters, as far as they are chosen."""
    chosen = set(points)
    said = [for_ear(point) for point in OCTANTS if point in chosen]
    return sentences(f"Clear: {', '.join(said) or 'nowhere'}. Enter keeps it.")


def echo(text: str) -> tuple[str, ...]:
    """Return what has been typed, word by word; what no voice can say is left out."""
    words = [sentences(for_ear(word)) for word in text.split()]
    return tuple(sentence for word in words for sentence in word) or NOTHING_TYPED


def keys(rows: Sequence[tuple[str, str]]) -> tuple[str, ...]:
    """Return the keys (label, what each does) of the black screen."""
    return tuple(sentence for label, does in rows for sentence in sentences(f"{label}: {does}"))
