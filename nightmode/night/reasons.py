"""The one short line that says what limits a glow and what would change it."""

from dataclasses import dataclass

import numpy as np

from nightmode.model.kind import Kind
from nightmode.model.target import size_arcmin
from nightmode.night.rest_of_night import higher_later, moon_down_later
from nightmode.night.said import BETTER, EASY, UNKNOWN, clock, larger_mm, wanted
from nightmode.night.table import Night
from nightmode.sky.vantage import separation_deg

#: An aperture so many times the present one is no answer any more (our own).
WORTH_NAMING = 3.0
_IN_STARS = (Kind.OPEN_CLUSTER, Kind.ASTERISM)


@dataclass(frozen=True)
class Needs:
    """What the model says of one target: the word, the cause, and what would give the next better word."""

    word: str
    cause: str
    sky_mag: float
    moonless_sky_mag: float
    aperture_mm: float
    seen_fraction: float
    stars_seen: float
    field_deg: float


def reason(night: Night, row: int, column: int, needs: Needs) -> str:
    """Return one line of at most about 48 characters."""
    if needs.word == UNKNOWN:
        return needs.cause
    if needs.word == EASY:
        return _what_shows(night, row, needs)
    tell = {
        "Moon": _moon,
        "twilight": _twilight,
        "low altitude": _low,
        "size against field": _wide,
        "sky": _sky,
    }.get(needs.cause, _aperture)
    return tell(night, row, column, needs)


def _what_shows(night: Night, row: int, needs: Needs) -> str:
    subject = night.targets[row].subject
    if (size_arcmin(subject) or 0.0) > needs.field_deg * 60.0:
        return "larger than the field: sweep across it"
    if subject.kind in _IN_STARS:
        return f"well above the sky; {_stars(needs.stars_seen)}"
    if needs.seen_fraction >= 0.95:
        return "well above the sky; all of its extent"
    return f"well above the sky; {max(5, round(needs.seen_fraction * 20) * 5)} % of its extent"


def _stars(count: float) -> str:
    if count >= 100:
        return "a hundred stars and more"
    if count < 10:
        return "its brightest stars show" if count >= 1 else "a glow without stars"
    return f"about {round(count / 10) * 10} stars"


def _moon(night: Night, row: int, column: int, needs: Needs) -> str:
    moon = night.moon
    lit = (1.0 + np.cos(np.radians(moon.phase_angle_deg[column]))) / 2.0
    apart = separation_deg(
        night.azimuth_deg[row, column], night.altitude_deg[row, column],
        moon.azimuth_deg[column], moon.altitude_deg[column],
    )  # fmt: skip
    down = moon_down_later(night, row, column)
    better = "without it" if down is None else f"after {clock(night, float(night.time_s[down]))}"
    return f"Moon {lit * 100:.0f} % lit, {apart:.0f}° away; better {better}"


def _twilight(night: Night, row: int, column: int, needs: Needs) -> str:
    dark, now_s = night.twilights.dark, float(night.time_s[column])
    if dark is None:
        return "twilight all night"
    if now_s < dark[0]:
        return f"twilight; dark from {clock(night, dark[0])}"
    return f"twilight; it was dark until {clock(night, dark[1])}"


def _low(night: Night, row: int, column: int, needs: Needs) -> str:
    later = higher_later(night, row, column)
    return f"only {night.altitude_deg[row, column]:.0f}° high; {later or 'no higher later'}"


def _wide(night: Night, row: int, column: int, needs: Needs) -> str:
    return f"spills over the field of {needs.field_deg:.1f}°"


def _sky(night: Night, row: int, column: int, needs: Needs) -> str:
    if not np.isnan(needs.sky_mag):
        return wanted(needs.word, f"a sky of {_darker(needs.sky_mag)}")
    if not np.isnan(needs.moonless_sky_mag):
        return wanted(needs.word, f"a sky of {_darker(needs.moonless_sky_mag)} without Moon")
    return _aperture(night, row, column, needs)


def _darker(sky_mag: float) -> str:
    return f"{np.ceil(sky_mag * 10 - 1e-6) / 10:.1f}"


def _aperture(night: Night, row: int, column: int, needs: Needs) -> str:
    if not needs.aperture_mm <= night.kit.telescope.aperture_mm * WORTH_NAMING:
        if needs.word in BETTER:
            return "a darker sky or more aperture would help"
        return "needs a far darker sky and more aperture"
    return wanted(needs.word, larger_mm(needs.aperture_mm))
