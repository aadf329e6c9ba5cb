"""Identifies an object under all its names, with the help of the catalogue."""

from collections.abc import Sequence
from functools import cache

from nightmode.catalog.names import plain_key
from nightmode.catalog.resolve import lookup
from nightmode.model.target import Subject
from nightmode.records import Record, replace


class Identity(Record):
    """What is known of a name: its key, which all names of one object share, and what the object is.

    name is the usual one; kind and constellation are empty where the catalogue does not know it.
    """

    key: str
    name: str
    kind: str = ""
    constellation: str = ""
    other_names: tuple[str, ...] = ()

    def or_as(self, subject: Subject) -> "Identity":
        """Return this, with what a plan says an object is where the catalogue does not know it."""
        if self.kind:
            return self
        return replace(self, kind=subject.kind.value, constellation=subject.constellation)


@cache
def identify(name: str) -> Identity:
    """Return what a name means: M 102 and NGC 5866 have one key, Albireo and Beta Cygni another."""
    subject = lookup(name)
    if subject is None:
        return Identity(plain_key(name), name)
    return Identity(
        plain_key(subject.name), subject.name, subject.kind.value, subject.constellation, subject.other_names
    )


def names_in(words: Sequence[str]) -> list[str]:
    """Return the names that words are: several that the catalogue knows as one (M 31), else each alone."""
    names, begin = [], 0
    while begin < len(words):
        ends = range(len(words), begin + 1, -1)
        end = next((end for end in ends if identify(" ".join(words[begin:end])).kind), begin + 1)
        names.append(" ".join(words[begin:end]))
        begin = end
    return names


def under_several_names(names: Sequence[str]) -> list[tuple[str, ...]]:
    """Return the names that mean one object, a tuple for each object that is named more than once."""
    by_key: dict[str, list[str]] = {}
    for name in names:
        by_key.setdefault(identify(name).key, []).append(name)
    return [tuple(same) for same in by_key.values() if len(same) > 1]
