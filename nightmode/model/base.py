"""The common base of all models and the checked kinds of text they use."""

import unicodedata
from typing import Annotated

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

#: Categories that could steer a terminal or hide text: control, bidirectional, surrogate, separators.
STEERING = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp", "Co", "Cn"})
#: Zero-width joiner and non-joiner belong to the spelling of some languages.
JOINERS = frozenset("\u200c\u200d")


class Model(BaseModel):
    """A frozen model that refuses unknown keys and non-finite numbers."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False, strict=True)


def steering_character(text: str) -> str | None:
    """Return the first character that could steer a terminal, or None."""
    for character in text:
        if unicodedata.category(character) in STEERING and character not in JOINERS:
            return character
    return None


def plain(text: str) -> str:
    """Return text stripped of outer blanks; ValueError if a character could steer a terminal."""
    if found := steering_character(text):
        raise ValueError(f"holds the control character U+{ord(found):04X}; leave it out")
    return text.strip()


def _filled(text: str) -> str:
    if not text:
        raise ValueError("is empty; write a few words")
    return text


#: A name: one line of 1 to 80 printable characters.
Name = Annotated[str, AfterValidator(plain), AfterValidator(_filled), Field(max_length=80)]
#: A remark: one line of up to 500 printable characters.
Remark = Annotated[str, AfterValidator(plain), Field(max_length=500)]
