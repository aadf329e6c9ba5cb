"""The common base of all models and the checked kinds of text they use."""

import datetime as dt
import unicodedata
from collections.abc import Iterable, Iterator
from typing import Annotated

from pydantic import AfterValidator, AwareDatetime, BaseModel, BeforeValidator, ConfigDict, Field

from nightmode.errors import UnfitError

#: Categories that could steer a terminal or hide text: control, bidirectional, surrogate, separators,
#: private use. Unassigned ones are let through: to an older Python, next year's emoji are unassigned, and
#: they must not make a journal unreadable.
STEERING = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp", "Co"})
#: Zero-width joiner and non-joiner belong to the spelling of some languages.
JOINERS = frozenset("\u200c\u200d")


class Model(BaseModel):
    """A frozen model that refuses unknown keys and non-finite numbers."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False, strict=True, defer_build=True)


def steering_character(text: str) -> str | None:
    """Return the first character that could steer a terminal, or None."""
    if text.isascii() and text.isprintable():  # a short way for nearly all texts
        return None
    for character in text:
        if unicodedata.category(character) in STEERING and character not in JOINERS:
            return character
    return None


def plain(text: str) -> str:
    """Return text stripped of outer blanks; ValueError if a character could steer a terminal."""
    if found := steering_character(text):
        raise UnfitError(f"holds the control character U+{ord(found):04X}", "leave it out")
    return text.strip()


def _filled(text: str) -> str:
    if not text:
        raise UnfitError("is empty", "write a few words")
    return text


def one_line(text: object) -> object:
    """Return text on one line that cannot steer a terminal, with nothing refused.

    Runs of blanks and line breaks become one blank; other steering characters are spelt out as
    <U+XXXX>. What is not text is returned as it is, for the model to refuse.
    """
    if not isinstance(text, str):
        return text
    on_one_line = " ".join(text.split())
    if steering_character(on_one_line) is None:
        return on_one_line
    return "".join(_spelt_out(character) for character in on_one_line)


def _spelt_out(character: str) -> str:
    return f"<U+{ord(character):04X}>" if steering_character(character) else character


def not_too_small(value: float) -> float:
    """Let the smallest widths that a file can hold count as a thousandth: sums of theirs come to nothing."""
    return max(value, 0.001)


def storable(text: object) -> object:
    """Return text with lone surrogates, which no UTF-8 file can hold, spelt out as <U+XXXX>."""
    if not isinstance(text, str):
        return text
    return "".join(f"<U+{ord(c):04X}>" if unicodedata.category(c) == "Cs" else c for c in text)


def fixed_offset(instant: dt.datetime) -> dt.datetime:
    """Return the same instant with its offset alone, in UTC where that is not of whole minutes.

    As in TOML. In Python, instants in different zones are never equal in the hour that a change of clocks
    repeats, while instants with offsets are.
    """
    offset = instant.utcoffset() or dt.timedelta()
    if type(instant.tzinfo) is dt.timezone and not offset % dt.timedelta(minutes=1):
        return instant
    return instant.astimezone(dt.UTC if offset % dt.timedelta(minutes=1) else dt.timezone(offset))


def first_double(names: Iterable[str]) -> tuple[int, int, str] | None:
    """Return the first of `doubles`, or None."""
    return next(doubles(names), None)


def doubles(names: Iterable[str]) -> Iterator[tuple[int, int, str]]:
    """Yield the positions (from 1) and the name of each name that has been there before.

    Capitals and blanks make no difference.
    """
    found: dict[str, int] = {}
    for position, name in enumerate(names, start=1):
        first = found.setdefault("".join(name.casefold().split()), position)
        if first != position:
            yield first, position, name


#: A name: one line of 1 to 80 printable characters.
Name = Annotated[str, AfterValidator(plain), AfterValidator(_filled), Field(max_length=80)]
#: The path of another file, as it is written in a file.
FileName = Annotated[str, AfterValidator(plain), AfterValidator(_filled), Field(max_length=400)]
#: A remark: one line of up to 500 printable characters.
Remark = Annotated[str, AfterValidator(plain), Field(max_length=500)]
#: As many characters as a journal holds of one note.
LONGEST_NOTE = 2000
#: A note written in the dark: nothing in it is refused except its length.
Note = Annotated[str, BeforeValidator(one_line), Field(max_length=LONGEST_NOTE)]
#: The date of an evening, local at the site. The ephemeris (DE421) covers a little more than these years.
NightDate = Annotated[dt.date, Field(ge=dt.date(1900, 1, 1), le=dt.date(2053, 9, 30))]
#: An instant with an offset. The bounds keep conversions between zones from overflowing; they are wide,
#: because a laptop whose clock battery is flat still has to take notes.
Instant = Annotated[
    AwareDatetime,
    Field(ge=dt.datetime(1900, 1, 1, tzinfo=dt.UTC), le=dt.datetime(2200, 1, 1, tzinfo=dt.UTC)),
    AfterValidator(fixed_offset),
]
