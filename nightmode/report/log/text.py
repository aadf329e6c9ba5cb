"""The log for a terminal: at most 80 columns."""

import textwrap
from collections.abc import Iterator

from nightmode.history.objects import identify
from nightmode.history.sitting import Look, Sitting
from nightmode.model.session import LOOKED
from nightmode.report.log import words
from nightmode.report.log.story import Section, Story
from nightmode.report.objects import kind_text
from nightmode.wording.figures import cut, date_text

_WIDTH = 79
_PAGE_HEAD = f"{'time':<5} {'target':<17} {'what':<23} {'height':>6} {'look with':<14} outcome"


def log_text(story: Story) -> str:
    """Return the pages of nights, one line a night, or all that was noted on objects."""
    if story.sections:
        blocks = [list(_section(section)) for section in story.sections]
    elif story.has_pages:
        blocks = [list(_page(sitting)) for sitting in story.sittings]
    else:
        blocks = [list(_season(story))]
    return "\n\n".join("\n".join(line.rstrip() for line in block) for block in blocks)


def _page(sitting: Sitting) -> Iterator[str]:
    yield from _wrapped(f"{words.long_date(sitting.night)}, {sitting.site}, {words.instruments(sitting)}")
    yield from _wrapped(words.conditions_line(sitting))
    yield f"{words.counts_text(sitting.last_looks)}"
    if sitting.looks:
        yield from ("", _PAGE_HEAD)
    for look in sitting.by_time:
        kind = cut(kind_text(identify(look.name)), 23)
        yield (
            f"{words.time_of(look.at, sitting.zone)} {cut(look.name, 17):<17} {kind:<23} "
            f"{words.height(look):>6} {words.looked_with(look, 14):<14} {words.outcome(look)}"
        )
        yield from _notes(look)
    if sitting.happenings:
        yield ""
    for event in sitting.happenings:
        yield from _wrapped(f"{words.time_of(event.at, sitting.zone)} {words.happened(event)}", "      ")


def _section(section: Section) -> Iterator[str]:
    identity, looks = section.object, section.looks
    others = ", ".join(identity.other_names)
    yield from _wrapped(
        f"{identity.name}{f' ({others})' if others else ''}{': ' * bool(identity.kind)}{kind_text(identity)}"
    )
    if not looks:
        yield "nothing noted yet"
        return
    nights = len({sitting.night for sitting, _ in looks})
    yield f"{nights} night{'s' * (nights != 1)}; {words.counts_text(look for _, look in looks)}"
    yield ""
    for sitting, look in looks:
        place = f"{sitting.site}, {look.telescope or sitting.telescope}"
        yield (
            f"{date_text(sitting.night):>11} {words.time_of(look.at, sitting.zone)} {words.height(look):>6} "
            f"{words.looked_with(look, 14):<14} {words.outcome(look):<9} {cut(place, 28)}"
        )
        named = "" if look.name == identity.name else f"as {look.name}"
        yield from _notes(look, named)


def _season(story: Story) -> Iterator[str]:
    if not story.sittings:
        return
    looks = (look for sitting in story.sittings for look in sitting.last_looks)
    yield from _wrapped(f"{story.title}; {words.counts_text(looks)}")
    yield ""
    yield f"{'night':<15} {'from to':<14} {'site':<17} {'sky':>5} {'seeing':<9} seen susp.  not"
    for sitting in story.sittings:
        counted = [look.outcome for look in sitting.last_looks]
        seen, suspected, missed = (counted.count(outcome) for outcome in LOOKED)
        yield (
            f"{sitting.night:%a} {date_text(sitting.night):>11} {words.span_words(sitting):<14} "
            f"{cut(sitting.site, 17):<17} {words.sky_reading(sitting):>5} "
            f"{cut(words.seeing_words(sitting), 9):<9} {seen:>4} {suspected:>5} {missed:>4}"
        )


def _notes(look: Look, first: str = "") -> Iterator[str]:
    for note in (first, *look.notes):
        yield from _wrapped(note, "      ", "      ")


def _wrapped(text: str, indent: str = "", first: str = "") -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent=first, subsequent_indent=indent)
