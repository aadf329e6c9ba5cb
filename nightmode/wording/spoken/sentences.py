"""Makes sentences for the ear: with a capital and a stop, and cut into parts where they are too long."""

import re

from nightmode.records import Record
from nightmode.wording.spoken.ear import for_ear

#: A sentence takes less than this at 150 words a minute, so that nobody has to wait long for its end.
LONGEST_S = 12.0
#: The seconds that a voice needs at that rate for a stop; for a character of a word it reads; for a character
#: it spells (digits, capitals, words without a vowel); for a character of another alphabet. Measured with
#: espeak-ng 1.51, and rounded up.
_STOP_S, _READ_S, _SPELT_S, _FOREIGN_S = 0.5, 0.085, 0.5, 0.65
_LAST_LATIN = "\u024f"
#: A word that takes too long is cut into parts of this many characters.
_UNBROKEN = int((LONGEST_S - _STOP_S - _READ_S) / _FOREIGN_S)
_END = re.compile(r"(?<=[.?!]) +")
_JOINT = re.compile(r"(?<=[,:]) +")


class Told(Record):
    """What is told of a target, and when it counts as named: once `named` of the sentences have been spoken.

    Where none of them holds its name, that is when all have been spoken.
    """

    sentences: tuple[str, ...]
    named: int


def said(*texts: str) -> tuple[str, ...]:
    """Return texts of the screen as sentences for the ear; what cannot be spoken is left out."""
    return sentences(*map(for_ear, texts))


def sentences(*texts: str) -> tuple[str, ...]:
    """Return texts that are already made for the ear as sentences that are short enough."""
    found = []
    for text in texts:
        for sentence in _END.split(text):
            found += [_whole(part) for part in _parts(sentence)]
    return tuple(sentence for sentence in found if sentence)


def lasts_s(sentence: str) -> float:
    """Return how long a sentence takes to speak at 150 words a minute, at most, in seconds."""
    return _STOP_S + sum(len(word) * _each_s(word) + _READ_S for word in sentence.split())


def _each_s(word: str) -> float:
    """Return how long each character of a word takes to speak, in seconds."""
    if max(word) > _LAST_LATIN:
        return _FOREIGN_S
    is_read = not word.isupper() and re.search("[aeiouyà-ɏ]", word) and not re.search("[0-9]", word)
    return _READ_S if is_read or not any(character.isalnum() for character in word) else _SPELT_S


def _fits(sentence: str) -> bool:
    return lasts_s(sentence) < LONGEST_S


def _parts(sentence: str) -> list[str]:
    """Return a sentence as the fewest parts that are short enough, cut at commas and colons if possible."""
    parts = [""]
    for clause in _JOINT.split(sentence):
        for piece in [clause] if _fits(clause) else clause.split(" "):
            longer = f"{parts[-1]} {piece}".strip()
            if _fits(longer):
                parts[-1] = longer
            elif _fits(piece):
                parts.append(piece)
            else:
                parts += [piece[at : at + _UNBROKEN] for at in range(0, len(piece), _UNBROKEN)]
    return parts


def _whole(part: str) -> str:
    """Return a part with a capital and a full stop, "" if it holds no word."""
    text = part.strip(" ,:")
    if not any(character.isalnum() for character in text):
        return ""
    return f"{text[0].upper()}{text[1:]}" + ("" if text[-1] in ".?!" else ".")
