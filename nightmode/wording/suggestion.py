"""What is suggested to look with, and in a few words why."""

from nightmode.eyepiece.suggestion import Suggestion
from nightmode.eyepiece.why import Why

_WORDS = {
    Why.PLANNED: "as the plan says",
    Why.FIXED: "its one power",
    Why.DETAIL: "most detail the air allows",
    Why.TOO_CLOSE: "closer than this aperture splits",
    Why.GLARE: "more power, out of the glare",
    Why.SPLITS: "lowest power that splits it",
    Why.SPLITS_BOTH: "splits the close pairs in it",
    Why.WANTS_STILL_AIR: "needs steadier air to split",
    Why.HIGHEST: "highest power there is",
    Why.WIDEST: "widest field, larger than framed",
    Why.WHOLE_DISC: "the whole disc with room",
    Why.LOW_POWER: "low power, wide field",
    Why.TOGETHER: "the whole group in one view",
    Why.UNKNOWN: "brightness unknown: low power first",
    Why.CONTRAST: "best contrast, framed with room",
    Why.LARGER: "larger, and shows as well",
    Why.SKY_AROUND: "the cluster with sky around it",
    Why.MORE_STARS: "more power darkens the sky",
    Why.GATHERS: "low power gathers its glow",
    Why.RESOLVES: "power to resolve its stars",
    Why.SMALL: "small: power for detail",
}


def why_text(why: Why) -> str:
    """Return the words, at most six of them."""
    return _WORDS[why]


def look_text(look: Suggestion) -> str:
    """Return eyepiece, Barlow and filter in a row: "9 mm + Barlow 2x + O III"."""
    return f"{look.combination.name} + {look.filter}" if look.filter else look.combination.name
