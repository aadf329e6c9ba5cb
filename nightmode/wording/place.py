"""The words for a place in the sky, in fists and compass points."""

from nightmode.aim.align import AlignStar
from nightmode.wording.figures import compass_point


def fists(degrees: float, fist_deg: float) -> str:
    """Return an angle in fists at arm's length, to the half."""
    return halves(degrees / fist_deg, "fist")


def place_words(altitude_deg: float, azimuth_deg: float, fist_deg: float) -> str:
    """Return a place in the sky as compass point and fists above the horizon."""
    return f"{compass_point(azimuth_deg)}, {fists(altitude_deg, fist_deg)} up"


def align_words(star: AlignStar, fist_deg: float) -> str:
    """Return which star to set the finder on, and where it is."""
    return f"set it on {star.name}, {place_words(star.altitude_deg, star.azimuth_deg, fist_deg)}"


def halves(number: float, noun: str) -> str:
    """Return a number to the nearest half with its noun, at least half of one."""
    whole, half = divmod(max(1, round(number * 2.0)), 2)
    shown = f"{whole or ''}{'½' if half else ''}"
    return f"{shown} {noun}{'' if (whole, half) in ((1, 0), (0, 1)) else 's'}"
