"""What a tick keeps of the verdict that stood beside it, so that the eye can be compared with it later."""

from nightmode.night.glow import is_glow
from nightmode.night.table import Night
from nightmode.night.verdict import Verdict


def predicted(night: Night, row: int, verdict: Verdict) -> dict[str, object]:
    """Return the fields of an entry: the word, the margin, and the experience that the margin counted on.

    experience only where it decides: a double star is a matter of the air, a planet of its height.
    """
    found: dict[str, object] = {"verdict": verdict.word.value}
    if verdict.margin_dex is not None:
        found["margin_dex"] = round(float(verdict.margin_dex), 3)
        if is_glow(night.targets[row].subject):
            found["experience"] = night.person.experience
    return found
