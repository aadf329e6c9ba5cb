"""What a tick keeps of the verdict on its target, to be compared later with what was seen."""

from nightmode.night.table import Night
from nightmode.visibility.reasons import Verdict
from nightmode.words import Cause


def predicted(night: Night, row: int, verdict: Verdict) -> dict[str, object]:
    """Return the fields of an entry: word, margin, contrast, and the experience that the contrast assumes.

    The last two only where experience counts: a double star depends on the air, a planet on its altitude, a
    cluster wider than the field on the field.
    """
    found: dict[str, object] = {"verdict": verdict.word}
    if verdict.margin_dex is not None:
        found["margin_dex"] = round(verdict.margin_dex, 3)
    if verdict.contrast_dex is not None and verdict.cause is not Cause.FIELD:
        found["contrast_dex"] = round(verdict.contrast_dex, 3)
        found["experience"] = night.person.experience
    return found
