"""Why a combination is suggested; `wording.suggestion` has the words."""

from enum import Enum, auto

from nightmode.eyepiece import Combination


class Why(Enum):
    """Why a combination is suggested."""

    PLANNED = auto()
    FIXED = auto()
    DETAIL = auto()
    TOO_CLOSE = auto()
    GLARE = auto()
    SPLITS = auto()
    SPLITS_BOTH = auto()
    WANTS_STILL_AIR = auto()
    HIGHEST = auto()
    WIDEST = auto()
    WHOLE_DISC = auto()
    LOW_POWER = auto()
    TOGETHER = auto()
    UNKNOWN = auto()
    CONTRAST = auto()
    LARGER = auto()
    SKY_AROUND = auto()
    MORE_STARS = auto()
    GATHERS = auto()
    RESOLVES = auto()
    SMALL = auto()


#: A combination and why it is suggested.
Chosen = tuple[Combination, Why]
