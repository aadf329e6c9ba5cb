"""What a tick keeps of the verdict on its target, to be compared later with what was seen."""

from nightmode.night.glow import is_glow
from nightmode.night.table import Night
from nightmode.visibility.reasons import Verdict
from nightmode.words import Cause


def predicted(night: Night, row: int, verdict: Verdict) -> dict[str, object]:
    """Return the fields of an entry: word, margin, and the observer's experience that the margin assumes.

    experience only where it counts: a double star depends on the air, a planet on its altitude, a cluster
    wider than the field on the field.
    """
    found: dict[str, object] = {"verdict": verdict.word}
    if verdict.margin_dex is not None:
        found["margin_dex"] = round(float(verdict.margin_dex), 3)
        if is_glow(night.targets[row].subject) and verdict.cause is not Cause.FIELD:
            found["experience"] = night.person.experience
    return found
