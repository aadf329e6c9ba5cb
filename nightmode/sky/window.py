"""The night as a stretch of time: from local noon to local noon, named by the date of its evening."""

import datetime as dt
from collections.abc import Sequence

import numpy as np

from nightmode.arrays import Array, Flags, Indices
from nightmode.constants import DAY_S, HOUR_S
from nightmode.model.observer import read_hours
from nightmode.model.site import Site
from nightmode.sky.dark import SUNSET_DEG, sun_altitude
from nightmode.sky.kernel import FIRST_YEAR, LAST_YEAR, Sky, check_years, years_error

#: How far inhabited zones' standard time runs off the Sun, in hours: behind it by less than 1 (eastern edges
#: of zones), ahead by 3.2 (western China). Beyond these the zone was not meant for the place, and noon by the
#: clock could fall after sunset.
_CLOCK_BEHIND_SUN_H, _CLOCK_AHEAD_OF_SUN_H = -1.25, 3.5


def night_window(site: Site, date: dt.date) -> tuple[float, float]:
    """Return the Unix seconds at which the night of that evening begins and ends.

    Noon by the site's clock to the next noon: 23 or 25 hours where the clocks change. Where the zone is
    further off the Sun than any zone is (a site given without its own, say), the night runs from mean solar
    noon to mean solar noon instead, so that it holds its whole evening and morning; its date is the one
    the site's clock shows, in standard time, at 18 h mean solar time. NightmodeError outside the years of the
    ephemeris.
    """
    if not FIRST_YEAR <= date.year <= LAST_YEAR:
        raise years_error()
    return _window(site, date)


def _window(site: Site, date: dt.date) -> tuple[float, float]:
    if has_zone_of_its_place(site, date):
        return _clock_noon(site, date), _clock_noon(site, date + dt.timedelta(days=1))
    start_s = _solar_noon(site, date)
    return start_s, start_s + DAY_S


def has_zone_of_its_place(site: Site, date: dt.date) -> bool:
    """Return whether a site's zone is as near the Sun as that of any inhabited place is."""
    return _CLOCK_BEHIND_SUN_H <= clock_off_sun_h(site, date) <= _CLOCK_AHEAD_OF_SUN_H


def has_summer_of_its_half(site: Site, year: int) -> bool:
    """Return whether a zone has its summer time, if any, in the summer of the site's half of the Earth."""
    january, july = (dt.datetime(year, month, 1, tzinfo=site.zone).utcoffset() for month in (1, 7))
    if january is None or july is None or january == july or site.latitude_deg == 0.0:
        return True
    return (january > july) == (site.latitude_deg < 0.0)


def hours_of_night(site: Site, date: dt.date, hours: str) -> tuple[float, float]:
    """Return the Unix seconds of an observer's hours ("20:00-00:30", local) in a night."""
    next_day = date + dt.timedelta(days=1)
    days = ((next_day if time.hour < 12 else date, time) for time in read_hours(hours))
    first, last = (dt.datetime.combine(day, time, tzinfo=site.zone).timestamp() for day, time in days)
    return first, last


def are_in_hours(
    site: Site, dates: Sequence[dt.date], hours: str | None, time_s: Array, night_number: Indices
) -> Flags:
    """Return which instants (T,) of the nights `dates` lie in an observer's hours; all if hours is None.

    night_number (T,) has the place in dates of the night of each instant.
    """
    if hours is None or not dates:
        return np.ones(time_s.size, dtype=bool)
    spans = np.array([hours_of_night(site, date, hours) for date in dates])
    within: Flags = (spans[night_number, 0] <= time_s) & (time_s <= spans[night_number, 1])
    return within


def instants_of(site: Site, dates: Sequence[dt.date], step_s: float) -> tuple[Array, Indices]:
    """Return instants of nights, every step_s, and the place in dates of the night of each, (T,)."""
    times = [np.arange(*night_window(site, date), step_s) for date in dates]
    night_number = np.repeat(np.arange(len(times)), [len(instants) for instants in times])
    return np.concatenate([np.zeros(0), *times]), night_number


def lowest_of_each(values: Array, night_number: Indices) -> Array:
    """Return the lowest of the values (T,) in each night, (D,), by the number of each value's night."""
    count = int(night_number[-1]) + 1 if night_number.size else 0
    return np.array([values[night_number == number].min() for number in range(count)])


def minute_columns(window: tuple[float, float]) -> np.ndarray:
    """Return every whole minute of a window in Unix seconds, both ends included: 1441 on most nights."""
    first, last = np.ceil(window[0] / 60.0), np.floor(window[1] / 60.0)
    return np.arange(first, last + 1) * 60.0


def night_of(site: Site, at_s: float) -> dt.date:
    """Return the night that an instant belongs to, as the date of its evening.

    NightmodeError outside the years of the ephemeris.
    """
    check_years(at_s)
    today = dt.datetime.fromtimestamp(at_s, dt.UTC).astimezone(site.zone).date()
    for days in (0, -1, 1):
        date = today + dt.timedelta(days=days)
        start_s, end_s = _window(site, date)
        if start_s <= at_s < end_s:
            return date
    return today


def coming_night(sky: Sky, site: Site, at_s: float) -> dt.date:
    """Return the night that can still be planned at an instant, as the date of its evening.

    The one that the instant belongs to, until the Sun has risen on it; the next from then on. In a polar day
    that is from the middle of the night, in a polar night from its end. NightmodeError as for `night_of`.
    """
    date = night_of(site, at_s)
    start_s, end_s = _window(site, date)
    is_up = sun_altitude(sky, site, np.array([at_s]))[0] > SUNSET_DEG
    is_over = at_s > (start_s + end_s) / 2 and is_up
    return date + dt.timedelta(days=1) if is_over else date


def _clock_noon(site: Site, day: dt.date) -> float:
    return dt.datetime.combine(day, dt.time(12), tzinfo=site.zone).timestamp()


def _standard_offset_h(site: Site, day: dt.date) -> float:
    noon = dt.datetime.combine(day, dt.time(12), tzinfo=site.zone)
    standard = (noon.utcoffset() or dt.timedelta()) - (noon.dst() or dt.timedelta())
    return standard / dt.timedelta(hours=1)


def clock_off_sun_h(site: Site, day: dt.date) -> float:
    """Return standard time minus mean solar time in hours, -12 to 12."""
    return (_standard_offset_h(site, day) - site.longitude_deg / 15.0 + 12.0) % 24.0 - 12.0


def _solar_noon(site: Site, day: dt.date) -> float:
    """Return the mean solar noon six hours before the evening that has this date on the site's clock."""
    midnight = dt.datetime.combine(day, dt.time(), tzinfo=dt.UTC).timestamp()
    # Clock time of 18 h mean solar time, brought into 0 to 24 h: the evening that belongs to this date.
    evening_h = (18.0 + clock_off_sun_h(site, day)) % 24.0
    return midnight + (evening_h - _standard_offset_h(site, day) - 6.0) * HOUR_S
