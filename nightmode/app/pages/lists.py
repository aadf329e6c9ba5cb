"""The pages that come when asked for: the list of targets, the keys, the checklists."""

from collections.abc import Sequence

from nightmode.app.keys import key_help
from nightmode.app.pages.line import BLANK, Line, Piece, Role, line, pad, width, wrap
from nightmode.app.walker import Walker
from nightmode.walk.order import Standing
from nightmode.wording.figures import ENDS, time_of_day

_MARK = {Standing.TO_DO: " ", Standing.DONE: "·", Standing.SET_ASIDE: "z", Standing.MISSED: "-"}
#: Cells: a row of the list without name and kind, a kind, the width from which kinds show, bounds of a name.
FIGURES, KIND, KIND_FROM, NAMES = 36, 19, 74, (12, 36)


def list_page(walker: Walker, now_s: float, size: tuple[int, int], cursor: int) -> list[Line]:
    """Return the list in walk order, the part round the cursor (a place in the order).

    Where there are several instruments, each target's stands in the place of its kind.
    """
    columns, rows = size
    order = walker.order(now_s)
    room = max(1, rows - 3)
    first = min(max(0, cursor - room // 2), max(0, len(order) - room))
    name_cells = _name_cells(walker, columns)
    shown = [
        _list_row(walker, row, now_s, (columns, name_cells), place == cursor)
        for place, row in enumerate(order[first : first + room], start=first)
    ]
    head = line((f" {cursor + 1 if order else 0} of {len(order)}, in order of setting", "faint"))
    foot = line((" enter: show it   esc: back   times are those of the site", "faint"))
    return [head, BLANK, *shown, *[BLANK] * (room - len(shown)), foot]


def _name_cells(walker: Walker, columns: int) -> int:
    """Return how many cells the column of names takes: as many as the longest needs, within its bounds."""
    room = columns - FIGURES - (KIND + 1 if columns >= KIND_FROM else 0)
    most = max(NAMES[0], min(room, NAMES[1]))
    needed = 0
    for target in walker.night.targets:
        needed = max(needed, width(target.subject.name))
        if needed >= most:
            break
    return max(NAMES[0], min(needed, most))


def _list_row(walker: Walker, row: int, now_s: float, cells: tuple[int, int], marked: bool) -> Line:
    columns, name_cells = cells
    target = walker.night.targets[row]
    standing = walker.standing(row, now_s)
    outcome = walker.state.outcome(target.chance.key)
    was_missed = standing is Standing.MISSED and target.usable  # what is never up cannot be missed
    done = outcome.value if outcome else standing.value if was_missed else ""
    height = f"{walker.night.altitude_at(row, now_s):5.1f}°"
    name = pad(target.subject.name, name_cells)
    what = target.kit.telescope.name if walker.night.has_several else target.subject.kind.value
    kind = pad(what, KIND) + " " if columns >= KIND_FROM else ""
    role: Role = "strong" if marked else "text" if standing is Standing.TO_DO else "faint"
    return line(
        (" > " if marked else "   ", role),
        (f"{_MARK[standing]} {name} {kind}{height}  {_when(walker, row, now_s)}  {done}", role),
    )


def _when(walker: Walker, row: int, now_s: float) -> str:
    zone = walker.night.site.zone
    stretch = walker.night.targets[row].chance.stretch(now_s)
    if stretch is None:
        return "gone".ljust(11) if walker.night.targets[row].usable else "not tonight"
    if stretch.start > now_s:
        return f"from {time_of_day(stretch.start, zone)} "
    return f"{ENDS[stretch.ends_by]} {time_of_day(stretch.end, zone)} ".ljust(11)


def help_page(phrases: tuple[str, ...], size: tuple[int, int], first: int) -> list[Line]:
    """Return the keys and the quick phrases, from row `first` on."""
    columns = size[0]
    lines = [row for label, words in key_help() for row in _help_rows(label, words, columns)]
    lines.append(BLANK)
    lines += [
        row for place, phrase in enumerate(phrases, 1) for row in _help_rows(str(place), phrase, columns)
    ]
    return _scrolled(lines, size[1], first, "any other key: back")


def _help_rows(label: str, words: str, columns: int) -> list[Line]:
    first, *more = wrap(words, columns - 9, most=2)
    return [
        line((f" {label:7}", "text"), (first, "faint")),
        *(line((" " * 8, "line"), (row, "faint")) for row in more),
    ]


def checklist_page(
    heads: tuple[Piece, ...],
    items: Sequence[str],
    caution: str,
    size: tuple[int, int],
    done: frozenset[int],
    cursor: int,
) -> list[Line]:
    """Return a checklist under its heads, the cautions below; `done` holds the places ticked."""
    columns, rows = size
    lines = [
        line((f" {row}", role))
        for head, role in heads
        for row in ([head] if width(head) <= columns - 2 else wrap(head, columns - 2, most=3))
    ]
    lines.append(BLANK)
    for place, item in enumerate(items):
        role: Role = "faint" if place in done else "text"
        mark = "·" if place in done else " "
        lines.append(line((" > " if place == cursor else "   ", "strong"), (f"{mark} {item}", role)))
    lines.append(BLANK)
    lines += [line((f" {row}", "faint")) for row in wrap(caution, columns - 2, most=4)]
    return _scrolled(lines, rows, max(0, cursor + 8 - rows), "space: tick   j k: move   esc: on to the walk")


def _scrolled(lines: list[Line], rows: int, first: int, foot: str) -> list[Line]:
    room = max(1, rows - 1)
    first = min(first, max(0, len(lines) - room))
    more = first + room < len(lines)
    shown = lines[first : first + room]
    tail = " j k: scroll   " + foot if more or first else " " + foot
    return [*shown, *[BLANK] * (room - len(shown)), line((tail, "faint"))]
