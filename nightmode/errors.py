"""The one kind of error that people see: where it is, what is wrong, what to write instead."""

import unicodedata

#: The log of faults, whoever writes it: no longer than this, one older file beside it with `.1` at its end.
LOG_LIMIT_BYTES = 500_000
OLDER_LOG = ".1"


#: How much is told of where and what, so that what to write instead stays to be read after them.
_LONGEST_WHERE, _LONGEST_WHAT = 160, 300


class NightmodeError(Exception):
    """A problem that the observer can put right.

    where    the file, flag, key or line ("plan.toml, target 3, kind")
    what     what is wrong there ("'galxy' is not a kind of object")
    instead  what to write or do instead ("write galaxy"); may be empty
    cause    why a file was refused, without what was tried: "the disk is full" where `what` is "not saved,
             the disk is full"; the same as `what` for every other problem
    """

    def __init__(self, where: str, what: str, instead: str = "", *, cause: str = "") -> None:
        super().__init__(where, what, instead)
        self.where, self.what, self.instead = where, what, instead
        self.cause = cause or what

    @property
    def told(self) -> str:
        """What is wrong and what to do instead, in one line without the place."""
        what = _without_middle(self.what, _LONGEST_WHAT)
        told = f"{what}; {self.instead}" if self.instead else what
        return told if told.endswith("?") else f"{told}."

    def __str__(self) -> str:
        """One printable line: no control character of a file's text can reach the terminal."""
        where = _without_middle(self.where, _LONGEST_WHERE)
        return printable(f"{where}: {self.told}" if where else self.told)


class UnfitError(ValueError):
    """A value in a file does not fit: what is wrong with it, and what to write instead (may be empty).

    What the models raise; whoever reads the file adds the place and makes a NightmodeError of it.
    """

    def __init__(self, what: str, instead: str = "") -> None:
        super().__init__(what, instead)
        self.what, self.instead = what, instead

    def __str__(self) -> str:
        """What and instead in one line."""
        return f"{self.what}; {self.instead}" if self.instead else self.what


def printable(text: str, longest: int = 600) -> str:
    """Return text on one line without control or direction-changing characters, cut to a readable length.

    Control (Cc), format (Cf: bidirectional marks), surrogate (Cs) and line-separator (Zl, Zp) characters
    are written as U+XXXX, so that text from a damaged file cannot steer the terminal.
    """
    start = text[: longest + 1]  # no character is shown as nothing, so that this tells if it is too long
    shown = start if start.isprintable() else "".join(map(_visible, start))
    return shown if len(shown) <= longest else shown[: longest - 1] + "…"


def _without_middle(text: str, longest: int) -> str:
    """Return a printable text, dots in its middle if it is too long: the end says what is wrong with it."""
    both_ends = text if len(text) <= 2 * longest else text[:longest] + text[-longest:]
    shown, half = "".join(map(_visible, both_ends)), longest // 2
    return shown if len(shown) <= longest else f"{shown[:half]}…{shown[half + 1 - longest :]}"


def _visible(character: str) -> str:
    if unicodedata.category(character) in {"Cc", "Cf", "Cs", "Zl", "Zp"}:
        return f"<U+{ord(character):04X}>"
    return character
