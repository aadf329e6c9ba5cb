"""The months in which a target, or the targets of a list, can be seen: as text and as data."""

import textwrap
from collections.abc import Sequence
from typing import Any

from nightmode.model.target import Body, Subject
from nightmode.night.circumstances import Circumstances
from nightmode.planning.season import JudgedMonth, Month, Season, best_weeks, expected_mag, month_name
from nightmode.records import Record
from nightmode.wording.figures import hours_text, time_of_day, wrapped_names
from nightmode.wording.kit import names_text
from nightmode.wording.reasons import reason_text
from nightmode.words import Word

_WIDTH = 79


class Year(Record, eq=False):
    """A year from a site: what was asked for, under which circumstances, and when each can be seen."""

    circumstances: Circumstances
    subjects: Sequence[Subject]
    season: Season


def when_json(subject: Subject, told: Sequence[JudgedMonth]) -> dict[str, Any]:
    """Return one target's months as data; highest_deg is null where it can't be observed.

    expected_mag is there only for long-period variables.
    """
    return {
        "name": subject.name,
        "months": [
            {
                "month": f"{month.year}-{month.month:02d}",
                "usable_hours": round(month.usable_h, 2),
                "moonless_hours": round(month.moonless_h, 2),
                "highest_deg": None if month.highest_deg is None else round(month.highest_deg, 1),
                "verdict": month.verdict.word.value,
                "night": month.night.isoformat(),
                **_expected(subject, month),
            }
            for month in told
        ],
    }


def _expected(subject: Subject, month: Month) -> dict[str, float]:
    mag = expected_mag(subject, month.night)
    return {} if mag is None else {"expected_mag": round(mag, 1)}


def list_json(
    title: str, subjects: Sequence[Subject], told: Sequence[Sequence[JudgedMonth]]
) -> dict[str, Any]:
    """Return the months of a list's targets as data."""
    both = zip(subjects, told, strict=True)
    return {"list": title, "targets": [when_json(subject, months) for subject, months in both]}


def when_text(year: Year, row: int, told: Sequence[JudgedMonth]) -> str:
    """Return one target's year as a table of 80 columns, times by the site's clock."""
    circumstances, subject = year.circumstances, year.subjects[row]
    lines = [
        textwrap.fill(heading(subject.name, year), _WIDTH),
        "",
        "month       highest        usable  no Moon  on its best night",
        *(_row(month, circumstances, expected_mag(subject, month.night)) for month in told),
        "",
        *_hours_lines(circumstances),
        *(textwrap.fill(words, _WIDTH) for words in summary(year, row, told)),
    ]
    return "\n".join(lines)


def summary(year: Year, row: int, told: Sequence[JudgedMonth]) -> list[str]:
    """Return a year in a sentence or two: what limits a target that is never easy, and its best weeks."""
    shown = [month for month in told if month.highest_deg is not None]
    best = min(shown, key=lambda month: (month.verdict.word.rank, -month.good_h), default=None)
    weeks = weeks_text(year.subjects[row], year.season, row)
    reason = reason_text(best.verdict, year.circumstances.site.zone) if best else ""
    if best is None or best.verdict.word is Word.EASY or not reason:
        return [weeks]
    why = f"{best.night.day} {best.night:%b}: {reason}."
    if best.verdict.word is Word.OUT:
        return [f"Out of reach, even on {why}"]
    return [f"At its best {best.verdict.word}, on {why}", weeks]


def _hours_lines(circumstances: Circumstances) -> list[str]:
    hours = circumstances.person.hours
    return [hours_text(hours)] if hours else []


def heading(name: str, year: Year) -> str:
    """Return the line with object, site, instrument and months."""
    circumstances, first, last = year.circumstances, year.season.dates[0], year.season.dates[-1]
    site, telescope = circumstances.site.name, names_text(circumstances.instruments.names)
    return f"{name} from {site}, {telescope}, {first:%b %Y} to {last:%b %Y}"


def weeks_text(subject: Subject, found: Season, row: int) -> str:
    """Return the best weeks in a line, or why there are none."""
    if not found.usable[row].any():
        return "It cannot be observed from here in these months."
    if isinstance(subject, Body) and subject.body == "moon":
        return "Its shadows are longest around the half Moon: nightmode nights tells how much of it is lit."
    weeks = best_weeks(found, row)
    if not weeks and (hours := found.good_h[row]).any():
        best = found.dates[int(hours.argmax())]
        return f"No run of nights stands out; the best night is {best.day} {best:%b}."
    if not weeks:
        return "No night of these months shows it without the Moon."
    moonless = "" if found.by_moonlight[row] else " and without the Moon"
    spans = "; ".join(f"{start.day} {start:%b} to {end.day} {end:%b}" for start, end in weeks)
    return f"Best weeks, high{moonless} for long: {spans}."


def not_up_text(month: Month, hours: str | None) -> str:
    """Return why a target cannot be observed in a month."""
    when = "in the dark of your hours" if hours else "in the dark"
    return f"behind the horizon line {when}" if month.is_hidden else f"not up {when}"


def list_text(title: str, year: Year, told: Sequence[Sequence[Month]], best: Sequence[int | None]) -> str:
    """Return for each month the targets of a list that are best in it (`best_months`), the best one first."""
    subjects = year.subjects
    lines = [textwrap.fill(heading(title, year), _WIDTH), *_hours_lines(year.circumstances), ""]
    for place, month in enumerate(told[0]):
        here = [row for row in range(len(subjects)) if best[row] == place]
        here.sort(key=lambda row: -told[row][place].good_h)
        names = ", ".join(subjects[row].name for row in here) or "–"
        name = f"{month_name(month.year, month.month):<10}"
        lines += wrapped_names(names, _WIDTH, name, " " * 10)
    hidden = [row for row, place in enumerate(best) if place is None]
    low = [row for row in hidden if not any(month.usable_h for month in told[row])]
    faint = [row for row in hidden if row not in low]
    for words, rows in (("Never high enough in the dark from here", low), ("Out of reach all year", faint)):
        if rows:
            names = ", ".join(subjects[row].name for row in rows)
            lines += ["", *wrapped_names(f"{words}: {names}.", _WIDTH)]
    return "\n".join(lines)


def _row(month: JudgedMonth, circumstances: Circumstances, mag: float | None) -> str:
    zone = circumstances.site.zone
    if month.highest_deg is None:
        return f"{month_name(month.year, month.month):<12}{not_up_text(month, circumstances.person.hours)}"
    highest = f"{month.highest_deg:2.0f}° at {time_of_day(month.highest_at_s, zone)}"
    hours = f"{month.usable_h:5.0f} h {month.moonless_h:6.0f} h"
    line = f"{month_name(month.year, month.month):<12}{highest:<14}{hours}   "
    return line + _told(month, circumstances, mag, _WIDTH - len(line))


def _told(month: JudgedMonth, circumstances: Circumstances, mag: float | None, width: int) -> str:
    word = month.verdict.word.value
    night = f"{month.night.day} {month.night:%b}"
    if mag is not None:  # which says why as well
        return f"{word}, {night}, about {mag:.1f} mag"
    reason = "" if month.verdict.word is Word.EASY else reason_text(month.verdict, circumstances.site.zone)
    short = f"{word}, {night}"
    return full if reason and len(full := f"{short}: {reason}") <= width else short
