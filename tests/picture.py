"""Draws docs/screen.svg, the README's picture, from the real main page: python tests/picture.py"""

import datetime as dt
import sys
import tempfile
from pathlib import Path
from xml.sax.saxutils import escape

from nightmode.app.pages.main import main_page
from nightmode.app.theme import EMBER
from nightmode.app.walker import Walker
from nightmode.files.places import shipped
from nightmode.model.session import Outcome
from nightmode.night.loading import load_night, new_head
from nightmode.session.opening import opened

COLUMNS, ROWS = 80, 24
CELL_W, CELL_H = 9, 19
PICTURE = Path(__file__).parent.parent / "docs" / "screen.svg"
RAISED = 1.7  # so that the picture can be seen by day


def page():
    """Return the rows of the main page on the demo's night at 20:40, three targets ticked."""
    loaded = load_night(shipped("plans") / "hillside.toml", None, None, 0.0)
    night = loaded.night
    now_s = dt.datetime(2026, 12, 13, 20, 40, tzinfo=night.site.zone).timestamp()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "session.toml"
        with opened(loaded.path, new_head(loaded, False), path, False, 0.0) as (session, _):
            walker = Walker(night, session)
            for minutes in (30, 20, 10):
                walker.tick(Outcome.SEEN, now_s - minutes * 60)
            return main_page(walker, now_s, (COLUMNS, ROWS), None, now_s - 34 * 60)


def draw(lines):
    """Return the page as an SVG: red on black, monospaced."""
    rows = []
    for row, line in enumerate(lines):
        column = 0
        for text, role in line:
            if text.strip():
                x, y = (column + 1) * CELL_W, (row + 1.5) * CELL_H
                level = min(255, round(getattr(EMBER.red, role) * RAISED))
                length = f'textLength="{len(text) * CELL_W}"'
                rows.append(f'<text x="{x}" y="{y}" fill="#{level:02x}0000" {length}>{escape(text)}</text>')
            column += len(text)
    width, height = (COLUMNS + 2) * CELL_W, (ROWS + 1.5) * CELL_H
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}">\n'
        '<rect width="100%" height="100%" fill="#000"/>\n'
        f'<g font-family="monospace" font-size="15" xml:space="preserve">\n'
        + "\n".join(rows)
        + "\n</g>\n</svg>\n"
    )


if __name__ == "__main__":
    PICTURE.write_text(draw(page()), encoding="utf-8")
    sys.stdout.write(f"wrote {PICTURE}\n")
