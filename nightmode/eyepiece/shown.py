"""What a combination shows of the target in question, as the rules ask it."""

from collections.abc import Callable, Sequence
from functools import cache

from nightmode.eyepiece import Combination
from nightmode.eyepiece.filters import PLAIN_DEX, Visibility, filter_for
from nightmode.model.kit import Filter
from nightmode.model.target import Subject
from nightmode.visibility.verdict import word_of
from nightmode.words import Word

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


def contrast_dex(combination: Combination, shown: Shown) -> float:
    """Return the contrast that a combination shows; less than any other where it is not known."""
    return shown(combination).stands_out_dex


def rank(combination: Combination, shown: Shown) -> int:
    """Return the rank of the word for what a combination shows; that of easy where it is not known."""
    margin_dex = shown(combination).margin_dex
    return Word.EASY.rank if margin_dex is None else word_of(margin_dex).rank


def is_easy(combination: Combination, shown: Shown) -> bool:
    """Return whether a target shows plainly, and is easy."""
    return contrast_dex(combination, shown) >= PLAIN_DEX and rank(combination, shown) == Word.EASY.rank
