"""The picture of a night: the altitude of each target over time, and when it was looked at."""

import datetime as dt
from collections.abc import Iterator, Sequence
from zoneinfo import ZoneInfo

import numpy as np

from nightmode.constants import HOUR_S
from nightmode.history.heights import Heights
from nightmode.history.sitting import Look, Sitting
from nightmode.report.picture.marks import curve, mark, rule, svg, text

_LEFT, _RIGHT, _TOP, _BOTTOM = 26.0, 8.0, 8.0, 18.0
_WIDTH, _HEIGHT = 660.0, 250.0


class _Frame:
    """Converts times and altitudes to places in the picture."""

    def __init__(self, first_s: float, last_s: float) -> None:
        self.first_s, self.last_s = first_s, max(last_s, first_s + HOUR_S)

    def x(self, time_s: float) -> float:
        share = (time_s - self.first_s) / (self.last_s - self.first_s)
        return _LEFT + share * (_WIDTH - _LEFT - _RIGHT)

    def y(self, altitude_deg: float) -> float:
        return _HEIGHT - _BOTTOM - np.clip(altitude_deg, 0.0, 90.0) / 90.0 * (_HEIGHT - _TOP - _BOTTOM)


def heights_picture(sitting: Sitting, heights: Heights | None) -> str:
    """Return the night's picture; marks have the numbers of the looks, in order of time.

    Without heights only the looks are shown. "" if no look has an altitude.
    """
    looks = [(number, look) for number, look in enumerate(sitting.by_time, start=1)]
    marked = [(number, look) for number, look in looks if look.altitude_deg is not None]
    if not marked:
        return ""
    frame = _frame(sitting, heights)
    parts = [*_dark(frame, heights), *_grid(frame, sitting.zone)]
    if heights is not None:
        for name in dict.fromkeys(look.name for look in sitting.looks):
            if name in heights.altitude_deg:
                parts += _curves(frame, heights.time_s, heights.altitude_deg[name])
    parts += _marks(frame, marked, sitting.zone)
    return svg(_WIDTH, _HEIGHT, parts, f"heights in the night of {sitting.night}")


def _frame(sitting: Sitting, heights: Heights | None) -> _Frame:
    looked = [look.at.timestamp() for look in sitting.looks]
    first, last = min(looked) - HOUR_S / 2, max(looked) + HOUR_S / 2
    if heights is not None and heights.time_s.size:
        first, last = min(first, float(heights.time_s[0])), max(last, float(heights.time_s[-1]))
    return _Frame(first, last)


def _dark(frame: _Frame, heights: Heights | None) -> Iterator[str]:
    if heights is None or not heights.is_dark.any():
        return
    times = heights.time_s[heights.is_dark]
    left, right = frame.x(float(times[0])), frame.x(float(times[-1]))
    yield (
        f'<rect class="dark" x="{left:.1f}" y="{_TOP:g}" width="{right - left:.1f}" '
        f'height="{_HEIGHT - _TOP - _BOTTOM:g}"/>'
    )


def _grid(frame: _Frame, zone: ZoneInfo) -> Iterator[str]:
    for degrees in (0, 30, 60, 90):
        y = frame.y(degrees)
        yield rule(_LEFT, y, _WIDTH - _RIGHT, y)
        yield text(f"{degrees}°", _LEFT - 4, y + 3, "end")
    hour = np.ceil(frame.first_s / HOUR_S) * HOUR_S
    while hour <= frame.last_s:
        x = frame.x(hour)
        yield rule(x, _TOP, x, _HEIGHT - _BOTTOM)
        yield text(dt.datetime.fromtimestamp(hour, zone).strftime("%H:%M"), x, _HEIGHT - 5, "middle")
        hour += HOUR_S


def _curves(frame: _Frame, time_s: np.ndarray, altitude_deg: np.ndarray) -> Iterator[str]:
    """Return a target's altitude while it is up, a curve for each stretch."""
    up = np.flatnonzero(altitude_deg > 0)
    for run in np.split(up, np.flatnonzero(np.diff(up) > 1) + 1):
        yield curve([(frame.x(time_s[place]), frame.y(altitude_deg[place])) for place in run])


def _marks(frame: _Frame, marked: Sequence[tuple[int, Look]], zone: ZoneInfo) -> Iterator[str]:
    for place, (number, look) in enumerate(marked):
        x, y = frame.x(look.at.timestamp()), frame.y(look.altitude_deg or 0.0)
        words = f"{number}  {look.name}, {look.at.astimezone(zone):%H:%M}, {look.altitude_deg:.1f}°"
        yield mark(look.outcome, x, y, 3.6, words)
        yield text(str(number), x, y + (13 if place % 2 else -6), "middle")
