"""The coming nights as an iCalendar file (RFC 5545), which ordinary calendars import."""

import datetime as dt
import hashlib
from collections.abc import Sequence

from nightmode.model.site import Site
from nightmode.planning.ahead import NightAhead, total_hours
from nightmode.report.nights import longest, night_words

#: RFC 5545, section 3.1: a line is at most 75 octets long, what is longer goes on after a blank.
_LONGEST_OCTETS = 75


def calendar(nights: Sequence[NightAhead], site: Site, made: dt.datetime, by_moon: bool = False) -> str:
    """Return an iCalendar text with one event for each night: its longest dark stretch, if possible moonless.

    With by_moon the Moon is what the nights are for: an event is the longest dark stretch with it up. A night
    without darkness becomes an event of a whole day. Events have the site's name but not its place,
    and do not mark the observer as busy. When the file is made again, events of the same night keep their
    UID.
    """
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//nightmode//coming nights//EN",
        "CALSCALE:GREGORIAN",
    ]
    for night in nights:
        lines += _event(night, site, made, by_moon)
    return "".join(_folded(line) + "\r\n" for line in [*lines, "END:VCALENDAR"])


def _event(night: NightAhead, site: Site, made: dt.datetime, by_moon: bool) -> list[str]:
    identity = hashlib.sha256(f"{night.date}\0{site.name}".encode()).hexdigest()[:16]
    return [
        "BEGIN:VEVENT",
        f"UID:{night.date:%Y%m%d}-{identity}@nightmode.invalid",
        f"DTSTAMP:{made.astimezone(dt.UTC):%Y%m%dT%H%M%SZ}",
        *_times(night, by_moon),
        f"SUMMARY:{_escaped(_summary(night, by_moon))}",
        f"LOCATION:{_escaped(site.name)}",
        f"DESCRIPTION:{_escaped(night_words(night, site.zone))}",
        "TRANSP:TRANSPARENT",
        "END:VEVENT",
    ]


def _times(night: NightAhead, by_moon: bool) -> list[str]:
    span = longest(night.moonlit) if by_moon else longest(night.moonless or night.dark)
    if span is None:
        next_day = night.date + dt.timedelta(days=1)
        return [f"DTSTART;VALUE=DATE:{night.date:%Y%m%d}", f"DTEND;VALUE=DATE:{next_day:%Y%m%d}"]
    start, end = (dt.datetime.fromtimestamp(round(instant), dt.UTC) for instant in span)
    return [f"DTSTART:{start:%Y%m%dT%H%M%SZ}", f"DTEND:{end:%Y%m%dT%H%M%SZ}"]


def _summary(night: NightAhead, by_moon: bool) -> str:
    if by_moon:
        return f"Moon, {night.illuminated * 100:.0f} % lit: {total_hours(night.moonlit):.1f} h dark with it"
    good_for = night.good_for[0].upper() + night.good_for[1:]
    return f"{good_for}: {night.moonless_dark_hours:.1f} h dark without Moon"


def _escaped(text: str) -> str:
    """Return a text value with the escapes of RFC 5545, section 3.3.11."""
    for plain, escaped in (("\\", "\\\\"), (";", "\\;"), (",", "\\,"), ("\n", "\\n")):
        text = text.replace(plain, escaped)
    return text


def _folded(line: str) -> str:
    """Return a line folded into parts within the limit of octets, never within a character."""
    parts, room = [""], _LONGEST_OCTETS
    for character in line:
        size = len(character.encode())
        if size > room:
            parts.append(" ")
            room = _LONGEST_OCTETS - 1
        parts[-1] += character
        room -= size
    return "\r\n".join(parts)
