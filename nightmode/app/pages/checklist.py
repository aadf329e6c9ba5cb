"""The observer's checklists: setting up before dark and early in the night, packing up at its end."""

from collections.abc import Sequence

from nightmode.app.hours import sun_words
from nightmode.app.pages.budget import UNBOUNDED, Budget
from nightmode.app.pages.line import Line
from nightmode.app.pages.lists import checklist_page
from nightmode.night.checklists import before_dark, packing_up
from nightmode.night.table import Night

CAUTION = (
    "Never point telescope, finder or eye at the Sun, or sweep near it. Mind your feet on dark ground, keep "
    "warm and dry. No laser near aircraft; local rules come first. Tired? Rest before you drive."
)


def checklist_title(evening: bool) -> str:
    """Return the title of the list: for the evening, or for packing up."""
    return "before dark" if evening else "packing up"


def checklist_items(night: Night, evening: bool) -> tuple[str, ...]:
    """Return the items to tick off: in the evening to set up, with a star to align on; later to pack up."""
    return before_dark(night) if evening else packing_up(night)


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
    """Return the page of the list for a size (columns, rows).

    done holds the places of the ticked items, cursor the place of the cursor; the page keeps within budget.
    """
    heads = ((checklist_title(evening), "strong"), *sun_words(night, now_s))
    return checklist_page(heads, items, CAUTION, size, done, cursor, budget)
