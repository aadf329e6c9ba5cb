"""Flags that several commands share, and how dates and times are read from them."""

import argparse
import datetime as dt
import re
from pathlib import Path
from typing import TYPE_CHECKING

from nightmode.errors import NightmodeError

if TYPE_CHECKING:
    from nightmode.model.site import Site

TIME_EXAMPLE = "write 23:15, 2026-12-12T23:15 (time at the site) or 2026-12-12T22:15Z"


def add_plan(parser: argparse.ArgumentParser) -> None:
    """Add the plan and what it is brought together with."""
    parser.add_argument("plan", type=Path, metavar="PLAN", help="a plan file (plan.toml)")
    add_observer(parser)
    parser.add_argument(
        "--night", metavar="DATE", help="the evening's date, YYYY-MM-DD; else the plan's, else tonight"
    )


def add_observer(parser: argparse.ArgumentParser) -> None:
    """Add the flag for another observer.toml."""
    parser.add_argument(
        "--observer", type=Path, metavar="FILE", help="observer.toml; else the one in your settings folder"
    )


def read_date(text: str | None, flag: str = "--night") -> dt.date | None:
    """Return a date written YYYY-MM-DD, or None for None. NightmodeError for anything else."""
    if text is None:
        return None
    try:
        if re.fullmatch(r"\d{4}-\d{2}-\d{2}", text, re.ASCII):
            return dt.date.fromisoformat(text)
    except ValueError:
        pass
    raise NightmodeError(flag, f"{text!r} is not a date", "write YYYY-MM-DD, for example 2026-12-12")


def read_time(text: str | None, site: "Site", night: dt.date, flag: str = "--at") -> float | None:
    """Return an instant in Unix seconds, or None for None. NightmodeError for anything else.

    A time of day alone is one of that night, noon to noon, by the site's clock.
    """
    if text is None:
        return None
    try:
        if match := re.fullmatch(r"(\d{1,2}):(\d{2})(?::(\d{2}))?", text, re.ASCII):
            hour, minute, second = (int(part or 0) for part in match.groups())
            day = night if hour >= 12 else night + dt.timedelta(days=1)
            moment = dt.datetime.combine(day, dt.time(hour, minute, second), site.zone)
        else:
            moment = dt.datetime.fromisoformat(text)
            moment = moment if moment.tzinfo else moment.replace(tzinfo=site.zone)
        return moment.timestamp()
    except (ValueError, OverflowError):
        raise NightmodeError(flag, f"{text!r} is not a time", TIME_EXAMPLE) from None
