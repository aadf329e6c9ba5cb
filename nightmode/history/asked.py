"""What the words after `log` ask for: nights, sessions by file, objects by name."""

import calendar
import datetime as dt
import re
from collections.abc import Sequence
from pathlib import Path

from nightmode.catalog.hints import near_matches
from nightmode.errors import NightmodeError
from nightmode.files.places import sessions_folder
from nightmode.history.objects import identify, names_in
from nightmode.history.reading import History, read_sitting
from nightmode.history.sitting import Look, Sitting
from nightmode.records import Record

_DAY = r"\d{4}(?:-\d{2}(?:-\d{2})?)?"
_SPAN = re.compile(rf"({_DAY})(?:\.\.({_DAY}))?")
A_DATE = "like 2026-12-06, 2026-12, 2026 or 2026-09..2027-03"
HOW_DATES = f"write it {A_DATE}"

Dates = tuple[dt.date, dt.date]


class Asked(Record):
    """Spans of nights (both ends included), sessions by file, objects by name; none of these asks for all."""

    spans: tuple[Dates, ...] = ()
    files: tuple[Path, ...] = ()
    names: tuple[str, ...] = ()


def read_words(words: Sequence[str]) -> Asked:
    """Return what the words ask for: a date or a span of dates, the file of a session, else a name.

    NightmodeError for a date that is none and for a file that is not there.
    """
    spans: list[Dates] = []
    files: list[Path] = []
    names: list[str] = []
    for word in words:
        if match := _SPAN.fullmatch(word):
            spans.append(_span(word, match[1], match[2] or match[1]))
        elif word.endswith(".toml") or "/" in word:
            files.append(_file(word))
        else:
            names.append(word)
    return Asked(tuple(spans), tuple(files), tuple(names_in(names)))


def _span(word: str, first: str, last: str) -> Dates:
    try:
        span = _ends(first)[0], _ends(last)[1]
    except ValueError:
        raise NightmodeError(word, "is no date", HOW_DATES) from None
    if span[1] < span[0]:
        raise NightmodeError(word, "ends before it begins", HOW_DATES)
    return span


def _ends(text: str) -> Dates:
    """Return the first and the last day of a day, a month or a year."""
    year, month, day = (*map(int, text.split("-")), 0, 0)[:3]
    if day or not month:
        return dt.date(year, month or 1, day or 1), dt.date(year, month or 12, day or 31)
    return dt.date(year, month, 1), dt.date(year, month, calendar.monthrange(year, month)[1])


def _file(word: str) -> Path:
    """Return the file that a word names, here or among the sessions."""
    here, kept = Path(word), sessions_folder() / word
    return kept if not here.exists() and "/" not in word and kept.exists() else here


def chosen(history: History, asked: Asked) -> tuple[Sitting, ...]:
    """Return the sessions that were asked for; one named by its file is read from there, a rehearsal too.

    NightmodeError for a file that is no session.
    """
    named = [read_sitting(path) for path in asked.files]
    if asked.files and not asked.spans:
        return tuple(named)
    within = [
        sitting
        for sitting in history.sittings
        if not asked.spans or any(first <= sitting.night <= last for first, last in asked.spans)
    ]
    return (*named, *(sitting for sitting in within if sitting not in named))


def looks_at(sittings: Sequence[Sitting], name: str) -> tuple[tuple[Sitting, Look], ...]:
    """Return every look at an object, under whichever name, oldest first.

    NightmodeError if neither the catalogue nor a session knows the name.
    """
    wanted = identify(name)
    found = [
        (sitting, look)
        for sitting in sittings
        for look in sitting.by_time
        if identify(look.name).key == wanted.key
    ]
    if not found and not wanted.kind:
        near = near_matches(name)
        otherwise = f"write a name as the session has it, a date {A_DATE}"
        instead = f"did you mean {', '.join(near)}? Else {otherwise}" if near else otherwise
        raise NightmodeError(name, "is neither in the catalogue nor in a session", instead)
    return tuple(sorted(found, key=lambda pair: pair[1].at))
