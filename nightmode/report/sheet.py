"""The printed sheet: a complete HTML page, black on white, and the same as text."""

import textwrap
from collections.abc import Iterator, Sequence
from html import escape

from nightmode.report.sheet_rows import CAUTIONS, HourlyAltitude, Sheet, SheetChart, SheetRow

_WIDTH = 79

_STYLE = """\
@page { margin: 10mm; }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 190mm; background: #fff; color: #000;
  font: 8.2pt/1.25 "Liberation Sans", Arial, Helvetica, sans-serif; }
h1 { font-size: 14pt; margin: 0; }
h2 { font-size: 9pt; margin: 2mm 0 0.5mm; }
p { margin: 0.4mm 0; }
header { border-bottom: 0.5mm solid #000; padding-bottom: 1mm; }
.pencil { margin-top: 1mm; }
.blank { display: inline-block; width: 17mm; border-bottom: 0.2mm solid #000; }
table { border-collapse: collapse; width: 100%; table-layout: fixed; margin-top: 1mm; }
th { font-size: 7pt; text-align: left; padding: 0.5mm 0.4mm; border-bottom: 0.3mm solid #000; }
td { vertical-align: top; padding: 0.5mm 0.4mm 0; }
tbody { break-inside: avoid; border-bottom: 0.2mm solid #000; }
tbody.off { color: #555; }
.h { width: 5mm; text-align: center; padding-left: 0; padding-right: 0; }
td.h { font-size: 7.2pt; color: #666; }
td.h.up { color: #000; font-weight: bold; }
.name { font-weight: bold; font-size: 9.5pt; }
.boxes { width: 16mm; white-space: nowrap; font-size: 6.5pt; }
.box { display: inline-block; width: 3.1mm; height: 3.1mm; border: 0.25mm solid; vertical-align: -0.7mm; }
.boxes .box { margin-right: 1.9mm; }
.at { display: inline-block; margin-top: 2.5mm; width: 14mm; border-bottom: 0.2mm dotted; }
.target { width: 36mm; }
.with { width: 44mm; font-size: 7.5pt; }
.notes { height: 4.6mm; border-bottom: 0.2mm dotted; margin: 0 0 0.8mm; }
.chart { display: flex; gap: 4mm; padding: 1mm 0; }
.chart svg { flex: none; }
.chart dl { flex: 1; margin: 0; }
.chart dt { float: left; clear: left; width: 11mm; color: #444; }
.chart dd { margin: 0 0 0.6mm 12mm; }
.foot { display: flex; gap: 6mm; break-inside: avoid; margin-top: 1mm; }
.foot > div { flex: 1; }
ul { list-style: none; margin: 0; padding: 0; }
li { margin: 0.4mm 0 0 4.5mm; }
li .box { margin-left: -4.5mm; }
"""


def sheet_html(sheet: Sheet) -> str:
    """Return the sheet as HTML that loads nothing and has no script; it prints on A4 and Letter."""
    parts = [
        "<!doctype html>",
        '<html lang="en">',
        "<head>",
        '<meta charset="utf-8">',
        f"<title>{escape(sheet.title)}</title>",
        f"<style>\n{_STYLE}</style>",
        "</head>",
        "<body>",
        *_head(sheet),
        *_table(sheet),
        *_foot(sheet),
        "</body>",
        "</html>",
    ]
    return "\n".join(parts) + "\n"


def _head(sheet: Sheet) -> Iterator[str]:
    yield "<header>"
    yield f"<h1>{escape(sheet.title)}</h1>"
    yield f"<p><b>{escape(sheet.date)}</b>, {escape(sheet.site)}. {escape(sheet.telescope)}.</p>"
    yield f"<p>{escape(sheet.twilight)}. Moon {escape(sheet.moon)}.</p>"
    if sheet.find:
        yield f"<p>Find with {escape(sheet.find)}. Heights in degrees; bold: can be observed.</p>"
    if sheet.note:
        yield f"<p>{escape(sheet.note)}</p>"
    blanks = ("began", "ended", "seeing I-V", "faintest star", "meter")
    yield (
        '<p class="pencil">'
        + " &nbsp; ".join(f'{word} <span class="blank"></span>' for word in blanks)
        + "</p>"
    )
    yield "</header>"


def _table(sheet: Sheet) -> Iterator[str]:
    hours = "".join(f'<th class="h">{escape(hour)}</th>' for hour in sheet.hours)
    yield '<table><thead><tr><th class="boxes">seen, susp., no</th><th class="target">target</th>'
    yield f'{hours}<th class="with">look with</th></tr></thead>'
    for row in sheet.rows:
        yield from _target(row, len(sheet.hours))
    yield "</table>"


def _target(row: SheetRow, hours: int) -> Iterator[str]:
    verdict = f", {escape(row.verdict)}" if row.verdict and not row.reason else ""
    boxes = '<span class="box"></span>' * 3
    yield "<tbody><tr>" if row.highest else '<tbody class="off"><tr>'
    yield f'<td class="boxes" rowspan="2">{boxes}<br><span class="at">at</span></td>'
    yield f'<td class="target" rowspan="2"><span class="name">{escape(row.name)}</span>'
    yield f"<br>{escape(row.what)}" if row.what else ""
    yield f"<br><b>{escape(row.when)}</b>{verdict}</td>"
    yield "".join(_cell(height) for height in row.heights)
    yield f'<td class="with">{escape(row.look)}</td></tr>'
    yield f'<tr><td colspan="{hours + 1}">{_words(row)}<p class="notes"></p></td></tr>'
    yield from _chart(row.chart, hours) if row.chart else ()
    yield "</tbody>"


def _chart(chart: SheetChart, hours: int) -> Iterator[str]:
    yield f'<tr><td colspan="{hours + 3}"><div class="chart">{chart.svg}<dl>'
    yield f"<dt>{escape(chart.at)}</dt><dd>the sky then, the zenith up</dd>"
    before = ""
    for label, words in chart.words:
        yield f"<dt>{escape(label if label != before else '')}</dt><dd>{escape(words)}</dd>"
        before = label
    yield "</dl></div></td></tr>"


def _words(row: SheetRow) -> str:
    parts = [f"Best {escape(row.highest)}." if row.highest else ""]
    parts.append(f"{escape(row.verdict.capitalize())}: {escape(row.reason)}." if row.reason else "")
    parts += [f"<i>{escape(row.look_for)}</i>" if row.look_for else "", escape(row.note)]
    return " ".join(part for part in parts if part)


def _cell(height: HourlyAltitude) -> str:
    shown = str(height.altitude_deg) if height.altitude_deg > 0 else ""
    return f'<td class="h{" up" if height.usable else ""}">{shown}</td>'


def _foot(sheet: Sheet) -> Iterator[str]:
    yield '<div class="foot">'
    for heading, lines in (("Before dark", sheet.before_dark), ("Packing up", sheet.packing_up)):
        yield f"<div><h2>{heading}</h2><ul>"
        yield from (f'<li><span class="box"></span> {escape(line)}</li>' for line in lines)
        yield "</ul></div>"
    yield "<div><h2>Mind</h2>"
    yield from (f"<p>{escape(line)}</p>" for line in CAUTIONS)
    yield "</div></div>"


def sheet_text(sheet: Sheet) -> str:
    """Return the sheet as text of 79 columns, with boxes to tick and lines for notes."""
    lines = _wrapped(sheet.title, "") + _wrapped(f"{sheet.date}, {sheet.site}, {sheet.telescope}", "")
    lines += _wrapped(f"{sheet.twilight}. Moon {sheet.moon}.", "")
    lines += _wrapped(f"Find with {sheet.find}.", "") if sheet.find else []
    lines += _wrapped(sheet.note, "") if sheet.note else []
    for row in sheet.rows:
        lines += ["", *_text_rows(row, sheet.hours)]
    lines += _text_list("Before dark", [f"[ ] {line}" for line in sheet.before_dark])
    lines += _text_list("Packing up", [f"[ ] {line}" for line in sheet.packing_up])
    lines += _text_list("Mind", CAUTIONS)
    return "\n".join(lines)


def _text_rows(row: SheetRow, hours: Sequence[str]) -> list[str]:
    told = [row.name, *(part for part in (row.what, row.verdict) if part)]
    lines = _wrapped(", ".join(told) + (f": {row.reason}" if row.reason else ""), "")
    lines += _wrapped(f"{row.when}{', best ' + row.highest if row.highest else ''}", "    ")
    heights = [
        f"{hour}h\0{height.altitude_deg}°"
        for hour, height in zip(hours, row.heights, strict=True)
        if height.usable
    ]
    lines += _wrapped("  ".join(heights), "    ")
    lines += _wrapped(f"look with {row.look}" if row.look else "", "    ")
    lines += _wrapped(" ".join(part for part in (row.look_for, row.note) if part), "    ")
    if row.chart:
        lines += _wrapped(f"at {row.chart.at}", "    ")
        lines += [part for label, words in row.chart.words for part in _wrapped(f"{label:8}{words}", "    ")]
    return [*lines, "    [ ] seen [ ] suspected [ ] no  at __:__  " + "_" * 34]


def _text_list(heading: str, lines: Sequence[str]) -> list[str]:
    return ["", heading, *(part for line in lines for part in _wrapped(line, "  "))]


def _wrapped(text: str, indent: str) -> list[str]:
    """Return a text as indented lines; a NUL in it becomes a blank at which no line ends."""
    rows = textwrap.wrap(text, _WIDTH, initial_indent=indent, subsequent_indent=indent)
    return [row.replace("\0", " ") for row in rows]
