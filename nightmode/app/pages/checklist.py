"""The observer's list before dark and early in the night, and at its end."""

from collections.abc import Sequence

from nightmode.app.hours import sun_words
from nightmode.app.pages.budget import UNBOUNDED, Budget
from nightmode.app.pages.line import Line
from nightmode.app.pages.lists import checklist_page
from nightmode.night.aligning import align_at_dusk
from nightmode.night.table import Night
from nightmode.wording.kit import carried
from nightmode.wording.place import align_words

CAUTION = (
    "Never point telescope, finder or eye at the Sun, or sweep near it. Mind your feet on dark ground, keep "
    "warm and dry. No laser near aircraft; local rules come first. Tired? Rest before you drive."
)


def checklist_title(evening: bool) -> str:
    """Return what the list of the hour is called."""
    return "before dark" if evening else "packing up"


def checklist_items(night: Night, evening: bool) -> tuple[str, ...]:
    """Return what there is to tick off: to set up with in the evening, and a star to align on; to pack up."""
    person = night.person
    instruments = carried(night.instruments.names)
    if not evening:
        return (*person.packing_up, *instruments)
    return (*person.before_dark, *instruments, *_on_what_to_align(night))


def hour_page(
    night: Night,
    now_s: float,
    evening: bool,
    items: Sequence[str],
    size: tuple[int, int],
    done: frozenset[int] = frozenset(),
    cursor: int = 0,
    budget: Budget = UNBOUNDED,
) -> list[Line]:
    """Return the list that fits the hour for a size (columns, rows).

    done holds the places ticked, budget is what the page may light.
    """
    heads = ((checklist_title(evening), "strong"), *sun_words(night, now_s))
    return checklist_page(heads, items, CAUTION, size, done, cursor, budget)


def _on_what_to_align(night: Night) -> tuple[str, ...]:
    if not night.has_finder:
        return ()
    star = align_at_dusk(night)
    return (f"finder: {align_words(star, night.person.fist_deg)}",) if star else ()
