"""The observer's checklists: setting up before dark and early in the night, packing up at its end."""

from nightmode.app.hours import sun_words
from nightmode.app.pages.budget import UNBOUNDED, Budget, nearest
from nightmode.app.pages.line import BLANK, Line, Piece, Role, line, width, wrap
from nightmode.app.pages.lists import scrolled
from nightmode.night.checklists import before_dark, packing_up
from nightmode.night.table import Night
from nightmode.records import Record

CAUTION = (
    "Never point telescope, finder or eye at the Sun, or sweep near it. Mind your feet on dark ground, keep "
    "warm and dry. No laser near aircraft; local rules come first. Tired? Rest before you drive."
)


class Checklist(Record):
    """A checklist with its title and items, the places of the items ticked, and that of the cursor."""

    title: str
    items: tuple[str, ...]
    done: frozenset[int] = frozenset()
    cursor: int = 0

    @property
    def is_cursor_done(self) -> bool:
        """Whether the item at the cursor is ticked."""
        return self.cursor in self.done


def checklist_of(night: Night, is_evening: bool) -> Checklist:
    """Return the list for the evening, to set up with a star to align on, or for later, to pack up."""
    if is_evening:
        return Checklist("before dark", before_dark(night))
    return Checklist("packing up", packing_up(night))


def checklist_page(
    night: Night, now_s: float, listed: Checklist, size: tuple[int, int], budget: Budget = UNBOUNDED
) -> list[Line]:
    """Return the page of a checklist for a size (columns, rows), under its title and the times of dusk."""
    return checklist_lines(((listed.title, "strong"), *sun_words(night, now_s)), listed, size, budget)


def checklist_lines(
    heads: tuple[Piece, ...], listed: Checklist, size: tuple[int, int], budget: Budget = UNBOUNDED
) -> list[Line]:
    """Return the rows of a checklist: heads, items, cautions.

    Where all items would light too much, only those around the cursor are shown.
    """
    columns, rows = size
    above = [
        line((f" {row}", role))
        for head, role in heads
        for row in ([head] if width(head) <= columns - 2 else wrap(head, columns - 2, most=3))
    ]
    shown = [_item_row(listed, place) for place in range(len(listed.items))]
    below = [line((f" {row}", "faint")) for row in wrap(CAUTION, columns - 2, most=4)]
    foot = "space: tick   j k: move   esc: on to the walk"
    around = [*above, *below, line((foot, "faint"))]
    if shown:
        shown = nearest(shown, listed.cursor, lambda some: budget.allows([*around, *some]))
    lines = [*above, BLANK, *shown, BLANK, *below]
    return scrolled(lines, rows, max(0, listed.cursor + 8 - rows), foot)


def _item_row(listed: Checklist, place: int) -> Line:
    is_marked = place == listed.cursor
    role: Role = "said" if is_marked else "faint"
    mark = "·" if place in listed.done else " "
    return line((" > " if is_marked else "   ", "strong"), (f"{mark} {listed.items[place]}", role))
