"""The combination that shows a glow best, and how much larger it may be shown for little contrast."""

from collections.abc import Sequence

from nightmode.eyepiece import Combination
from nightmode.eyepiece.shown import Shown, contrast_dex, rank

#: Contrast margins closer than this, in dex, count as equal.
EQUAL_DEX = 0.05


def best_contrast(choices: Sequence[Combination], shown: Shown) -> Combination | None:
    """Return the lowest power of nearly the best contrast that costs no word; None where none is known."""
    known = [choice for choice in choices if contrast_dex(choice, shown) > float("-inf")]
    if not known:
        return None
    told = min(rank(choice, shown) for choice in known)
    as_good = [choice for choice in known if rank(choice, shown) == told]
    most = max(contrast_dex(choice, shown) for choice in as_good)
    return next(choice for choice in as_good if contrast_dex(choice, shown) >= most - EQUAL_DEX)
