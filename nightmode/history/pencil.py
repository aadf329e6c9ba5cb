"""What was pencilled on a printed sheet, as it is typed: a line for a target, a time, seeing, sky."""

import re

from nightmode.errors import NightmodeError
from nightmode.model.session import Outcome
from nightmode.night.table import Night
from nightmode.records import Record
from nightmode.setup.answers import number
from nightmode.sky.typed_time import read_time
from nightmode.visibility.sky import mag_of_naked_eye_limit

#: Key, time, note. The time may be close to the key, and written with a point, an h or nothing in it; a comma
#: may stand behind it.
_LINE = re.compile(
    r"([ysxn])(?:\s*(\d{1,2}[:.h]?\d{2})(?:[,;](?=\s)|(?=\s|$)))?(?:\s+(.+))?", re.IGNORECASE | re.ASCII
)
#: What begins like a time and is none, as 1:00pm: it must not slip into the note.
_NEARLY_A_TIME = re.compile(r"\d{1,2}[:h]\d{2}\S*", re.IGNORECASE | re.ASCII)
HOW_TIMES = "write it like 19:40"
_OUTCOMES = {"y": Outcome.SEEN, "s": Outcome.SUSPECTED, "x": Outcome.NOT_SEEN}
#: Seeing on the scale of Antoniadi, as a figure or as the numeral.
_SEEING = {str(figure): numeral for figure, numeral in enumerate(("I", "II", "III", "IV", "V"), start=1)}


class Pencilled(Record):
    """What stands beside a target.

    outcome  None for what is only a note
    time     as it is written; None for that of the line before
    """

    outcome: Outcome | None
    time: str | None
    note: str


def read_line(text: str) -> Pencilled:
    """Return a line for a target. NightmodeError if it does not begin as one does, or its time is none."""
    match = _LINE.fullmatch(text)
    if not match:
        instead = "write it like y 19:40 small, round"
        raise NightmodeError(repr(text), "does not begin with y, s, x or n", instead)
    key, time, note = match.groups()
    if time is None and (nearly := _NEARLY_A_TIME.match(note or "")):
        raise NightmodeError("time", f"{nearly[0]!r} is not a time of this night", HOW_TIMES)
    return Pencilled(_OUTCOMES.get(key.lower()), time, note or "")


def read_pencilled_time(text: str, night: Night, now_s: float) -> float:
    """Return an instant of a night in Unix seconds. NightmodeError if it is none, or is after now_s."""
    figures = re.sub("[:.h]", "", text, flags=re.IGNORECASE)
    colon = f"{figures[:-2]}:{figures[-2:]}" if figures.isdecimal() else text
    try:
        at_s = read_time(colon, night.site, night.date, "time")
    except NightmodeError:
        at_s = None
    if at_s is None or not night.time_s[0] <= at_s <= night.time_s[-1]:
        raise NightmodeError("time", f"{text!r} is not a time of this night", HOW_TIMES)
    if at_s > now_s:
        what = f"{text} on this night is still to come"
        raise NightmodeError("time", what, "name the night with --night")
    return at_s


def read_seeing(text: str) -> str:
    """Return the numeral of a seeing, given as I to V or 1 to 5. NightmodeError if it is neither."""
    seeing = _SEEING.get(text, text.upper())
    if seeing not in _SEEING.values():
        raise NightmodeError("seeing", f"{text!r} is not on its scale", "write I to V, or 1 to 5")
    return seeing


def read_sky(text: str) -> float:
    """Return the zenith in mag/arcsec2, from a meter's reading or from the faintest star ("5.5mag")."""
    if text.lower().endswith("mag"):
        return round(float(mag_of_naked_eye_limit(number(text, "sky", "mag"))), 2)
    return number(text, "sky")
