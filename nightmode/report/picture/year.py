"""A target's year: the dark hours of every night with Moon and target in them, and its altitude."""

import datetime as dt
from collections.abc import Iterator, Sequence
from zoneinfo import ZoneInfo

import numpy as np

from nightmode.arrays import Flags
from nightmode.planning.season import STEP_MIN, Season, month_name
from nightmode.report.picture.marks import curve, rule, svg, text
from nightmode.sky.dark import ASTRONOMICAL_DEG

_LEFT, _RIGHT, _TOP, _BOTTOM = 34.0, 6.0, 6.0, 16.0
_WIDTH, _HOURS_HEIGHT, _HEIGHT_HEIGHT = 660.0, 260.0, 120.0
#: Clock hours after noon between which nights are drawn.
_FIRST_H, _LAST_H = 3.0, 21.0
CAPTION = (
    "Each night is a column, evening at the top. Grey: astronomical darkness. Pale: the Moon is up in it. "
    "Red: the target can be observed, paler where the Moon is up."
)
HEIGHT_CAPTION = "The greatest altitude while it can be observed, night by night, in degrees."


def hours_picture(found: Season, row: int, zone: ZoneInfo) -> str:
    """Return the hours of every night as areas: darkness, Moon, target."""
    dark = found.sun_deg < ASTRONOMICAL_DEG
    usable = found.usable[row]
    parts = [
        _columns(found, dark, zone, "night"),
        _columns(found, dark & found.moon_up, zone, "moonlit"),
        _columns(found, usable & found.moon_up, zone, "pale"),
        _columns(found, usable & ~found.moon_up, zone, "up"),
        *_month_lines(found.dates, _HOURS_HEIGHT),
        *_hour_lines(),
    ]
    return svg(_WIDTH, _HOURS_HEIGHT, parts, "dark hours, Moon and target through the year")


def height_picture(found: Season, row: int) -> str:
    """Return the greatest usable altitude of every night as a curve, broken where there is none."""
    best = np.full(len(found.dates), -1.0)
    here = found.usable[row]
    np.maximum.at(best, found.night_number[here], found.altitude_deg[row, here])
    parts = list(_month_lines(found.dates, _HEIGHT_HEIGHT))
    for degrees in (0, 30, 60, 90):
        y = _altitude_y(degrees)
        parts += [rule(_LEFT, y, _WIDTH - _RIGHT, y), text(f"{degrees}°", _LEFT - 4, y + 3, "end")]
    shown = np.flatnonzero(best > 0.0)
    for run in np.split(shown, np.flatnonzero(np.diff(shown) > 1) + 1):
        parts.append(curve([(_x(place, found.dates), _altitude_y(best[place])) for place in run.tolist()]))
    return svg(_WIDTH, _HEIGHT_HEIGHT, parts, "greatest altitude through the year")


def _columns(found: Season, which: Flags, zone: ZoneInfo, kind: str) -> str:
    """Return one SVG path with a stroke for each stretch of each night."""
    places = np.flatnonzero(which)
    step_s = STEP_MIN * 60.0
    broken = (np.diff(found.night_number[places]) > 0) | (np.diff(found.time_s[places]) > 1.5 * step_s)
    strokes = []
    for run in np.split(places, np.flatnonzero(broken) + 1):
        if not run.size:
            continue
        night = int(found.night_number[run[0]])
        top = _hour_y(_after_noon_h(float(found.time_s[run[0]]), found.dates[night], zone))
        end_h = _after_noon_h(float(found.time_s[run[-1]]) + step_s, found.dates[night], zone)
        strokes.append(f"M{_x(night, found.dates):.1f} {top:.1f}V{_hour_y(end_h):.1f}")
    width = (_WIDTH - _LEFT - _RIGHT) / len(found.dates)
    return f'<path class="{kind}" stroke-width="{width * 1.05:.2f}" d="{"".join(strokes)}"/>'


def _month_lines(dates: Sequence[dt.date], height: float) -> Iterator[str]:
    for place, date in enumerate(dates):
        if date.day == 1:
            x = _x(place - 0.5, dates)
            yield rule(x, _TOP, x, height - _BOTTOM)
        if date.day == 15:
            name = month_name(date.year, date.month)
            yield text(
                name if date.month == 1 or place < 31 else name[:3], _x(place, dates), height - 4, "middle"
            )


def _hour_lines() -> Iterator[str]:
    for hour in range(int(_FIRST_H), int(_LAST_H) + 1, 3):
        y = _hour_y(float(hour))
        yield rule(_LEFT, y, _WIDTH - _RIGHT, y)
        yield text(f"{(hour + 12) % 24:02d}:00", _LEFT - 4, y + 3, "end")


def _after_noon_h(at_s: float, evening: dt.date, zone: ZoneInfo) -> float:
    """Return the hours since noon of the evening's date, as the site's clock shows them."""
    local = dt.datetime.fromtimestamp(at_s, zone).replace(tzinfo=None)
    return (local - dt.datetime.combine(evening, dt.time(12))) / dt.timedelta(hours=1)


def _x(place: float, dates: Sequence[dt.date]) -> float:
    return _LEFT + (place + 0.5) / len(dates) * (_WIDTH - _LEFT - _RIGHT)


def _hour_y(hour: float) -> float:
    share = (np.clip(hour, _FIRST_H, _LAST_H) - _FIRST_H) / (_LAST_H - _FIRST_H)
    return float(_TOP + share * (_HOURS_HEIGHT - _TOP - _BOTTOM))


def _altitude_y(altitude_deg: float) -> float:
    return float(_HEIGHT_HEIGHT - _BOTTOM - altitude_deg / 90.0 * (_HEIGHT_HEIGHT - _TOP - _BOTTOM))
