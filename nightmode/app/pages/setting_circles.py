"""The figures for setting circles, large: the target's place and the sidereal time."""

from nightmode.app.pages.budget import UNBOUNDED, Budget
from nightmode.app.pages.dots import FULL, Style
from nightmode.app.pages.large import large
from nightmode.app.pages.line import BLANK, Line, centred, fit, line, pad, width
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
        return _filled([line(("nothing is up to point at", "text"))], columns, rows, _HALF)
    night = walker.night
    name = night.targets[row].subject.name
    if night.altitude_at(row, now_s) <= 0.0:
        return _filled([line((f"{name} is below the horizon", "text"))], columns, rows, _HALF)
    found = circle_readings(
        now_s, night.altitude_at(row, now_s), night.azimuth_at(row, now_s),
        night.site.latitude_deg, night.site.longitude_deg,
    )  # fmt: skip
    head = line((fit(name, columns - 2), "strong"))
    shown = [head, BLANK, *_large_rows(found, style)]
    if columns >= 2 * _HALF and rows >= 14 and budget.allows(shown):
        return _filled(shown, columns, rows, 2 * _HALF)
    return _filled([head, BLANK, *_small_rows(found)], columns, rows, 30)


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


def _filled(middle: list[Line], columns: int, rows: int, block: int) -> list[Line]:
    middle = middle[:rows]
    above = (rows - len(middle)) // 2
    wide = max(block, *(sum(width(text) for text, _ in row) for row in middle))
    body = [BLANK] * above + centred(middle, columns, min(columns, wide))
    return body + [BLANK] * (rows - len(body))
