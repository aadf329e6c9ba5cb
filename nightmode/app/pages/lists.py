"""The pages that a key opens: the list of targets, and the keys."""

from enum import IntEnum

from nightmode.app.glance import Glance
from nightmode.app.keys import key_help
from nightmode.app.pages.budget import UNBOUNDED, Budget, nearest
from nightmode.app.pages.line import BLANK, Line, Role, line, pad, width, wrap
from nightmode.app.walker import Walker
from nightmode.walk.order import Standing
from nightmode.walk.usable import Ending
from nightmode.wording.figures import ENDS, time_of_day

_MARK = {Standing.TO_DO: " ", Standing.DONE: "·", Standing.SET_ASIDE: "z", Standing.MISSED: "-"}
#: In cells: a row without name and kind; a kind; the width from which kinds are shown; bounds of a name.
FIGURES, KIND, KIND_FROM, NAMES = 36, 19, 74, (12, 36)


class Detail(IntEnum):
    """How much each row of the list tells; the row under the cursor always tells all."""

    HOUR = 0
    HEIGHT = 1
    KIND = 2


def list_page(
    walker: Walker, now_s: float, size: tuple[int, int], cursor: int, budget: Budget = UNBOUNDED
) -> list[Line]:
    """Return the part of the list, in walk order, around the cursor (a place in that order).

    Where there are several instruments, a row names the target's instrument instead of its kind. Where the
    rows would light too much, each tells less; if that is not enough, fewer rows are shown.
    """
    columns, rows = size
    order = walker.order(now_s)
    room = max(1, rows - 3)
    first = min(max(0, cursor - room // 2), max(0, len(order) - room))
    name_cells = _name_cells(walker, columns)
    place = f"{cursor + 1 if order else 0} of {len(order)}"
    head = line((f" {place}, in order of setting, at that hour", "faint"))
    foot = line((" enter: show it   esc: back", "faint"))
    shown: list[Line] = []
    for detail in reversed(Detail):
        shown = [
            _list_row(Glance(walker, row, now_s), (columns, name_cells), at == cursor, detail)
            for at, row in enumerate(order[first : first + room], start=first)
        ]
        if budget.allows([head, *shown, foot]):
            break
    shown = nearest(shown, cursor - first, lambda some: budget.allows([head, *some, foot]))
    return [head, BLANK, *shown, *[BLANK] * (room - len(shown)), foot]


def _name_cells(walker: Walker, columns: int) -> int:
    """Return how many cells the column of names takes: what the longest name needs, within bounds."""
    room = columns - FIGURES - (KIND + 1 if columns >= KIND_FROM else 0)
    most = max(NAMES[0], min(room, NAMES[1]))
    needed = 0
    for target in walker.night.targets:
        needed = max(needed, width(target.subject.name))
        if needed >= most:
            break
    return max(NAMES[0], min(needed, most))


def _list_row(glance: Glance, cells: tuple[int, int], marked: bool, detail: Detail) -> Line:
    columns, name_cells = cells
    target, standing, outcome = glance.target, glance.standing, glance.outcome
    was_missed = standing is Standing.MISSED and target.usable  # what is never up cannot be missed
    done = outcome.value if outcome else standing.value if was_missed else ""
    tells = Detail.KIND if marked else detail
    height = f"{glance.night.altitude_at(glance.row, glance.now_s):5.1f}°" if tells >= Detail.HEIGHT else ""
    what = ""
    if tells >= Detail.KIND:
        what = target.kit.telescope.name if glance.night.has_several else target.subject.kind.value
    when = _when(glance, is_brief=not marked)
    name = pad(target.subject.name, name_cells)
    kind = pad(what, KIND) + " " if columns >= KIND_FROM else ""
    role: Role = "said" if marked else "faint"
    return line(
        (" > " if marked else "   ", "strong"),
        (f"{_MARK[standing]} {name} {kind}{height:6}  {when}  {done}", role),
    )


def _when(glance: Glance, is_brief: bool) -> str:
    """Return from or until when a target can be observed; if brief, the word "sets" is left to the head."""
    zone, stretch = glance.zone, glance.stretch
    if stretch is None:
        return "gone".ljust(11) if glance.target.usable else "not tonight"
    if stretch.start_s > glance.now_s:
        return f"from {time_of_day(stretch.start_s, zone)} "
    ends = ENDS[stretch.ends_by]
    if is_brief and stretch.ends_by is Ending.HORIZON:
        ends = " " * len(ends)
    return f"{ends} {time_of_day(stretch.end_s, zone)} ".ljust(11)


def help_page(
    phrases: tuple[str, ...], size: tuple[int, int], first: int, budget: Budget = UNBOUNDED
) -> list[Line]:
    """Return the keys and the quick phrases from row `first` on, as many as fit and may be lit."""
    return scrolled(help_lines(phrases, size[0]), size[1], first, "j k: scroll   any other key: back", budget)


def help_lines(phrases: tuple[str, ...], columns: int) -> list[Line]:
    """Return all rows of the keys and the quick phrases."""
    lines = [row for label, words in key_help() for row in _help_rows(label, words, columns)]
    lines.append(BLANK)
    lines += [
        row for place, phrase in enumerate(phrases, 1) for row in _help_rows(str(place), phrase, columns)
    ]
    return lines


def _help_rows(label: str, words: str, columns: int) -> list[Line]:
    first, *more = wrap(words, columns - 9, most=2)
    return [
        line((f" {label:7}", "text"), (first, "faint")),
        *(line((" " * 8, "line"), (row, "faint")) for row in more),
    ]


def scrolled(lines: list[Line], rows: int, first: int, foot: str, budget: Budget = UNBOUNDED) -> list[Line]:
    """Return as many lines from `first` on as there is room and light for, and `foot` below them.

    Where that is not all of them, the foot begins with which they are.
    """
    room = max(1, rows - 1)
    while True:
        start = min(first, max(0, len(lines) - room))
        shown = lines[start : start + room]
        is_part = start > 0 or start + room < len(lines)
        place = f"{start + 1}-{start + len(shown)} of {len(lines)}   " if is_part else ""
        tail = line((f" {place}{foot}", "faint"))
        if room == 1 or budget.allows([*shown, tail]):
            return [*shown, *[BLANK] * (rows - 1 - len(shown)), tail]
        room -= 1
