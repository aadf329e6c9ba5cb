"""What a log tells, free of format: nights, looks, and all looks at one object."""

from collections.abc import Sequence
from dataclasses import replace

from nightmode.history.asked import Asked, looks_at
from nightmode.history.objects import Identity, identify
from nightmode.history.sitting import Look, Sitting
from nightmode.records import Record
from nightmode.report.log.words import long_date
from nightmode.wording.figures import date_text

#: More nights than these are told in one line each.
MOST_PAGES = 3


class Section(Record):
    """All looks at one object, oldest first, each with the session it belongs to."""

    object: Identity
    looks: tuple[tuple[Sitting, Look], ...]


class Story(Record):
    """What was asked for: sittings with the looks that count, and sections on objects asked for by name.

    has_pages says whether each night is told in full, rather than in one line.
    """

    sittings: tuple[Sitting, ...]
    sections: tuple[Section, ...] = ()
    has_pages: bool = True

    @property
    def title(self) -> str:
        """A few words for the head of a page."""
        if self.sections:
            return ", ".join(section.object.name for section in self.sections)
        nights = sorted({sitting.night for sitting in self.sittings})
        if not nights:
            return "No nights"
        if len(nights) == 1:
            return f"Night of {long_date(nights[0])}"
        return f"{len(nights)} nights, {date_text(nights[0])} to {date_text(nights[-1])}"


def story_of(sittings: Sequence[Sitting], asked: Asked) -> Story:
    """Return the story of the sessions chosen. NightmodeError for a name that nobody knows."""
    noted = tuple(sitting for sitting in sittings if sitting.span)
    if not asked.names:
        in_full = asked.files or (asked.spans and all(first == last for first, last in asked.spans))
        return Story(noted, has_pages=bool(in_full) or len(noted) <= MOST_PAGES)
    names = {identify(name).key: name for name in asked.names}
    sections = tuple(Section(identify(name), looks_at(noted, name)) for name in names.values())
    with_them = [
        replace(sitting, looks=tuple(look for look in sitting.looks if identify(look.name).key in names))
        for sitting in noted
    ]
    return Story(tuple(sitting for sitting in with_them if sitting.looks), sections)
