"""The coming nights as a table for people and as data."""

import datetime as dt
import textwrap
from collections.abc import Sequence
from typing import Any
from zoneinfo import ZoneInfo

from nightmode.arrays import Interval
from nightmode.model.site import Site
from nightmode.planning.ahead import NightAhead, best_run, total_hours
from nightmode.report.eclipse import eclipse_json
from nightmode.sky.dark import ASTRONOMICAL_DEG, CIVIL_DEG, NAUTICAL_DEG, SUNSET_DEG
from nightmode.wording.eclipse import eclipse_text
from nightmode.wording.figures import hours_text, local, span_text, time_of_day, utc_iso
from nightmode.wording.zones import odd_zone

_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def nights_json(nights: Sequence[NightAhead]) -> dict[str, Any]:
    """Return the nights as plain data: dates of their evenings, hours of darkness, times in UTC."""
    return {
        "nights": [
            {
                "night": night.date.isoformat(),
                "dark_hours": round(night.dark_hours, 3),
                "moonless_dark_hours": round(night.moonless_dark_hours, 3),
                "moon_illuminated": round(night.illuminated, 3),
                "moon_rises": utc_iso(night.moon_rises_s),
                "moon_sets": utc_iso(night.moon_sets_s),
                "good_for": night.good_for,
                **eclipse_json(night.eclipse),
            }
            for night in nights
        ]
    }


def nights_text(nights: Sequence[NightAhead], site: Site, hours: str | None = None) -> str:
    """Return the nights as a table of 80 columns, times by the site's clock, the best run marked.

    hours are the observer's hours, outside which nothing was counted.
    """
    best = best_run(nights)
    first, last = nights[0].date, nights[-1].date
    lines = [
        f"{site.name}, {first:%d %b %Y} to {last:%d %b %Y}, times {site.timezone}",
        "",
        "  evening    dark from-to  hours no Moon  Moon  rises  sets   good for",
    ]
    lines += [
        _line(night, site.zone, best is not None and number in best) for number, night in enumerate(nights)
    ]
    remarks = [hours_text(hours)] if hours else []
    remarks += [*_remarks(nights, best, site), *odd_zone(site)]
    return "\n".join([*lines, "", *(textwrap.fill(remark, 79) for remark in remarks)])


def _line(night: NightAhead, zone: ZoneInfo, marked: bool) -> str:
    date = f"{_WEEKDAYS[night.date.weekday()]} {night.date.day:2d} {night.date:%b}"
    dark = span_text(night.dark[0][0], night.dark[-1][1], zone) if night.dark else "none"
    if night.moon_rises_s is None and night.moon_sets_s is None:
        moon = "up all night" if night.moon_up_when_darkest else "not up"
    else:
        moon = f"{time_of_day(night.moon_rises_s, zone):<5}  {time_of_day(night.moon_sets_s, zone)}"
    return (
        f"{'*' if marked else ' '} {date:<10} {dark:<12} {night.dark_hours:6.1f} "
        f"{night.moonless_dark_hours:7.1f}  {night.illuminated:4.0%}  {moon:<12}  {night.good_for}"
    )


def _remarks(nights: Sequence[NightAhead], best: range | None, site: Site) -> list[str]:
    remarks = []
    if best is not None:
        run = [nights[number] for number in best]
        total = sum(night.moonless_dark_hours for night in run)
        span = f"{run[0].date:%d %b} to {run[-1].date:%d %b}" if len(run) > 1 else f"{run[0].date:%d %b}"
        remarks.append(
            f"* the best run: {span}, {total:.0f} hours of dark without Moon in {_nights(len(run))}."
        )
    else:
        remarks.append("No night here is dark without Moon for long enough for the deep sky.")
    pale = [night for night in nights if night.sun_lowest_deg >= ASTRONOMICAL_DEG]
    if pale:
        lowest = min(night.sun_lowest_deg for night in pale)
        highest = max(night.sun_lowest_deg for night in pale)
        remarks.append(_no_darkness(len(pale), lowest, highest))
    for night in nights:
        if night.eclipse:
            remarks.append(f"{night.date.day} {night.date:%b}: {eclipse_text(night.eclipse, site.zone)}.")
    if changed := _clock_change(nights, site.zone):
        remarks.append(f"The clocks change in the night of {changed:%d %b}.")
    return remarks


def _nights(number: int) -> str:
    return "one night" if number == 1 else f"{number} nights"


def _no_darkness(number: int, lowest_deg: float, highest_deg: float) -> str:
    """Return how bright the nights without astronomical darkness stay, and what they are still good for."""
    sun_lowest = (
        f"{lowest_deg:.0f}°" if highest_deg - lowest_deg < 1 else f"{lowest_deg:.0f}° to {highest_deg:.0f}°"
    )
    if highest_deg > SUNSET_DEG:
        shows = "in the palest the Sun does not set"
    elif highest_deg > CIVIL_DEG:
        shows = "in the palest the Moon and bright planets at most"
    elif highest_deg > NAUTICAL_DEG:
        shows = "in the palest Moon, planets and bright doubles only"
    else:
        shows = "clusters and bright objects still show"
    return (
        f"{_nights(number).capitalize()} without astronomical darkness (Sun's lowest {sun_lowest}): {shows}."
    )


def _clock_change(nights: Sequence[NightAhead], zone: ZoneInfo) -> dt.date | None:
    """Return the first evening after which the clocks change before the next noon, or None."""
    for night in nights:
        noon = dt.datetime.combine(night.date, dt.time(12), tzinfo=zone)
        next_noon = dt.datetime.combine(night.date + dt.timedelta(days=1), dt.time(12), tzinfo=zone)
        if noon.utcoffset() != next_noon.utcoffset():
            return night.date
    return None


def night_words(night: NightAhead, zone: ZoneInfo) -> str:
    """Return one night in a few sentences, for a calendar entry."""
    words = [f"Dark {time_of_day(start, zone)} to {time_of_day(end, zone)}." for start, end in night.dark]
    words += [
        f"Without Moon {time_of_day(start, zone)} to {time_of_day(end, zone)}."
        for start, end in night.moonless
    ]
    if not night.dark:
        words.append(f"No astronomical darkness: the Sun's lowest is {night.sun_lowest_deg:.0f}°.")
    moon = [f"Moon {night.illuminated:.0%} lit"]
    moon += [f"rises {_when(night.moon_rises_s, night.date, zone)}"] if night.moon_rises_s else []
    moon += [f"sets {_when(night.moon_sets_s, night.date, zone)}"] if night.moon_sets_s else []
    words.append(", ".join(moon) + ".")
    if night.eclipse:
        told = eclipse_text(night.eclipse, zone)
        words.append(f"{told[0].upper()}{told[1:]}.")
    return " ".join(words)


def _when(at_s: float, evening: dt.date, zone: ZoneInfo) -> str:
    day = "" if local(at_s, zone).date() == evening else " next day"
    return time_of_day(at_s, zone) + day


def longest(spans: Sequence[Interval]) -> Interval | None:
    """Return the longest of some spans, None if there are none."""
    return max(spans, key=lambda span: total_hours([span]), default=None)
