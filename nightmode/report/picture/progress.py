"""A whole list as a picture: a mark for each item, and how the number seen grew."""

import datetime as dt
from collections.abc import Iterator, Sequence

from nightmode.history.tally import Item, Tally
from nightmode.model.session import Outcome
from nightmode.report.picture.marks import mark, rule, spot, svg, text
from nightmode.wording.figures import cut

_WIDTH, _CELL, _ROW = 660.0, 44.0, 34.0
_LONG_CELL, _LONGEST = 66.0, 8


def progress_picture(tally: Tally) -> str:
    """Return a place for each item of the list, in its order, with the mark of its outcome."""
    is_long = any(len(item.name) > _LONGEST for item in tally.items)
    cell = _LONG_CELL if is_long else _CELL
    columns = int(_WIDTH // cell)
    rows = -(-len(tally.items) // columns)
    longest = 12 if is_long else _LONGEST
    parts = [
        _place(item, (place % columns + 0.5) * cell, (place // columns) * _ROW + 11, longest)
        for place, item in enumerate(tally.items)
    ]
    return svg(_WIDTH, rows * _ROW + 4, parts, f"{tally.title}: what became of each")


def _place(item: Item, x: float, y: float, longest: int) -> str:
    name = text(cut(item.name, longest), x, y + 17, "middle")
    if item.outcome is None:
        return spot("rest", x, y, 7.0, f"{item.name}: left") + name
    return mark(item.outcome, x, y, 7.0, f"{item.name}: {item.outcome.value}, {item.first}") + name


_LEFT, _RIGHT, _TOP, _HEIGHT = 30.0, 56.0, 8.0, 130.0


def growth_picture(tally: Tally) -> str:
    """Return the number seen over the nights, as steps; "" if none was seen."""
    firsts = sorted(item.first for item in tally.items if item.outcome is Outcome.SEEN and item.first)
    if not firsts:
        return ""
    first, last = firsts[0].replace(day=1), firsts[-1]
    days, total = max(30, (last - first).days), len(tally.items)

    def x(date: dt.date) -> float:
        return _LEFT + (date - first).days / days * (_WIDTH - _LEFT - _RIGHT)

    def y(count: int) -> float:
        return _HEIGHT - 16 - count / total * (_HEIGHT - 16 - _TOP)

    parts = [rule(_LEFT, y(count), _WIDTH - _RIGHT, y(count)) for count in (0, total)]
    parts += [text(str(count), _LEFT - 4, y(count) + 3, "end") for count in (0, total)]
    parts += [text(f"{date:%b %Y}", x(date), _HEIGHT - 3, "middle") for date in _months(first, last)]
    steps = f"M{x(firsts[0]):.1f} {y(0):.1f}" + "".join(
        f"H{x(date):.1f}V{y(count):.1f}" for count, date in enumerate(firsts, start=1)
    )
    parts.append(f'<path class="cross" d="{steps}"/>')
    parts.append(text(f"{len(firsts)} seen", x(last) + 5, y(len(firsts)) + 3))
    return svg(_WIDTH, _HEIGHT, parts, f"{tally.title}: seen by which night")


def _months(first: dt.date, last: dt.date) -> Iterator[dt.date]:
    """Yield about six first days of months for the axis."""
    count = (last.year - first.year) * 12 + last.month - first.month
    step = max(1, -(-count // 6))
    for number in range(0, count + 1, step):
        month = first.month - 1 + number
        yield dt.date(first.year + month // 12, month % 12 + 1, 1)


def months_strip(months: Sequence[int], first: int) -> str:
    """Return the initials of twelve months from `first` on, strong where something can be seen."""
    order = [(first - 1 + step) % 12 + 1 for step in range(12)]
    letters = (
        f'<span class="{"on" if month in months else "off"}">{"JFMAMJJASOND"[month - 1]}</span>'
        for month in order
    )
    return f'<span class="months">{"".join(letters)}</span>'
