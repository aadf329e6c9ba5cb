"""Draws the README's pictures, docs/screen.svg and chart.svg, from the real pages: python tests/picture.py"""

import datetime as dt
import re
import sys
import tempfile
from pathlib import Path
from xml.sax.saxutils import escape

from nightmode.app.chart import Chart
from nightmode.app.pages.line import SHOWN_AS
from nightmode.app.pages.main import main_page
from nightmode.app.theme import EMBER
from nightmode.app.walker import Walker
from nightmode.files.places import shipped
from nightmode.model.session import Outcome
from nightmode.night.loading import load_night, new_head
from nightmode.session.opening import opened

COLUMNS, ROWS = 80, 24
CELL_W, CELL_H = 9, 19
DOCS = Path(__file__).parent.parent / "docs"
PICTURES = {"screen.svg": False, "chart.svg": True}  # and whether the chart is open
BRAILLE = range(0x2801, 0x2900)
PLACES = ((0, 0), (0, 1), (0, 2), (1, 0), (1, 1), (1, 2), (0, 3), (1, 3))  # of braille dots, by bit
RAISED = 1.7  # so that the picture can be seen by day


def page(with_chart=False):
    """Return the rows of the walk on the demo's night at 20:40, three targets ticked."""
    loaded = load_night(shipped("plans") / "hillside.toml", None, None, 0.0)
    night = loaded.night
    now_s = dt.datetime(2026, 12, 13, 20, 40, tzinfo=night.site.zone).timestamp()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "session.toml"
        with opened(loaded.path, new_head(loaded, rehearsal=False), path, 0.0) as (session, _):
            walker = Walker(night, session)
            for minutes in (30, 20, 10):
                walker.tick(Outcome.SEEN, now_s - minutes * 60)
            chart = Chart()
            if with_chart:
                chart.step(walker, now_s, COLUMNS)
            return main_page(walker, now_s, (COLUMNS, ROWS), None, now_s - 34 * 60, middle=chart)


def pieces(lines):
    """Yield row, column, text and role of the words of a page; dots and discs are left out."""
    for row, line in enumerate(lines):
        column = 0
        for text, role in line:
            for part in re.finditer(r"[^\u2801-\u28ff●]+", text):
                words = part[0].strip()
                if words:  # blanks that hold their width in every viewer
                    start = column + part.start() + part[0].index(words)
                    yield row, start, words.replace(" ", "\u00a0"), role
            column += len(text)


def dots(lines):
    """Yield middle, radius and role of every dot of braille and every disc, in pixels."""
    for row, line in enumerate(lines):
        column = 0
        for text, role in line:
            for place, letter in enumerate(text, start=column):
                x, y = (place + 1) * CELL_W, (row + 0.75) * CELL_H
                if letter == "●":
                    yield x + CELL_W / 2, y + CELL_H / 2, 4.0, role
                bits = ord(letter) - BRAILLE.start + 1 if ord(letter) in BRAILLE else 0
                for bit, (right, down) in enumerate(PLACES):
                    if bits >> bit & 1:
                        yield x + (right + 0.5) * CELL_W / 2, y + (down + 0.5) * CELL_H / 4, 1.1, role
            column += len(text)


def ink(role):
    """Return the colour of a role, brightened."""
    return f"#{min(255, round(getattr(EMBER.red, SHOWN_AS.get(role, role)) * RAISED)):02x}0000"


def draw(lines):
    """Return the page as an SVG: red on black, monospaced."""
    rows = [
        f'<text x="{(column + 1) * CELL_W}" y="{(row + 1.5) * CELL_H}" fill="{ink(role)}" '
        f'textLength="{len(text) * CELL_W}">{escape(text)}</text>'
        for row, column, text, role in pieces(lines)
    ]
    rows += [
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius}" fill="{ink(role)}"/>'
        for x, y, radius, role in dots(lines)
    ]
    width, height = (COLUMNS + 2) * CELL_W, (ROWS + 1.5) * CELL_H
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}">\n'
        '<rect width="100%" height="100%" fill="#000"/>\n'
        f'<g font-family="monospace" font-size="15" xml:space="preserve">\n'
        + "\n".join(rows)
        + "\n</g>\n</svg>\n"
    )


if __name__ == "__main__":
    for name, with_chart in PICTURES.items():
        (DOCS / name).write_text(draw(page(with_chart)), encoding="utf-8")
        sys.stdout.write(f"wrote {DOCS / name}\n")
