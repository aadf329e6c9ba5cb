"""What a verdict is made of, and how its figures are written."""

import datetime as dt
from dataclasses import dataclass

from nightmode.night.table import Night

EASY, FAIR, HARD, OUT, UNKNOWN = WORDS = ("easy", "fair", "hard", "out of reach", "unknown")
#: What the next better word asks for, as a reason says it.
BETTER = {FAIR: "easy", HARD: "fair"}

_APERTURES_MM = (
    30, 40, 50, 60, 70, 80, 90, 100, 115, 130, 150, 180, 200, 250, 300, 350, 400, 450, 500, 600, 760, 900
)  # fmt: skip


@dataclass(frozen=True)
class Verdict:
    """How a target does.

    word        easy, fair, hard, out of reach or unknown
    margin_dex  log10 of what there is over what the eye needs; None where altitude alone decides
    cause       what limits it: sky, Moon, twilight, low altitude, aperture, power, seeing and the like; empty
                when easy
    reason      one short line for people: the cause and what would change it
    """

    word: str
    margin_dex: float | None
    cause: str
    reason: str


def clock(night: Night, unix_s: float) -> str:
    """Return the time of day at the site, to the nearest minute."""
    return dt.datetime.fromtimestamp(unix_s + 30, night.site.zone).strftime("%H:%M")


def larger_mm(aperture_mm: float) -> str:
    """Return the next of the usual apertures that is enough."""
    return f"{next((usual for usual in _APERTURES_MM if usual >= aperture_mm), 1000)} mm"


def wanted(word: str, thing: str) -> str:
    """Return "needs a sky of 20.8" where it is out of reach, else "fair in a sky of 20.8" and the like."""
    if word not in BETTER:
        return f"needs {thing}"
    joint = "in" if thing.startswith("a sky") else "with"
    return f"{BETTER[word]} {joint} {thing}"
