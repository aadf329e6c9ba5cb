"""The year of a target, or of the targets of a list, as an HTML page with pictures."""

from collections.abc import Sequence
from html import escape

from nightmode.night.circumstances import Circumstances
from nightmode.planning.season import JudgedMonth, month_name
from nightmode.report.picture.page import figure, html_table, page, paragraph
from nightmode.report.picture.year import CAPTION, HEIGHT_CAPTION, height_picture, hours_picture
from nightmode.report.when import Year, heading, not_up_text, summary
from nightmode.wording.figures import hours_text, time_of_day
from nightmode.wording.reasons import reason_text

#: The page of a list has pictures of this many targets, the first ones; each takes 30 kB.
MOST_PICTURES = 30


def when_html(title: str, year: Year, told: Sequence[Sequence[JudgedMonth]]) -> str:
    """Return a page with the year of one target, or of each of a list."""
    circumstances, found = year.circumstances, year.season
    parts = [paragraph(heading(title, year), "quiet")]
    if hours := circumstances.person.hours:
        parts.append(paragraph(hours_text(hours), "quiet"))
    for row, subject in enumerate(year.subjects):
        if len(year.subjects) > 1:
            parts.append(f"<h2>{escape(subject.name)}</h2>")
        if row < MOST_PICTURES:
            parts.append(figure(hours_picture(found, row, circumstances.site.zone), CAPTION))
            parts.append(figure(height_picture(found, row), HEIGHT_CAPTION))
        parts += [paragraph(words) for words in summary(year, row, told[row])]
        parts.append(_table(told[row], circumstances))
    return page(title, parts)


def _table(told: Sequence[JudgedMonth], circumstances: Circumstances) -> str:
    heads = [
        ("month", "t"),
        ("highest", "t"),
        ("usable", "n"),
        ("without Moon", "n"),
        ("on its best night", ""),
    ]
    return html_table(heads, [_cells(month, circumstances) for month in told])


def _cells(month: JudgedMonth, circumstances: Circumstances) -> list[str]:
    name = month_name(month.year, month.month)
    if month.highest_deg is None:
        return [name, not_up_text(month, circumstances.person.hours), "", "", ""]
    night = f"{month.night.day} {month.night:%b}"
    reason = reason_text(month.verdict, circumstances.site.zone)
    return [
        name,
        f"{month.highest_deg:.0f}° at {time_of_day(month.highest_at_s, circumstances.site.zone)}",
        f"{month.usable_h:.0f} h",
        f"{month.moonless_h:.0f} h",
        escape(f"{month.verdict.word.value}, {night}: {reason}"),
    ]
