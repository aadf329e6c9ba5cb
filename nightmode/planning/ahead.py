"""The coming nights at a site: dark hours, the Moon, and what each night is good for."""

import datetime as dt
from collections.abc import Sequence
from enum import StrEnum
from itertools import groupby

import numpy as np

from nightmode.arrays import Array, Interval
from nightmode.model.site import Site
from nightmode.records import Record
from nightmode.sky.crossings import intervals
from nightmode.sky.dark import ASTRONOMICAL_DEG, NAUTICAL_DEG, sun_altitude_at, twilights
from nightmode.sky.eclipse import LunarEclipse, eclipse_seen
from nightmode.sky.kernel import Sky
from nightmode.sky.moon import MoonTrack, illuminated, moon_at
from nightmode.sky.vantage import stand
from nightmode.sky.window import hours_of_night, night_window

#: A night is good for the deep sky if it has two dark hours without Moon, or if a shorter darkness is all
#: without Moon; for bright objects if it has half an hour, or a Moon less than half lit. Common practice, no
#: published source.
ENOUGH_H, SOME_H, SLIM_MOON = 2.0, 0.5, 0.5

#: The best run holds nights with at least this share of the best night's moonless dark hours.
NEARLY_BEST = 0.8

#: Linear interpolation between columns so far apart is good to about 1.5 s for the Sun's twilights.
_STEP_S = 300.0
#: Nights worked out at once: this keeps the arrays of a whole year near 20 MB.
_AT_ONCE = 60


class GoodFor(StrEnum):
    """What a night is good for."""

    DEEP_SKY = "deep sky"
    BRIGHT = "bright objects"
    MOON_AND_PLANETS = "Moon and planets"
    NO_DARKNESS = "no real darkness"


class NightAhead(Record):
    """One coming night. Spans (begin, end) and instants are in Unix seconds.

    dark            spans with the Sun below -18 degrees, within the observer's hours
    moonless        the part of it with the Moon's upper limb below the level horizon
    moon_rises_s, moon_sets_s   the first of each from noon to noon, None without one
    sun_lowest_deg  within those hours
    eclipse         of the Moon, seen from the site, None without one
    illuminated     of the Moon's disc, 0 to 1, when the Sun is lowest
    """

    date: dt.date
    dark: tuple[Interval, ...]
    moonless: tuple[Interval, ...]
    sun_lowest_deg: float
    illuminated: float
    moon_rises_s: float | None
    moon_sets_s: float | None
    moon_up_when_darkest: bool
    eclipse: LunarEclipse | None = None

    @property
    def dark_hours(self) -> float:
        """Hours of astronomical darkness."""
        return total_hours(self.dark)

    @property
    def moonless_dark_hours(self) -> float:
        """Hours of it without the Moon."""
        return total_hours(self.moonless)

    @property
    def moonlit(self) -> tuple[Interval, ...]:
        """The part of the dark with the Moon up."""
        return without(self.dark, self.moonless)

    @property
    def shows_moon(self) -> bool:
        """Whether an evening on the Moon is worth it: two hours of the dark or more with it.

        So of a night that is good for the deep sky when the Moon has set, as around first quarter, too.
        """
        if not self.dark:
            return self.moon_up_when_darkest or self.good_for is GoodFor.MOON_AND_PLANETS
        return total_hours(self.moonlit) >= min(ENOUGH_H, 0.99 * self.dark_hours)

    @property
    def good_for(self) -> GoodFor:
        """What the night is good for."""
        if self.sun_lowest_deg >= ASTRONOMICAL_DEG:
            return GoodFor.BRIGHT if self.sun_lowest_deg < NAUTICAL_DEG else GoodFor.NO_DARKNESS
        if not self.dark:
            return GoodFor.MOON_AND_PLANETS
        if self.moonless_dark_hours >= min(ENOUGH_H, 0.99 * self.dark_hours):
            return GoodFor.DEEP_SKY
        if self.moonless_dark_hours >= SOME_H or self.illuminated < SLIM_MOON:
            return GoodFor.BRIGHT
        return GoodFor.MOON_AND_PLANETS


def nights_ahead(
    sky: Sky, site: Site, first: dt.date, days: int, hours: str | None = None
) -> list[NightAhead]:
    """Return `days` nights from the evening of `first` on; hours, the observer's, limit what is counted.

    NightmodeError outside the years of the ephemeris.
    """
    dates = [first + dt.timedelta(days=number) for number in range(days)]
    found: list[NightAhead] = []
    for start in range(0, days, _AT_ONCE):
        found += _some_nights(sky, site, dates[start : start + _AT_ONCE], hours)
    return found


def best_run(nights: Sequence[NightAhead]) -> range | None:
    """Return the positions of the best run of nights, each nearly as dark as the best one; None for none.

    Of several such runs, take the one with the most moonless dark hours. Only nights for the deep sky count.
    """
    most = max((night.moonless_dark_hours for night in nights), default=0.0)
    near = [
        night.good_for is GoodFor.DEEP_SKY and night.moonless_dark_hours >= NEARLY_BEST * most
        for night in nights
    ]
    groups = groupby(range(len(nights)), key=lambda position: near[position])
    runs = [list(group) for good, group in groups if good]
    if not runs:
        return None
    best = max(runs, key=lambda run: sum(nights[position].moonless_dark_hours for position in run))
    return range(best[0], best[-1] + 1)


def picked(nights: Sequence[NightAhead], pick: str) -> list[NightAhead]:
    """Return the nights that a word of the flag --pick means, such as for a calendar."""
    if pick == "all":
        return list(nights)
    if pick == "best":
        return [nights[position] for position in best_run(nights) or ()]
    if pick == "moon":
        return [night for night in nights if night.shows_moon]
    wanted = {"deep-sky": GoodFor.DEEP_SKY, "bright": GoodFor.BRIGHT}[pick]
    return [night for night in nights if night.good_for is wanted]


def total_hours(spans: Sequence[Interval]) -> float:
    """Return the total length of spans, in hours."""
    return sum(end - start for start, end in spans) / 3600.0


def without(spans: Sequence[Interval], holes: Sequence[Interval]) -> tuple[Interval, ...]:
    """Return spans without holes. Both are in order of time, and neither overlap among themselves."""
    left: list[Interval] = []
    for start, end in spans:
        for hole_start, hole_end in holes:
            if hole_end <= start or hole_start >= end:
                continue
            if hole_start > start:
                left.append((start, hole_start))
            start = hole_end
        if start < end:
            left.append((start, end))
    return tuple(left)


def _some_nights(sky: Sky, site: Site, dates: Sequence[dt.date], hours: str | None) -> list[NightAhead]:
    windows = [night_window(site, date) for date in dates]
    time_s = np.arange(windows[0][0], windows[-1][1] + _STEP_S, _STEP_S)
    vantage = stand(sky, site, time_s)
    sun_deg, moon = sun_altitude_at(vantage), moon_at(vantage)
    up = _moon_up(moon, time_s)
    return [
        _one_night(sky, date, window, time_s, sun_deg, moon, up, _outside(site, date, hours))
        for date, window in zip(dates, windows, strict=True)
    ]


def _one_night(
    sky: Sky,
    date: dt.date,
    window: Interval,
    time_s: np.ndarray,
    sun_deg: np.ndarray,
    moon: MoonTrack,
    up: Sequence[Interval],
    outside: Sequence[Interval],
) -> NightAhead:
    here = (time_s >= window[0]) & (time_s <= window[1])
    sun = twilights(time_s[here], sun_deg[here])
    dark = without(intervals(time_s[here], ASTRONOMICAL_DEG - sun_deg[here])[0], outside)
    phase_angle_deg = np.interp(sun.darkest_s, time_s, moon.phase_angle_deg)
    return NightAhead(
        date=date,
        dark=dark,
        moonless=without(dark, up),
        sun_lowest_deg=_lowest_deg(time_s[here], sun_deg[here], outside) if outside else sun.sun_lowest_deg,
        illuminated=float(illuminated(phase_angle_deg)),
        moon_rises_s=_first_within(moon.rises_s, window),
        moon_sets_s=_first_within(moon.sets_s, window),
        moon_up_when_darkest=any(start <= sun.darkest_s < end for start, end in up),
        eclipse=eclipse_seen(sky, time_s[here], moon.altitude_deg[here], moon.phase_angle_deg[here]),
    )


def _lowest_deg(time_s: Array, sun_deg: Array, outside: Sequence[Interval]) -> float:
    """Return the lowest altitude of the Sun, degrees, between the first and the last of these spans."""
    first_s, last_s = outside[0][1], outside[-1][0]
    within = sun_deg[(first_s <= time_s) & (time_s <= last_s)]
    return float(min(np.interp([first_s, last_s], time_s, sun_deg).min(), within.min(initial=90.0)))


def _outside(site: Site, date: dt.date, hours: str | None) -> tuple[Interval, ...]:
    """Return the spans outside the observer's hours of a night; none if hours is None."""
    if hours is None:
        return ()
    first, last = hours_of_night(site, date, hours)
    return (-np.inf, first), (last, np.inf)


def _moon_up(moon: MoonTrack, time_s: np.ndarray) -> list[Interval]:
    """Return the spans in which the Moon is above the level horizon."""
    edges = sorted([*moon.rises_s, *moon.sets_s])
    sets_first = edges[0] in moon.sets_s if edges else moon.altitude_deg[0] > 0
    if sets_first:
        edges.insert(0, float(time_s[0]))
    if len(edges) % 2:
        edges.append(float(time_s[-1]))
    return list(zip(edges[::2], edges[1::2], strict=True))


def _first_within(instants: Sequence[float], window: Interval) -> float | None:
    return next((instant for instant in instants if window[0] <= instant < window[1]), None)
