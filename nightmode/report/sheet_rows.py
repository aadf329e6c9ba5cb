"""What the printed sheet says of a night and of each target; shared by page and text."""

import datetime as dt

import numpy as np

from nightmode.kinds import Kind
from nightmode.night.aiming import pointing_at, zenith_then
from nightmode.night.checklists import before_dark, packing_up
from nightmode.night.hours import spans_to_look
from nightmode.night.table import Night, NightTarget
from nightmode.night.verdict import verdicts
from nightmode.records import Record, replace
from nightmode.report.aim_svg import aim_svg
from nightmode.report.shown_tonight import shown_tonight
from nightmode.sky.dark import SUNSET_DEG
from nightmode.visibility.reasons import Verdict
from nightmode.wording.aim import Words, sky_words
from nightmode.wording.eclipse import eclipse_text
from nightmode.wording.figures import (
    ENDS,
    clock_time,
    compass_point,
    field,
    kind_and_place,
    power,
    span_text,
    time_of_day,
)
from nightmode.wording.going_on import clock_change_text
from nightmode.wording.kit import instrument_and, names_text
from nightmode.wording.problems import problem_text
from nightmode.wording.reasons import reason_text
from nightmode.wording.suggestion import look_text
from nightmode.words import Word

#: A chart has ticks for the zenith so many hours before and after its own time.
_TICKS = (("-1 h", -1.0), ("+1 h", 1.0))
#: More hour columns than these do not fit a page: then every second hour is shown.
MOST_HOURS = 15


CAUTIONS = (
    "Never point telescope, finder or eye at the Sun; put the caps on when it is up.",
    "Know the ground by daylight; tell someone where you are and when you come back.",
    "Cold, tired or fogged in: stop. The sky is there tomorrow.",
)


class HourlyAltitude(Record):
    """The altitude of a target at a full hour, in whole degrees, and whether it can be observed then."""

    altitude_deg: int
    usable: bool


class SheetChart(Record):
    """The chart of a target: the picture (SVG), the time of day it is for, and the words beside it."""

    svg: str
    at: str
    words: tuple[Words, ...]


class SheetRow(Record):
    """One target on the sheet, in walk order. heights run beside the sheet's hours."""

    name: str
    what: str
    when: str
    heights: tuple[HourlyAltitude, ...]
    highest: str
    look: str
    verdict: str
    reason: str
    look_for: str
    note: str
    chart: SheetChart | None = None


class Sheet(Record):
    """The whole sheet. hours are labels of the clock; twilight and moon are lines about the night."""

    title: str
    date: str
    site: str
    telescope: str
    twilight: str
    moon: str
    find: str
    note: str
    hours: tuple[str, ...]
    rows: tuple[SheetRow, ...]
    before_dark: tuple[str, ...]
    packing_up: tuple[str, ...]
    problems: tuple[str, ...]


def sheet_of(night: Night, title: str, note: str = "", with_charts: bool = False) -> Sheet:
    """Return what the sheet of a night says; with_charts adds a chart for each target."""
    instants, judged = full_hours(night), verdicts(night)
    return Sheet(
        title=title,
        date=f"{night.date:%A} {night.date.day} {night.date:%B %Y}",
        site=f"{night.site.name}, times {night.site.timezone}",
        telescope=names_text(night.instruments.names),
        twilight=_twilight(night),
        moon=_moon(night),
        find=_find(night),
        note=note,
        hours=tuple(time_of_day(instant, night.site.zone)[:2] for instant in instants),
        rows=tuple(
            replace(_row(night, row, instants, judged[row]), chart=_chart(night, row, with_charts))
            for row in night.in_walk_order()
        ),
        before_dark=before_dark(night),
        packing_up=packing_up(night),
        problems=tuple(problem_text(problem) for problem in night.problems),
    )


def _chart(night: Night, row: int, is_wanted: bool) -> SheetChart | None:
    """Return the chart of a target for the middle of its first usable stretch, or None."""
    usable = night.targets[row].usable
    if not usable or not is_wanted:
        return None
    at_s = round((usable[0].start_s + usable[0].end_s) / 120.0) * 60.0
    pointing = pointing_at(night, row, at_s)
    if pointing is None:
        return None
    zenith = [(label, zenith_then(night, at_s, at_s + hours * 3600.0)) for label, hours in _TICKS]
    return SheetChart(
        aim_svg(pointing, zenith), clock_time(at_s, night.site.zone), tuple(sky_words(pointing))
    )


def full_hours(night: Night) -> list[float]:
    """Return the full hours by the site's clock while the Sun is down, at most MOST_HOURS of them.

    Of a night with an observer's hours, those within them.
    """
    down = night.time_s[night.sun_altitude_deg < SUNSET_DEG]
    first_s, last_s = night.hours_s or (-np.inf, np.inf)
    within = down[(first_s <= down) & (down <= last_s)]
    down = within if within.size else down
    local = [dt.datetime.fromtimestamp(instant, night.site.zone) for instant in down.tolist()]
    hours = [moment.timestamp() for moment in local if moment.minute == 0]
    return hours[:: 1 if len(hours) <= MOST_HOURS else 2]


def _row(night: Night, row: int, instants: list[float], verdict: Verdict) -> SheetRow:
    target = night.targets[row]
    subject, zone = target.subject, night.site.zone
    spans = [
        f"{span_text(stretch.start_s, stretch.end_s, zone)} {ENDS[stretch.ends_by]}"
        for stretch in target.usable
    ]
    return SheetRow(
        name=subject.name,
        what="" if subject.kind is Kind.MOON else kind_and_place(subject.kind, subject.constellation),
        when=", ".join(spans) or "not tonight",
        heights=tuple(_height(night, row, target, instant) for instant in instants),
        highest=_highest(night, row, target),
        look=_look(night, target),
        verdict="" if verdict.word is Word.UNKNOWN else verdict.word,
        reason=reason_text(verdict, zone) if verdict.word not in (Word.EASY, Word.UNKNOWN) else "",
        look_for=". ".join(_begun(words) for words in (shown_tonight(night, row), subject.look_for) if words),
        note=subject.note,
    )


def _begun(words: str) -> str:
    """Return words with a capital at their beginning."""
    return words[0].upper() + words[1:]


def _height(night: Night, row: int, target: NightTarget, instant: float) -> HourlyAltitude:
    usable = any(stretch.start_s <= instant <= stretch.end_s for stretch in target.usable)
    return HourlyAltitude(round(night.altitude_at(row, instant)), usable)


def _highest(night: Night, row: int, target: NightTarget) -> str:
    """Return where and when a target is highest while usable, in the observer's hours if it is then."""
    if not target.usable:
        return ""
    spans = spans_to_look(night, target.chance)
    instants = np.concatenate(
        [*(np.arange(start, end, 60.0) for start, end in spans), [end for _, end in spans]]
    )
    heights = np.interp(instants, night.time_s, night.altitude_deg[row])
    best = float(instants[int(np.argmax(heights))])
    point = compass_point(night.azimuth_at(row, best))
    return f"{heights.max():.0f}° {point} at {time_of_day(best, night.site.zone)}"


def _find(night: Night) -> str:
    """Return what to find with, for each telescope: it is the same for all targets."""
    found = {target.kit.telescope.name: target.find for target in night.targets if target.find}
    told = [
        f"{combination.eyepiece}, {power(combination.power)}, {field(combination.true_field_deg)}"
        + (f" in {name}" if night.has_several else "")
        for name, combination in found.items()
        if not (night.has_several and combination.eyepiece == name)  # binoculars are found with themselves
    ]
    return "; ".join(told)


def _look(night: Night, target: NightTarget) -> str:
    if target.look is None:
        return ""
    combination = target.look.combination
    instrument = target.kit.telescope.name if night.has_several else ""
    words = instrument_and(instrument, look_text(target.look), 200)
    return f"{words} {power(combination.power)}, {field(combination.true_field_deg)}"


def _twilight(night: Night) -> str:
    twilight, zone = night.twilights, night.site.zone
    pairs = (
        ("Sun", twilight.sunset_s, twilight.sunrise_s),
        ("civil", twilight.civil_dusk_s, twilight.civil_dawn_s),
        ("nautical", twilight.nautical_dusk_s, twilight.nautical_dawn_s),
        ("dark", twilight.astronomical_dusk_s, twilight.astronomical_dawn_s),
    )
    told = [
        f"{word} {time_of_day(dusk, zone)}-{time_of_day(dawn, zone)}"
        for word, dusk, dawn in pairs
        if dusk or dawn
    ]
    times = ", ".join(told) or f"Sun no lower than {twilight.sun_lowest_deg:.0f}°"
    changed = clock_change_text(zone, night.begins_s, float(night.time_s[-1]))
    return f"{times}; {changed}" if changed else times


def _moon(night: Night) -> str:
    moon, zone = night.moon, night.site.zone
    words = [f"{moon.illuminated:.0%} lit, {'waxing' if moon.waxing else 'waning'}"]
    words += [f"rises {time_of_day(instant, zone)}" for instant in moon.rises_s]
    words += [f"sets {time_of_day(instant, zone)}" for instant in moon.sets_s]
    words += [eclipse_text(night.eclipse, zone)] if night.eclipse else []
    return ", ".join(words)
