"""The frame of a complete HTML page: it loads nothing, has no script, and prints on A4 and Letter."""

from collections.abc import Iterable
from html import escape

_STYLE = """\
@page { margin: 12mm; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 6mm 4mm; max-width: 190mm; background: #fff; color: #1b1b1b;
  font: 10pt/1.4 "Liberation Sans", Arial, Helvetica, sans-serif; }
h1 { font-size: 20pt; font-weight: normal; margin: 0 0 1mm; }
h2 { font-size: 13pt; font-weight: normal; margin: 9mm 0 1mm; padding-top: 2mm;
  border-top: 0.3mm solid #7a1414; break-after: avoid; }
p { margin: 0.6mm 0; }
.quiet { color: #555; }
table { border-collapse: collapse; width: 100%; margin-top: 2mm; font-size: 9pt; }
th { text-align: left; font-weight: normal; color: #555; padding: 0.6mm 1.5mm;
  border-bottom: 0.3mm solid #999; }
td { vertical-align: top; padding: 0.6mm 1.5mm; }
tr { break-inside: avoid; }
tbody tr + tr td { border-top: 0.1mm solid #ddd; }
td.n, th.n { text-align: right; white-space: nowrap; }
td.t { white-space: nowrap; }
.words { color: #444; font-style: italic; }
a { color: #7a1414; text-decoration: none; }
.keep { break-inside: avoid; }
.after { break-before: avoid; }
figure { margin: 3mm 0; break-inside: avoid; }
figcaption { font-size: 8.5pt; color: #555; }
svg { width: 100%; height: auto; display: block; }
.months span { display: inline-block; width: 3.4mm; text-align: center; }
.months .on { color: #7a1414; font-weight: bold; }
.months .off { color: #d8d2d0; }
svg text { font: 9px "Liberation Sans", Arial, Helvetica, sans-serif; fill: #555;
  paint-order: stroke; stroke: #fff; stroke-width: 2px; }
svg .ink { fill: #7a1414; }
svg .ring { fill: #fff; stroke: #7a1414; stroke-width: 1.4; }
svg .cross { stroke: #7a1414; stroke-width: 1.4; fill: none; }
svg .dot { fill: #999; }
svg .rule { stroke: #ccc; stroke-width: 0.6; fill: none; }
svg .curve { stroke: #777; stroke-width: 1; fill: none; }
svg .night { stroke: #c9c4c1; fill: none; }
svg .moonlit { stroke: #ece7dc; fill: none; }
svg .up { stroke: #7a1414; fill: none; opacity: 0.8; }
svg .pale { stroke: #7a1414; fill: none; opacity: 0.3; }
svg .dark { fill: #efecea; }
svg .half { fill: #c98f8f; }
svg .rest { fill: #e6e2e0; }
@media print { body { padding: 0; } * { print-color-adjust: exact; -webkit-print-color-adjust: exact; } }
"""


#: Code points that HTML must not hold (WHATWG, HTML, 13.2.3.5), but a note may.
_PLANES = [plane * 0x10000 + last for plane in range(17) for last in (0xFFFE, 0xFFFF)]
_NO_CHARACTERS = dict.fromkeys([*range(0xFDD0, 0xFDF0), *_PLANES], "\ufffd")


def page(title: str, parts: Iterable[str]) -> str:
    """Return a complete page; parts are HTML, title is plain text."""
    head = [
        "<!doctype html>",
        '<html lang="en">',
        "<head>",
        '<meta charset="utf-8">',
        '<meta name="viewport" content="width=device-width">',
        f"<title>{escape(title)}</title>",
        f"<style>\n{_STYLE}</style>",
        "</head>",
        "<body>",
        f"<h1>{escape(title)}</h1>",
    ]
    return "\n".join([*head, *parts, "</body>", "</html>\n"]).translate(_NO_CHARACTERS)


def paragraph(text: str, kind: str = "") -> str:
    """Return a paragraph, or "" for no text."""
    return f"<p{_class(kind)}>{escape(text)}</p>" if text else ""


def html_table(heads: Iterable[tuple[str, str]], rows: Iterable[Iterable[str]]) -> str:
    """Return a table; heads are (word, kind of the column: n number, t short text), cells are HTML."""
    heads = list(heads)
    first = "".join(f"<th{_class(kind)}>{escape(word)}</th>" for word, kind in heads)
    body = "\n".join(
        "<tr>"
        + "".join(f"<td{_class(kind)}>{cell}</td>" for cell, (_, kind) in zip(row, heads, strict=True))
        + "</tr>"
        for row in rows
    )
    return f"<table><thead><tr>{first}</tr></thead><tbody>\n{body}\n</tbody></table>"


def figure(svg: str, caption: str) -> str:
    """Return a picture with a caption."""
    return f"<figure>{svg}<figcaption>{escape(caption)}</figcaption></figure>"


def _class(kind: str) -> str:
    return f' class="{kind}"' if kind else ""
