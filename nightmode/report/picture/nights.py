"""The nights of a season as a calendar: a row for each month, a place for each day."""

import calendar
import datetime as dt
from collections.abc import Iterator, Mapping

from nightmode.report.picture.marks import svg, text

_LEFT, _CELL, _ROW, _TOP = 58.0, 19.0, 21.0, 16.0
#: The radius of a dot for one target seen, and the largest radius, which fills the place.
_LEAST, _MOST, _FULL = 2.6, 8.6, 30


def nights_picture(seen: Mapping[dt.date, int]) -> str:
    """Return the calendar from the first month to the last; the area of a dot grows with the targets seen.

    Each night is a link to the part of the page with the id n-DATE.
    """
    months = list(_months(min(seen), max(seen)))
    width, height = _LEFT + 31 * _CELL, _TOP + len(months) * _ROW
    parts = [text(str(day), _x(day), 9, "middle") for day in (1, 5, 10, 15, 20, 25, 30)]
    for row, (year, month) in enumerate(months):
        y = _TOP + (row + 0.5) * _ROW
        name = (
            f"{calendar.month_abbr[month]} {year}" if row == 0 or month == 1 else calendar.month_abbr[month]
        )
        parts.append(text(name, 0, y + 3))
        for day in range(1, calendar.monthrange(year, month)[1] + 1):
            parts.append(_day(dt.date(year, month, day), seen, y))
    return svg(width, height, parts, "calendar of the nights")


def _months(first: dt.date, last: dt.date) -> Iterator[tuple[int, int]]:
    month = first.year * 12 + first.month - 1
    while month <= last.year * 12 + last.month - 1:
        yield month // 12, month % 12 + 1
        month += 1


def _day(day: dt.date, seen: Mapping[dt.date, int], y: float) -> str:
    x = _x(day.day)
    if day not in seen:
        return f'<circle class="rest" cx="{x:.1f}" cy="{y:.1f}" r="1.4"/>'
    share = min(1.0, seen[day] / _FULL)
    radius = _LEAST + (_MOST - _LEAST) * share**0.5
    shape = f'<circle class="ink" cx="{x:.1f}" cy="{y:.1f}" r="{radius:.1f}"/>'
    return f'<a href="#n-{day}"><title>{day.day} {day:%B %Y}: {seen[day]} seen</title>{shape}</a>'


def _x(day: int) -> float:
    return _LEFT + (day - 0.5) * _CELL
