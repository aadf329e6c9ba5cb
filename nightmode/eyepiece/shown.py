"""What a combination shows of the target in question, as the rules ask it."""

from collections.abc import Callable, Sequence
from functools import cache

from nightmode.eyepiece import Combination
from nightmode.eyepiece.filters import PLAIN_DEX, Visibility, filter_for
from nightmode.model.kit import Filter
from nightmode.model.target import Subject
from nightmode.visibility.margin import word_of
from nightmode.words import Word

#: Contrasts closer than this, in dex, count as equal.
EQUAL_DEX = 0.05
#: What a combination, with a filter or None, shows of the target.
Judge = Callable[[Combination, Filter | None], Visibility]
#: What a combination shows with the filter that is suggested for it.
Shown = Callable[[Combination], Visibility]


def as_filtered(subject: Subject, judge: Judge, filters: Sequence[Filter]) -> Shown:
    """Return a function that tells what a combination shows with the filter that is suggested for it."""

    @cache  # asked of each combination several times
    def shown(combination: Combination) -> Visibility:
        return judge(combination, filter_for(subject, filters, lambda tried: judge(combination, tried)))

    return shown


def rank(seen: Visibility) -> int:
    """Return the rank of the word for what is shown; that of easy where it is not known."""
    return Word.EASY.rank if seen.margin_dex is None else word_of(seen.margin_dex).rank


def is_easy(seen: Visibility) -> bool:
    """Return whether a target shows plainly, and is easy."""
    return seen.stands_out_dex >= PLAIN_DEX and rank(seen) == Word.EASY.rank


def best_contrast(choices: Sequence[Combination], shown: Shown) -> Combination | None:
    """Return the lowest power of nearly the best contrast that costs no word; None where none is known."""
    each = [(choice, seen) for choice in choices if (seen := shown(choice)).contrast_dex is not None]
    if not each:
        return None
    told = [rank(seen) for _, seen in each]
    best = min(told)
    as_good = [pair for pair, one in zip(each, told, strict=True) if one == best]
    most = max(seen.stands_out_dex for _, seen in as_good)
    return next(choice for choice, seen in as_good if seen.stands_out_dex >= most - EQUAL_DEX)
