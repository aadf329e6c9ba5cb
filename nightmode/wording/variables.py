"""The words for a variable star: type and range, what to expect, and how certain that is."""

import math
from collections.abc import Sequence
from zoneinfo import ZoneInfo

from nightmode.constants import DAY_S, HOUR_S
from nightmode.model.sight import Moment
from nightmode.model.variable import Course, Variability
from nightmode.sky.varying import VariableTonight
from nightmode.wording.figures import day, local, span_text, time_of_day

#: The classes of the General Catalogue of Variable Stars, by the beginning of their codes, in words.
_CLASSES = (
    (("EA", "EB", "EW", "E"), "eclipsing"),
    (("DCEP", "CEP", "CW"), "Cepheid"),
    (("RV",), "RV Tauri star"),
    (("RCB",), "R Coronae Borealis star"),
    (("RR",), "RR Lyrae star"),
    (("DSCT",), "Delta Scuti star"),
    (("SDOR",), "S Doradus star"),
    (("SR",), "semi-regular"),
    (("GCAS",), "Be star"),
    (("ZAND",), "symbiotic star"),
    (("UG",), "dwarf nova"),
    (("NR", "N"), "nova"),
    (("M",), "Mira star"),
    (("L",), "irregular"),
)
_UNFORESEEN = {"dwarf nova": "outbursts", "nova": "outbursts", "R Coronae Borealis star": "fadings"}
#: A date nearer than this is told without its year.
_WITHOUT_YEAR_S = 270 * DAY_S


def class_text(star: Variability) -> str:
    """Return the class in words with its code: "eclipsing, EA/SD"."""
    words = class_words(star)
    return f"{words}, {star.type}" if words else f"variable, {star.type}"


def class_words(star: Variability) -> str:
    """Return the class in words, empty for one without a name here: "eclipsing", "Mira star"."""
    return next((words for codes, words in _CLASSES if star.main_type.startswith(codes)), "")


def range_text(star: Variability) -> str:
    """Return the extremes ever seen: "2.1 to 3.4"."""
    return f"{star.brightest_mag:.1f} to {star.faintest_mag:.1f}"


def light_text(tonight: VariableTonight, now_s: float) -> str:
    """Return class, range, and what to expect: "Mira star, M, 2.0 to 10.1; about 8.9, fading"."""
    told = f"{class_text(tonight.star)}, {range_text(tonight.star)}"
    expected = expected_text(tonight, now_s)
    return f"{told}; {expected}" if expected else told


def expected_text(tonight: VariableTonight, now_s: float) -> str:
    """Return the magnitude to expect and whether it rises or fades, "" if not foreseen."""
    if not tonight.is_foreseen(now_s):
        return ""
    step_s = DAY_S if tonight.star.course is Course.LONG_PERIOD else 600.0
    before, now, after = (tonight.magnitude_at(now_s + sign * step_s) for sign in (-1.0, 0.0, 1.0))
    way = "" if abs(after - before) < 0.004 else (", fading" if after > before else ", rising")
    return f"about {now:.1f}{way}"


def instant_label(star: Variability) -> str:
    """Return the label of what comes next: "minimum" for eclipses, else "maximum", or any change."""
    if star.course is Course.LOOSE:
        return "change"
    return "minimum" if star.course is Course.ECLIPSES else "maximum"


def next_text(tonight: VariableTonight, now_s: float, zone: ZoneInfo) -> str:
    """Return `instant_text` with its label before it: "minimum 8 Dec 17:40 ± 40 min"."""
    told = instant_text(tonight, now_s, zone)
    return told if tonight.star.course is Course.LOOSE else f"{instant_label(tonight.star)} {told}"


def instant_text(tonight: VariableTonight, now_s: float, zone: ZoneInfo) -> str:
    """Return the time of the next minimum (eclipsing stars) or maximum (others), with its error."""
    star = tonight.star
    at_s = tonight.next_instant(now_s)
    if at_s is None:
        return f"{_UNFORESEEN.get(class_words(star), 'ups and downs')} cannot be foreseen"
    if not tonight.is_foreseen(at_s):
        return f"time not known any more: elements of {_year(star)}"
    error = how_sure(tonight.error_s(at_s))
    if star.course is Course.LONG_PERIOD:
        year = f" {local(at_s, zone):%Y}" if at_s - now_s > _WITHOUT_YEAR_S else ""
        return f"{day(at_s, zone)}{year} ± {error}"
    if at_s - now_s > _WITHOUT_YEAR_S:
        return f"{local(at_s, zone):%b %Y}"
    is_today = at_s - now_s < 18 * HOUR_S and local(at_s + 30.0, zone).date() == local(now_s, zone).date()
    when = time_of_day(at_s, zone) if is_today else _day_and_time(at_s, zone)
    return f"{when} ± {error}"


def coming_text(tonight: VariableTonight, moments: Sequence[Moment], now_s: float, zone: ZoneInfo) -> str:
    """Return a star's eclipses of the night, else its next minimum or maximum."""
    told = [f"faintest {eclipse_times(moment, zone)}" for moment in moments]
    return "; ".join(told) or next_text(tonight, now_s, zone)


def tonight_text(tonight: VariableTonight, moments: Sequence[Moment], now_s: float, zone: ZoneInfo) -> str:
    """Return how a star's light changes, and its next event, tonight or later."""
    return f"{light_text(tonight, now_s)}; {coming_text(tonight, moments, now_s, zone)}"


def how_sure(error_s: float) -> str:
    """Return an uncertainty rounded up: "40 min", "5 h", "6 days", "4 weeks"; none below ten minutes."""
    if error_s <= 90 * 60:
        return f"{max(10, math.ceil(error_s / 600 - 0.01) * 10)} min"
    if error_s <= 36 * HOUR_S:
        return f"{math.ceil(error_s / HOUR_S - 0.01)} h"
    days = math.ceil(error_s / DAY_S - 0.01)
    return f"{days} days" if days < 14 else f"{math.ceil(days / 7 - 0.01)} weeks"


def eclipse_name(moment: Moment) -> str:
    """Return what happens: "Algol at its faintest"."""
    return f"{moment.star} at its faintest"


def eclipse_line(moment: Moment, zone: ZoneInfo) -> str:
    """Return an eclipse with its time: "23:12 ± 40 min Algol at its faintest"."""
    return f"{time_of_day(_deepest_s(moment), zone)} ± {how_sure(moment.error_s)} {eclipse_name(moment)}"


def eclipse_times(moment: Moment, zone: ZoneInfo) -> str:
    """Return when an eclipse is deepest, and its begin and end: "23:12 ± 40 min; eclipse 18:20-04:04"."""
    told = deepest(moment, zone)
    if moment.ends_s <= moment.begins_s:
        return told
    return f"{told}; eclipse {span_text(moment.begins_s, moment.ends_s, zone)}"


def deepest(moment: Moment, zone: ZoneInfo) -> str:
    """Return when a star is faintest, and how sure that is: "23:12 ± 40 min", "14 Dec 02:10 ± 40 min".

    The date is told after midnight, for the night has that of its evening.
    """
    at_s = _deepest_s(moment)
    is_morning = local(at_s + 30.0, zone).hour < 12
    when = _day_and_time(at_s, zone) if is_morning else time_of_day(at_s, zone)
    return f"{when} ± {how_sure(moment.error_s)}"


def _deepest_s(moment: Moment) -> float:
    return moment.begins_s if moment.deepest_s is None else moment.deepest_s


def _day_and_time(at_s: float, zone: ZoneInfo) -> str:
    date = local(at_s + 30.0, zone)
    return f"{date.day} {date:%b %H:%M}"


def _year(star: Variability) -> int:
    return round(2000.0 + ((star.epoch_jd or 0.0) - 2451545.0) / 365.25 - 0.5)
