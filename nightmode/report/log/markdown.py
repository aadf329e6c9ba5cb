"""The log as Markdown (CommonMark with tables): for a diary of one's own."""

import re
from collections.abc import Iterator, Sequence

from nightmode.history.objects import identify
from nightmode.history.sitting import Look, Sitting
from nightmode.report.log import words
from nightmode.report.log.story import Section, Story
from nightmode.report.objects import kind_text

#: Characters that Markdown may take for markup.
_MARKS = re.compile(r"([\\`*_{}\[\]<>#|~!])")


def log_markdown(story: Story) -> str:
    """Return the nights, or the objects asked for, each under a heading of its own."""
    lines = [f"# {escaped(story.title)}", ""]
    for section in story.sections:
        lines += [*_section(section), ""]
    if not story.sections:
        for sitting in story.sittings:
            lines += [*_page(sitting), ""]
    return "\n".join(lines).rstrip()


def escaped(text: str) -> str:
    """Return text with escapes, so that Markdown shows it unchanged."""
    return _MARKS.sub(r"\\\1", text)


def _page(sitting: Sitting) -> Iterator[str]:
    yield f"## {escaped(f'{words.long_date(sitting.night)}, {sitting.site}')}"
    yield ""
    yield escaped(
        f"{words.instruments(sitting)}. {words.conditions_line(sitting)}. "
        f"{words.counts_text(sitting.last_looks)}."
    )
    if sitting.looks:
        yield ""
        yield from _table(("time", "target", "what", "height", "with", "outcome", "words"))
    for look in sitting.by_time:
        at, kind = words.time_of(look.at, sitting.zone), kind_text(identify(look.name))
        yield _row((at, look.name, kind, *_told(look)))
    if sitting.happenings:
        yield ""
    for happening in sitting.happenings:
        yield f"- {words.time_of(happening.at, sitting.zone)} {escaped(words.happened(happening))}"


def _section(section: Section) -> Iterator[str]:
    identity = section.object
    yield f"## {escaped(identity.name)}"
    yield ""
    yield escaped("; ".join(part for part in (kind_text(identity), ", ".join(identity.other_names)) if part))
    if not section.looks:
        yield "nothing noted yet"
        return
    yield ""
    yield from _table(("night", "time", "site", "height", "with", "outcome", "words"))
    for sitting, look in section.looks:
        when = sitting.night.isoformat(), words.time_of(look.at, sitting.zone), sitting.site
        yield _row((*when, *_told(look)))


def _told(look: Look) -> tuple[str, str, str, str]:
    return words.height(look), words.looked_with(look), words.outcome(look), "; ".join(look.notes)


def _table(heads: Sequence[str]) -> tuple[str, str]:
    return _row(heads), "|" + " --- |" * len(heads)


def _row(cells: Sequence[str]) -> str:
    return "| " + " | ".join(escaped(cell) for cell in cells) + " |"
