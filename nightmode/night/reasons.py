"""The reasons of verdicts on glows: what limits them, and what would change that."""

from math import inf

import numpy as np

from nightmode.kinds import Kind
from nightmode.model.target import size_arcmin
from nightmode.night.glass import larger_mm
from nightmode.night.remedies import Remedies
from nightmode.night.rest_of_night import WORTH_DEG, low, moon_down_later, usable_after
from nightmode.night.table import Night
from nightmode.records import Record
from nightmode.sky.vectors import separation_deg
from nightmode.visibility.limits import DARK_SITE_MAG
from nightmode.visibility.points import GLOW_DISC_ARCMIN, PLAIN_GLOW_ARCMIN
from nightmode.visibility.reasons import (
    ApertureNeeded,
    DiscNeeds,
    ExtentShows,
    Faint,
    FilterNeeded,
    GlowNeeds,
    LowOnceMoonless,
    Missing,
    MoonNear,
    Overflows,
    Reason,
    SkyAndApertureNeeded,
    SkyNeeded,
    Spills,
    StarsShow,
    Twilight,
)
from nightmode.words import Cause, Word

#: No larger aperture is named: hardly anybody has one (our own rule).
LARGEST_MM = 900.0
#: A dark sky is named beside an aperture out of proportion if it takes so much off it (our own rule).
LESS_IN_THE_DARK = 0.75


class Needs(Record):
    """What the model says of one target: word, cause, what would help, and how it shows in the eyepiece."""

    word: Word
    cause: Cause
    remedies: Remedies
    seen_fraction: float
    stars_seen: float
    field_deg: float
    power: float
    power_times: float
    without_moon: Word


def reason(night: Night, row: int, column: int, needs: Needs) -> Reason:
    """Return what limits a target at a minute; if it is easy, what can be seen of it."""
    if needs.word is Word.UNKNOWN:
        return Missing(needs.cause)
    if needs.word is Word.EASY:
        return _what_shows(night, row, needs)
    match needs.cause:
        case Cause.MOON:
            return _moon(night, row, column, needs.without_moon)
        case Cause.TWILIGHT:
            return _twilight(night, column)
        case Cause.LOW:
            return _low(night, row, column)
        case Cause.FIELD:
            return Spills(needs.field_deg)
        case Cause.POWER:
            return _power(night, row, needs)
    return _sky_or_aperture(night, row, needs, is_moon_up=bool(night.moon.altitude_deg[column] > 0.0))


def _what_shows(night: Night, row: int, needs: Needs) -> Reason:
    subject = night.targets[row].subject
    if (size_arcmin(subject) or 0.0) > needs.field_deg * 60.0:
        return Overflows()
    if subject.kind.is_star_field:
        return StarsShow(needs.stars_seen)
    return ExtentShows(needs.seen_fraction)


def _power(night: Night, row: int, needs: Needs) -> Reason:
    is_disc = night.targets[row].subject.kind is Kind.PLANETARY_NEBULA
    plain = needs.power * needs.power_times * PLAIN_GLOW_ARCMIN / GLOW_DISC_ARCMIN
    return (DiscNeeds if is_disc else GlowNeeds)(needs.power, plain)


def _moon(night: Night, row: int, column: int, without: Word) -> Reason:
    moon = night.moon
    lit = (1.0 + np.cos(np.radians(moon.phase_angle_deg[column]))) / 2.0
    apart = separation_deg(
        night.azimuth_deg[row, column], night.altitude_deg[row, column],
        moon.azimuth_deg[column], moon.altitude_deg[column],
    )  # fmt: skip
    down = moon_down_later(night, row, column)
    return MoonNear(float(lit), float(apart), None if down is None else float(night.time_s[down]), without)


def _low(night: Night, row: int, column: int) -> Reason:
    """Return how low a target is; with the Moon as what keeps it from being looked at when it is higher."""
    found, before = low(night, row, column), usable_after(night, row, -1)
    before = before[(before < column) & (night.altitude_deg[row, before] >= found.altitude_deg + WORTH_DEG)]
    is_down = night.moon.altitude_deg[column] <= 0.0
    if found.later is None and is_down and (night.moon.altitude_deg[before] > 0.0).any():
        return LowOnceMoonless(found.altitude_deg)
    return found


def _twilight(night: Night, column: int) -> Reason:
    dark, now_s = night.twilights.dark_s, float(night.time_s[column])
    if dark is None or dark[0] <= now_s < dark[1]:  # the darkest part of a night without darkness
        return Twilight()
    return Twilight(dark_from_s=dark[0]) if now_s < dark[0] else Twilight(dark_until_s=dark[1])


def _sky_or_aperture(night: Night, row: int, needs: Needs, is_moon_up: bool) -> Reason:
    """Return the filter, the darker sky or the larger aperture that would help, nearest at hand first."""
    helping, aperture_mm = needs.remedies, night.targets[row].kit.telescope.aperture_mm
    if helping.filter is not None:
        return FilterNeeded(helping.filter)
    if helping.sky_mag is not None:
        return SkyNeeded(helping.sky_mag, without_moon=False)
    if helping.moonless_sky_mag is not None:
        return SkyNeeded(helping.moonless_sky_mag, without_moon=True)
    here_mm, dark_mm = (
        _worth_naming_mm(needed_mm, aperture_mm)
        for needed_mm in (helping.aperture_mm, helping.dark_aperture_mm)
    )
    if dark_mm < LESS_IN_THE_DARK * here_mm:
        return SkyAndApertureNeeded(DARK_SITE_MAG, dark_mm, is_moon_up)
    if here_mm < inf:
        return ApertureNeeded(here_mm)
    return Faint(is_dark=night.targets[row].subject.kind is Kind.DARK_NEBULA)


def _worth_naming_mm(needed_mm: float | None, own_mm: float) -> float:
    """Return the aperture to name as the one that would do; infinite where none that somebody has would."""
    named_mm = inf if needed_mm is None else larger_mm(needed_mm, own_mm)
    return named_mm if named_mm <= LARGEST_MM else inf
