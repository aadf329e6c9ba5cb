"""The figures for setting circles, large: the target's place and the sidereal time."""

from nightmode.app.pages.budget import UNBOUNDED, Budget
from nightmode.app.pages.dots import FULL, Style
from nightmode.app.pages.large import large
from nightmode.app.pages.line import BLANK, Line, fit, in_the_middle, length, line, pad
from nightmode.app.walker import Walker
from nightmode.sky.setting_circles import CircleReadings, circle_readings
from nightmode.wording.setting_circles import circle_rows

#: The width of half of the block: a label and up to seven large figures.
_HALF = 36
_LABEL = 5
_SMALL_LABEL = 12


def circles_page(
    walker: Walker,
    now_s: float,
    size: tuple[int, int],
    style: Style = FULL,
    budget: Budget = UNBOUNDED,
) -> list[Line]:
    """Return exactly as many rows as size (columns, rows) has; small figures where room or light is short."""
    columns, rows = size
    row = walker.shown(now_s)
    if row is None:
        return _page([line(("nothing is up to point at", "text"))], size, _HALF)
    night = walker.night
    name = night.targets[row].subject.name
    if night.altitude_at(row, now_s) <= 0.0:
        return _page([line((f"{name} is below the horizon", "text"))], size, _HALF)
    found = circle_readings(
        now_s, night.altitude_at(row, now_s), night.azimuth_at(row, now_s),
        night.site.latitude_deg, night.site.longitude_deg,
    )  # fmt: skip
    head = line((fit(name, columns - 2), "strong"))
    shown = [head, BLANK, *_large_rows(found, style)]
    if columns >= 2 * _HALF and rows >= 14 and budget.allows(shown):
        return _page(shown, size, 2 * _HALF)
    return _page([head, BLANK, *_small_rows(found)], size, 30)


def _large_rows(found: CircleReadings, style: Style) -> list[Line]:
    lines: list[Line] = []
    for left, right in circle_rows(found):
        shown = [large(figures, style) for _, _, figures in (left, right)]
        for place, (left_row, right_row) in enumerate(zip(*shown, strict=True)):
            words = [label.ljust(_LABEL) if place == 1 else " " * _LABEL for label, _, _ in (left, right)]
            first = pad(left_row, _HALF - _LABEL)
            lines.append(line((words[0], "faint"), (first, "text"), (words[1], "faint"), (right_row, "text")))
        lines.append(BLANK)
    return lines[:-1]


def _small_rows(found: CircleReadings) -> list[Line]:
    pairs = [figures for both in circle_rows(found) for figures in both]
    return [line((name.ljust(_SMALL_LABEL), "faint"), (figures, "text")) for _, name, figures in pairs]


def _page(lines: list[Line], size: tuple[int, int], block: int) -> list[Line]:
    """Return lines in the middle of a page, as a block of `block` cells, or wider where a line is."""
    wide = max(block, *map(length, lines[: size[1]]))
    return in_the_middle(lines, size, min(size[0], wide))
