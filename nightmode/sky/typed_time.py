"""Dates and times as people type them."""

import datetime as dt
import re

from nightmode.errors import NightmodeError
from nightmode.model.site import Site
from nightmode.sky.kernel import FIRST_YEAR, LAST_YEAR
from nightmode.sky.window import night_window

_DATE = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
_CLOCK_TIME = re.compile(r"(\d{1,2}):(\d{2})(?::(\d{2}))?", re.ASCII)
TIME_EXAMPLE = "write 23:15, 2026-12-12T23:15 (time at the site) or 2026-12-12T22:15Z"


def read_date(text: str | None, flag: str = "--night") -> dt.date | None:
    """Return a date written YYYY-MM-DD, or None for None. NightmodeError for anything else.

    So are dates outside the years of the ephemeris.
    """
    if text is None:
        return None
    try:
        date = dt.date.fromisoformat(text) if _DATE.fullmatch(text) else None
    except ValueError:
        date = None
    if date is None:
        raise NightmodeError(flag, f"{text!r} is not a date", "write YYYY-MM-DD, for example 2026-12-12")
    if not FIRST_YEAR <= date.year <= LAST_YEAR:
        raise NightmodeError(
            flag, f"{text} is too far off", f"choose a date from {FIRST_YEAR} to {LAST_YEAR}"
        )
    return date


def read_time(text: str | None, site: Site, date: dt.date, flag: str = "--at") -> float | None:
    """Return an instant of that night in Unix seconds, or None for None.

    A time of day alone is the one that falls into the night, by the site's clock. NightmodeError for
    anything that is not a time, and for an instant outside the night, of which nothing has been worked out.
    """
    if text is None:
        return None
    try:
        found = _instants(text, site, date)
    except (ValueError, OverflowError):
        raise NightmodeError(flag, f"{text!r} is not a time", TIME_EXAMPLE) from None
    start_s, end_s = night_window(site, date)
    for instant_s in found:
        if start_s <= instant_s <= end_s:
            return instant_s
    raise NightmodeError(flag, f"{text!r} is not within the night of {date}", TIME_EXAMPLE)


def _instants(text: str, site: Site, date: dt.date) -> list[float]:
    """Return what a time can mean, in Unix seconds. ValueError or OverflowError if it is none."""
    match = _CLOCK_TIME.fullmatch(text)
    if match is None:
        given = dt.datetime.fromisoformat(text)
        return [(given if given.tzinfo else given.replace(tzinfo=site.zone)).timestamp()]
    hour, minute, second = (int(part or 0) for part in match.groups())
    time = dt.time(hour, minute, second)
    days = [date + dt.timedelta(days=step) for step in (0, 1, -1)]
    return [dt.datetime.combine(day, time, site.zone).timestamp() for day in days]
