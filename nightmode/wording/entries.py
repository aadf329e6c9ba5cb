"""The entries of a session in a few words, as the screen confirms them and takes them back."""

from collections.abc import Set

from nightmode.model.session import Entry, Event
from nightmode.walk.state import OCTANTS
from nightmode.wording.air import air_text

WHITE_LIGHT, CLEAR, ADDED = "white light", "clear all round", "added for tonight"


def entry_text(entry: Entry) -> str:
    """Return what an entry says, like "M 42: seen", "M 42: bright core", "seeing II"."""
    match entry.event:
        case Event.TICK if entry.outcome:
            words = entry.outcome.value
        case Event.CLOUDS:
            words = clouds_text(frozenset(entry.note.split()))
        case Event.CLEAR:
            words = CLEAR
        case Event.LIGHT:
            words = WHITE_LIGHT
        case Event.SKY if entry.sky_brightness is not None:
            words = sky_text(entry.sky_brightness)
        case Event.ADD:
            words = ADDED
        case Event.CHECK:
            words = seeing_text(entry.seeing) if entry.seeing else air_text(entry.transparency, entry.dew)
        case _:
            words = entry.note or entry.event.value
    return f"{entry.target}: {words}" if entry.target else words


def points_text(octants: Set[str]) -> str:
    """Return compass points in their order round the horizon, "nowhere" for none."""
    return " ".join(point for point in OCTANTS if point in octants) or "nowhere"


def clouds_text(clear: Set[str]) -> str:
    """Return that there are clouds, and which compass points are clear."""
    return f"clouds; clear only: {points_text(clear)}"


def seeing_text(seeing: str) -> str:
    """Return a reading of the seeing: "seeing II"."""
    return f"seeing {seeing}"


def sky_text(sky_brightness: float) -> str:
    """Return a reading of the sky, V magnitudes per square arcsecond."""
    return f"sky {sky_brightness:.2f} mag/arcsec²"
