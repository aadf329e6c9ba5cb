"""All that is written about a target: the plan's remarks, the notes of this night, an earlier night."""

from collections.abc import Iterator

from nightmode.app.pages.budget import UNBOUNDED, Budget
from nightmode.app.pages.line import BLANK, Line, Role, fit, in_the_middle, line, wrap
from nightmode.app.walker import Walker
from nightmode.model.session import Event
from nightmode.wording.earlier import earlier_text
from nightmode.wording.figures import clock_time

NOTHING = "nothing is written about it"
LABEL, BLOCK = 10, 64
#: Cells of the name above: what is read takes the light.
HEAD = 32
#: A text longer than this is not told to its end; the longest note takes fewer rows.
MOST_ROWS = 60


def remarks(walker: Walker, row: int | None) -> list[tuple[str, str]]:
    """Return (label, text) of all that is written about a target, or with None about the night."""
    return list(_remarks(walker, row))


def _remarks(walker: Walker, row: int | None) -> Iterator[tuple[str, str]]:
    zone, state = walker.night.site.zone, walker.state
    if row is None:
        noted = [entry for entry in state.live if entry.event is Event.NOTE and not entry.target]
    else:
        target = walker.night.targets[row]
        noted = state.noted(target.chance.key)
        if target.subject.look_for:
            yield "look for", target.subject.look_for
        if target.subject.note:
            yield "plan", target.subject.note
    yield from ((clock_time(entry.at.timestamp(), zone), entry.note) for entry in noted)
    if row is not None and (before := walker.earlier.get(walker.night.targets[row].chance.key)):
        yield "earlier", earlier_text(before.outcome, before.night, walker.night.date, before.note)


def remark_pages(
    walker: Walker, now_s: float, size: tuple[int, int], budget: Budget = UNBOUNDED
) -> list[list[Line]]:
    """Return the pages of remarks on the target shown, each as many rows as size (columns, rows) has.

    As bright as the facts where all of it then fits on one page, else faint, on as many pages as it takes.
    """
    columns, rows = size
    row = walker.shown(now_s)
    block = min(BLOCK, columns - 2)
    head = [line((fit(walker.name(row), HEAD), "strong")), BLANK]
    found: list[list[Line]] = []
    roles: tuple[Role, ...] = ("text", "kept")
    for role in roles:
        told = [one for label, text in remarks(walker, row) for one in _rows(label, text, block, role)]
        found = _pages(told or [line((NOTHING, role))], max(1, rows - len(head)), budget.inside(), head)
        if len(found) == 1:
            break
    return [in_the_middle([*head, *page], size, block) for page in found]


def _rows(label: str, text: str, block: int, role: Role) -> Iterator[Line]:
    for number, row in enumerate(wrap(text, block - LABEL, MOST_ROWS)):
        yield line((("" if number else label).ljust(LABEL), "kept"), (row, role))


def _pages(told: list[Line], rows: int, allowed: Budget, head: list[Line]) -> list[list[Line]]:
    """Return the rows in pages of up to `rows`, each within what is allowed; at least one row a page."""
    pages: list[list[Line]] = [[]]
    for one in told:
        longer = [*pages[-1], one]
        if pages[-1] and (len(longer) > rows or not allowed.allows([*head, *longer])):
            pages.append([one])
        else:
            pages[-1] = longer
    return pages
