"""How numbers, times and names are written everywhere, on the screen and on paper."""

import datetime as dt
import re
import textwrap
from zoneinfo import ZoneInfo

from nightmode.constants import COMPASS
from nightmode.walk.usable import Ending

#: The word for what ends a usable stretch.
ENDS = {Ending.HORIZON: "sets", Ending.DAWN: "dawn", Ending.LIGHT: "light"}
#: What has become of a target whose usable stretch has ended.
HAS_ENDED = {
    Ending.HORIZON: "has set",
    Ending.DAWN: "is lost in the dawn",
    Ending.LIGHT: "has lost its light",
}


def time_of_day(at_s: float | None, zone: ZoneInfo, none: str = "–") -> str:
    """Return a time of day at the site, to the minute; `none` for None."""
    if at_s is None:
        return none
    return local(at_s + 30, zone).strftime("%H:%M")


def clock_time(at_s: float, zone: ZoneInfo) -> str:
    """Return the time of day as a clock at the site shows it: its minute, not the nearest one."""
    return local(at_s, zone).strftime("%H:%M")


def hour_text(hours: float, halves: bool = False) -> str:
    """Return where a clock's hand stands, to the hour or to the half: "12 o'clock", "half past 7"."""
    steps = round(hours * 2) if halves else 2 * round(hours)
    named = (steps // 2 - 1) % 12 + 1
    return f"half past {named}" if steps % 2 else f"{named} o'clock"


def span_text(begins_s: float, ends_s: float, zone: ZoneInfo) -> str:
    """Return a stretch of time at the site: "18:20-04:04"."""
    return f"{time_of_day(begins_s, zone)}-{time_of_day(ends_s, zone)}"


def local(at_s: float, zone: ZoneInfo) -> dt.datetime:
    """Return the local date and time at the site of an instant."""
    return dt.datetime.fromtimestamp(at_s, zone)


def day(at_s: float, zone: ZoneInfo) -> str:
    """Return the day and month at the site of an instant: "17 Jan"."""
    date = local(at_s, zone)
    return f"{date.day} {date:%b}"


def date_text(date: dt.date) -> str:
    """Return a date as 6 Dec 2026."""
    return f"{date.day} {date:%b %Y}"


def utc_iso(at_s: float | None) -> str | None:
    """Return an instant as UTC in ISO 8601 to the second, or None."""
    if at_s is None:
        return None
    instant = dt.datetime.fromtimestamp(round(at_s), dt.UTC)
    return instant.strftime("%Y-%m-%dT%H:%M:%SZ")


def duration(seconds: float) -> str:
    """Return a length of time in hours and minutes, rounded down so that it is never overstated."""
    if seconds < 60:
        return "less than a minute"
    minutes = int(seconds // 60)
    return f"{minutes // 60} h {minutes % 60:02d} min" if minutes >= 60 else f"{minutes} min"


def round_angle(angle_deg: float, digits: int = 0) -> str:
    """Return an angle that goes round the circle, 0° and never 360°: an azimuth, a position angle."""
    return f"{round(angle_deg, digits) % 360.0:.{digits}f}°"


def compass_point(azimuth_deg: float) -> str:
    """Return the nearest of sixteen compass points."""
    return COMPASS[round(azimuth_deg / 22.5) % 16]


def kind_and_place(kind: str, constellation: str) -> str:
    """Return kind and constellation, without the latter if it is not known: "galaxy in And"."""
    return f"{kind} in {constellation}" if constellation else kind


def cut(text: str, width: int) -> str:
    """Return text cut to at most so many characters, with an ellipsis if something is cut off."""
    return text if len(text) <= width else text[: width - 1].rstrip() + "…"


def wrapped_names(text: str, width: int, first: str = "", later: str = "") -> list[str]:
    """Return a text of names as lines of at most `width`, with `first` and `later` before them.

    A designation such as M 31 stays on one line.
    """
    kept = re.sub(r"(?<=[^,]) (?=[\d/])", "\0", text)
    rows = textwrap.wrap(kept, width, initial_indent=first, subsequent_indent=later)
    return [row.replace("\0", " ") for row in rows]


def hours_text(hours: str) -> str:
    """Return the remark under what was counted in the observer's hours, as observer.toml has them."""
    return f"Counted in your hours alone: {hours}."


def power(magnification: float) -> str:
    """Return a magnification as 48x."""
    return f"{magnification:.0f}x"


def field(true_field_deg: float) -> str:
    """Return a true field in degrees, or in arcminutes below half a degree."""
    return f"{true_field_deg:.1f}°" if true_field_deg >= 0.5 else f"{true_field_deg * 60:.0f}′"
