"""The pages that lead to a target: a picture and, beside it, the words."""

import re
from enum import StrEnum

from nightmode.aim.pointing import FieldOfView, Pointing
from nightmode.app.pages.budget import UNBOUNDED, Budget
from nightmode.app.pages.charts import closer_chart, eyepiece_chart, finder_chart, sky_chart
from nightmode.app.pages.dots import FULL, Style
from nightmode.app.pages.line import BLANK, Line, fit_line, in_the_middle, length, line, width, wrap
from nightmode.records import Record
from nightmode.wording.aim import Words, eyepiece_words, finder_words, plainly, sky_words
from nightmode.wording.figures import field, power

#: In columns: below the first there is room for words alone, from the second on for two pictures. In rows:
#: from this height on the two stand one above the other, beside the words.
WITH_PICTURE, TWO_PICTURES, TALL = 80, 110, 30
#: Columns of the words: beside a picture, beside one on a wide screen, without a picture.
WORDS, WIDE_WORDS, WORDS_ALONE = 31, 40, 60
LABEL, LEAST_ROWS, HANG = 8, 8, 2
#: Blank columns between a picture and the words, so that a star's name at its edge is not read with them.
GAP = 3
#: Stands for a blank at which a row must not be broken.
_TIED = "\u2423"
#: Blanks at which no row is broken: before o'clock, field, fists and up, after past, in a star's name.
_BELONGS = re.compile(
    r" (?=(?:o'clock|fields?|fists?|up)\b)|(?<=\bpast) |(?<=[0-9α-ω¹²³]) (?=[A-Z][A-Za-z]{2}\b)"
)
#: The least number of rows of words, whatever light they give.
LEAST_WORDS = 3
#: The longest way in words, on the narrowest column, takes so many rows.
MOST_ROWS = 6


class ChartView(StrEnum):
    """The views of the chart, in the order of stepping."""

    SKY = "sky"
    CLOSER = "closer"
    FINDER = "finder"
    EYEPIECE = "eyepiece"


class Sighting(Record, eq=False):
    """A target in one view of the chart.

    fov is the field of the eyepiece in use, find_deg the width of the one to find with; None for none.
    """

    pointing: Pointing
    view: ChartView
    fov: FieldOfView | None
    find_deg: float | None
    style: Style = FULL


def views(has_finder: bool, has_eyepiece: bool, columns: int) -> tuple[ChartView, ...]:
    """Return the views that the kit has something for, in the order of stepping; columns is the width."""
    together = columns >= TWO_PICTURES
    found = [ChartView.SKY] if together else [ChartView.SKY, ChartView.CLOSER]
    if has_finder:
        found.append(ChartView.FINDER)
    if has_eyepiece:
        found.append(ChartView.EYEPIECE)
    return tuple(found)


def aim_page(sighting: Sighting, size: tuple[int, int], budget: Budget = UNBOUNDED) -> list[Line]:
    """Return a view as exactly as many rows as size (columns, rows) has; budget is for the whole page."""
    columns, rows = size
    budget = budget.inside()
    if columns < WITH_PICTURE or rows < LEAST_ROWS:
        block = min(WORDS_ALONE, columns - 2)
        return in_the_middle(_told(sighting, (block, rows), budget), size, block)
    if sighting.view is ChartView.SKY and columns >= TWO_PICTURES:
        return _two_pictures(sighting, size)
    beside = WORDS if columns < TWO_PICTURES else WIDE_WORDS
    picture = _picture(sighting, columns - beside - 1 - GAP, rows)
    told = _told(sighting, (beside, rows), budget.beside(picture))
    return _side_by_side(picture, columns - beside - 1, told, rows)


def _picture(sighting: Sighting, columns: int, rows: int) -> list[Line]:
    pointing, style = sighting.pointing, sighting.style
    if sighting.view is ChartView.FINDER:
        return finder_chart(pointing, sighting.find_deg, columns, rows, style)
    if sighting.view is ChartView.EYEPIECE and sighting.fov is not None:
        return eyepiece_chart(pointing, sighting.fov, columns, rows, style)
    chart = closer_chart if sighting.view is ChartView.CLOSER else sky_chart
    return chart(pointing, columns, rows, style)


def _two_pictures(sighting: Sighting, size: tuple[int, int]) -> list[Line]:
    """Return the sky and the target closer up: one above the other on a tall screen, else side by side."""
    pointing, style = sighting.pointing, sighting.style
    columns, rows = size
    if rows < TALL:
        each = (columns - WORDS - 2 - GAP) // 2
        sky, closer = sky_chart(pointing, each, rows, style), closer_chart(pointing, each, rows, style)
        both = _side_by_side(sky, each + 1, closer, rows)
        return _side_by_side(both, columns - WORDS - 1, _told(sighting, (WORDS, rows)), rows)
    left = columns - WIDE_WORDS - 1 - GAP
    told = _told(sighting, (WIDE_WORDS, rows // 2 + 2))
    under = rows - len(told) - 1
    right = [*told, BLANK, *closer_chart(pointing, WIDE_WORDS, under, style)]
    return _side_by_side(sky_chart(pointing, left, rows, style), left + GAP, right, rows)


def _words(sighting: Sighting) -> list[Words]:
    plain = not sighting.style.has_letters
    if sighting.view is ChartView.FINDER:
        return finder_words(sighting.pointing, plain)
    if sighting.view is ChartView.EYEPIECE and sighting.fov is not None:
        return eyepiece_words(sighting.pointing, sighting.fov, plain)
    return sky_words(sighting.pointing, plain)


def _title(sighting: Sighting) -> Line:
    told, finder, fov = "as the sky looks now", sighting.pointing.finder, sighting.fov
    if sighting.view is ChartView.FINDER and finder is not None:
        told = f"in the {finder.name}, {field(finder.field_deg)}"
    if sighting.view is ChartView.EYEPIECE and fov is not None:
        told = f"{power(fov.power)}, {field(fov.field_deg)}  {fov.name}"
    told = told if sighting.style.has_letters else plainly(told)
    return line((sighting.pointing.name, "strong"), (f"  {told}", "faint"))


def _told(sighting: Sighting, size: tuple[int, int], budget: Budget = UNBOUNDED) -> list[Line]:
    """Return title and words for a size (columns, rows), within what the budget lets them light.

    What does not fit is left out from the end; blank rows go first.
    """
    columns, rows = size
    title, kept = _title(sighting), _words(sighting)
    while len(kept) > LEAST_WORDS and not budget.allows([title, *_pieces(kept)]):
        kept.pop()
    lines, before = [*_head(title, columns), BLANK], ""
    for (label, text), (after, _) in zip(kept, [*kept[1:], ("end", "")], strict=True):
        if before and label not in ("", before, "go"):
            lines.append(BLANK)
        shown = "" if label == before else label
        before = label or before
        hang = HANG if "" in (label, after) else 0  # one of several steps: where the next one begins is seen
        first, *more = _wrapped(text, columns - LABEL - 1, hang)
        lines.append(line((shown.ljust(LABEL + 1), "faint"), (first, "text")))
        lines += [line((" " * (LABEL + 1 + hang), "line"), (row, "text")) for row in more]
    while len(lines) > rows and BLANK in lines:
        lines.remove(BLANK)
    return lines[:rows]


def _head(title: Line, columns: int) -> list[Line]:
    """Return the title in one row; where that is too narrow, what is shown below the name."""
    if length(title) <= columns:
        return [title]
    name, (told, role) = title
    return [fit_line((name,), columns), *(line((row, role)) for row in wrap(told, columns, most=2))]


def _pieces(words: list[Words]) -> list[Line]:
    return [((label, "faint"), (text, "text")) for label, text in words]


def _wrapped(text: str, columns: int, hang: int = 0) -> list[str]:
    """Return text broken into rows, all but the first narrower by hang.

    But never within "11 o'clock", "1½ field", "7 fists up" or "3 Cen".
    """
    tied = _BELONGS.sub(_TIED, text)
    first, *rest = wrap(tied, columns, most=MOST_ROWS)
    rows = [first, *wrap(" ".join(rest), columns - hang, most=MOST_ROWS - 1)] if rest else [first]
    return [row.replace(_TIED, " ") for row in rows]


def _side_by_side(left: list[Line], column: int, right: list[Line], rows: int) -> list[Line]:
    """Return left and right as one block of rows; the right part begins at `column`."""
    found = []
    for row in range(rows):
        before = left[row] if row < len(left) else BLANK
        after = right[row] if row < len(right) else BLANK
        gap = " " * (column - sum(width(text) for text, _ in before))
        found.append((*before, (gap, "line"), *after) if after else before)
    return found
