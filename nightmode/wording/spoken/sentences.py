"""Sentences of a length that the ear takes in: begun with a capital, ended, cut where they are too long."""

import re

from nightmode.wording.spoken.ear import for_ear

#: A sentence takes less than this at the usual rate, so that nobody waits long for its end.
LONGEST_S, USUAL_WPM = 12.0, 175
#: What a sentence may hold so that it does: words, those joined by hyphens counted each, and characters.
MOST_WORDS, MOST_CHARACTERS = 26, 150
_END = re.compile(r"(?<=[.?!]) +")
_JOINT = re.compile(r"(?<=[,:]) +")


def said(*texts: str) -> tuple[str, ...]:
    """Return texts as they stand on the screen in sentences for the ear; what cannot be said is left out."""
    return sentences(*map(for_ear, texts))


def sentences(*texts: str) -> tuple[str, ...]:
    """Return texts that are for the ear already in sentences short enough."""
    found = []
    for text in texts:
        for sentence in _END.split(text):
            found += [_whole(part) for part in _parts(sentence)]
    return tuple(one for one in found if one)


def fits(sentence: str) -> bool:
    """Return whether a sentence is short enough."""
    return len(sentence) <= MOST_CHARACTERS and len(re.findall(r"[^\s-]+", sentence)) <= MOST_WORDS


def _parts(sentence: str) -> list[str]:
    """Return a sentence, or the fewest parts of it that fit, cut at its stops where there are any."""
    parts = [""]
    for clause in _JOINT.split(sentence):
        for piece in [clause] if fits(clause) else clause.split(" "):
            longer = f"{parts[-1]} {piece}".strip()
            if fits(longer):
                parts[-1] = longer
            else:
                parts += [piece[at : at + MOST_CHARACTERS] for at in range(0, len(piece), MOST_CHARACTERS)]
    return parts


def _whole(part: str) -> str:
    """Return a part with a capital and an end; empty without a word in it."""
    text = part.strip(" ,:")
    if not any(one.isalnum() for one in text):
        return ""
    return f"{text[0].upper()}{text[1:]}" + ("" if text[-1] in ".?!" else ".")
