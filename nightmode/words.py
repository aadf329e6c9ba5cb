"""The words of a verdict and what limits a sight: the one list of each."""

from enum import StrEnum


class Word(StrEnum):
    """How well a target can be seen, the best first; `UNKNOWN` if nothing is published to judge it by."""

    EASY = "easy"
    FAIR = "fair"
    HARD = "hard"
    OUT = "out of reach"
    UNKNOWN = "unknown"

    @property
    def rank(self) -> int:
        """0 for easy, 1 for fair and so on; unknown comes last."""
        return _IN_ORDER.index(self)

    @property
    def shows(self) -> bool:
        """Whether the target can be seen at all, as far as is known."""
        return self.rank < Word.OUT.rank


class Cause(StrEnum):
    """What limits a sight; `NONE` where it is easy."""

    NONE = ""
    SKY = "sky"
    MOON = "Moon"
    TWILIGHT = "twilight"
    LOW = "low altitude"
    FIELD = "size against field"
    APERTURE = "aperture"
    POWER = "power"
    SEEING = "seeing"
    NEVER_UP = "never up in the dark"
    HOURS = "hours"
    NO_SUN_ON_IT = "Moon's shadow"
    NO_SHADOWS = "no shadows"
    TURNED_AWAY = "turned away"
    NO_EYEPIECE = "no eyepiece"
    NO_BRIGHTNESS = "no published brightness"
    NO_SIZE = "no published size"
    NO_SEPARATION = "no published separation"


_IN_ORDER = tuple(Word)
