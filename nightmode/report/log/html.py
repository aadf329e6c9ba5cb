"""The log as an HTML page: a calendar of nights, curves of altitude, and the words."""

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from html import escape

from nightmode.history.heights import Heights
from nightmode.history.objects import identify
from nightmode.history.sitting import Look, Sitting
from nightmode.model.session import Outcome
from nightmode.report.log import words
from nightmode.report.log.story import Section, Story
from nightmode.report.objects import kind_text
from nightmode.report.picture.heights import heights_picture
from nightmode.report.picture.marks import LEGEND
from nightmode.report.picture.nights import nights_picture
from nightmode.report.picture.page import figure, html_table, page, paragraph
from nightmode.wording.figures import date_text

_TOLD_HEADS = (("height", "n"), ("with", ""), ("outcome", "t"), ("words", ""))
_NIGHT_HEADS = (
    ("", "n"), ("time", "t"), ("target", ""), ("what", ""), *_TOLD_HEADS,
)  # fmt: skip
_OBJECT_HEADS = (
    ("night", "t"), ("time", "t"), ("site and telescope", ""), *_TOLD_HEADS,
)  # fmt: skip


def log_html(story: Story, heights: Mapping[Sitting, Heights | None]) -> str:
    """Return a complete HTML page that loads nothing; heights holds curves by session where known."""
    parts, anchors = [*_calendar(story)], _Anchors()
    for section in story.sections:
        parts += _section(section, anchors)
    if not story.sections:
        for number, sitting in enumerate(story.sittings):
            parts += _night(sitting, heights.get(sitting), anchors, is_first=number == 0)
    return page(story.title, parts)


class _Anchors:
    """Where the calendar's links lead: the first mention of each night, as an id is used only once."""

    def __init__(self) -> None:
        self._named: set[dt.date] = set()

    def of(self, date: dt.date) -> str:
        """Return the id attribute for a night's mention, or "" if the night has one already."""
        if date in self._named:
            return ""
        self._named.add(date)
        return f' id="n-{date}"'


def _calendar(story: Story) -> Iterator[str]:
    seen: Counter[dt.date] = Counter()
    for sitting in story.sittings:
        seen[sitting.night] += sum(look.outcome is Outcome.SEEN for look in sitting.last_looks)
    if story.sittings:
        yield paragraph(
            words.counts_text(look for sitting in story.sittings for look in sitting.last_looks) + "."
        )
    if len(seen) > 1:
        yield figure(nights_picture(seen), "A dot for each night, the larger the more was seen.")


def _night(sitting: Sitting, heights: Heights | None, anchors: _Anchors, is_first: bool) -> Iterator[str]:
    yield f"<section{anchors.of(sitting.night)}>"
    yield '<div class="keep">'
    yield f"<h2>{escape(f'{words.long_date(sitting.night)}, {sitting.site}')}</h2>"
    yield paragraph(f"{words.instruments(sitting)}. {words.conditions_line(sitting)}.", "quiet")
    if picture := heights_picture(sitting, heights):
        more = f" {LEGEND} Grey: the Sun below -18°." if is_first else ""
        yield figure(picture, f"Heights over time; numbers as in the table.{more}")
    yield "</div>"
    if sitting.looks:
        yield html_table(_NIGHT_HEADS, _night_rows(sitting))
    told = [
        f"{words.time_of(happening.at, sitting.zone)} {words.happened(happening)}"
        for happening in sitting.happenings
    ]
    yield paragraph("; ".join(told), "quiet after")
    yield "</section>"


def _night_rows(sitting: Sitting) -> Iterator[Iterable[str]]:
    for number, look in enumerate(sitting.by_time, start=1):
        kind = kind_text(identify(look.name))
        yield str(number), words.time_of(look.at, sitting.zone), escape(look.name), escape(kind), *_told(look)


def _section(section: Section, anchors: _Anchors) -> Iterator[str]:
    identity = section.object
    yield f"<h2>{escape(identity.name)}</h2>"
    yield paragraph(
        "; ".join(part for part in (kind_text(identity), ", ".join(identity.other_names)) if part),
        "quiet",
    )
    if not section.looks:
        yield paragraph("Nothing noted yet.")
        return
    yield html_table(_OBJECT_HEADS, _object_rows(section, anchors))


def _object_rows(section: Section, anchors: _Anchors) -> Iterator[Iterable[str]]:
    for sitting, look in section.looks:
        place = escape(f"{sitting.site}, {look.telescope or sitting.telescope}")
        when = f"<span{anchors.of(sitting.night)}>{date_text(sitting.night)}</span>"
        yield when, words.time_of(look.at, sitting.zone), place, *_told(look)


def _told(look: Look) -> tuple[str, str, str, str]:
    noted = "<br>".join(f'<span class="words">{escape(note)}</span>' for note in look.notes)
    return words.height(look), escape(words.looked_with(look)), words.outcome(look), noted
