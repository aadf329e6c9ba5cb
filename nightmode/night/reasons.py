"""The reasons of verdicts on glows: what limits them, and what would change that."""

from math import inf

from nightmode.kinds import Kind
from nightmode.model.target import Subject, size_arcmin
from nightmode.night.cell import Cell
from nightmode.night.glass import larger_mm
from nightmode.night.remedies import Remedies
from nightmode.night.rest_of_night import WORTH_DEG, low, moon_down_later_s, twilight, usable_columns
from nightmode.records import Record
from nightmode.sky.moon import illuminated
from nightmode.sky.vectors import separation_deg
from nightmode.visibility.conditions import DARK_SITE_MAG
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


def reason(cell: Cell, needs: Needs) -> Reason:
    """Return what limits a target at a minute; if it is easy, what can be seen of it."""
    if needs.word is Word.UNKNOWN:
        return Missing(needs.cause)
    if needs.word is Word.EASY:
        return _what_shows(cell.target.subject, needs)
    match needs.cause:
        case Cause.MOON:
            return _moon(cell, needs.without_moon)
        case Cause.TWILIGHT:
            return twilight(cell)
        case Cause.LOW:
            return _low(cell)
        case Cause.FIELD:
            return Spills(needs.field_deg)
        case Cause.POWER:
            return _power(cell.target.subject, needs)
    return _sky_or_aperture(cell, needs)


def _what_shows(subject: Subject, needs: Needs) -> Reason:
    if (size_arcmin(subject) or 0.0) > needs.field_deg * 60.0:
        return Overflows()
    if subject.kind.is_star_field:
        return StarsShow(needs.stars_seen, is_figure=subject.kind is Kind.ASTERISM)
    return ExtentShows(needs.seen_fraction)


def _power(subject: Subject, needs: Needs) -> Reason:
    is_disc = subject.kind is Kind.PLANETARY_NEBULA
    plain = needs.power * needs.power_times * PLAIN_GLOW_ARCMIN / GLOW_DISC_ARCMIN
    return (DiscNeeds if is_disc else GlowNeeds)(needs.power, plain)


def _moon(cell: Cell, without: Word) -> Reason:
    moon, column = cell.night.moon, cell.column
    lit = illuminated(moon.phase_angle_deg[column])
    apart = separation_deg(
        cell.night.azimuth_deg[cell.row, column], cell.altitude_deg,
        moon.azimuth_deg[column], moon.altitude_deg[column],
    )  # fmt: skip
    return MoonNear(float(lit), float(apart), moon_down_later_s(cell), without)


def _low(cell: Cell) -> Reason:
    """Return how low a target is; with the Moon as what keeps it from being looked at when it is higher."""
    night, row, found = cell.night, cell.row, low(cell)
    columns = usable_columns(night, row)
    before = columns[columns < cell.column]
    higher = before[night.altitude_deg[row, before] >= found.altitude_deg + WORTH_DEG]
    if found.later is None and not cell.is_moon_up and (night.moon.altitude_deg[higher] > 0.0).any():
        return LowOnceMoonless(found.altitude_deg)
    return found


def _sky_or_aperture(cell: Cell, needs: Needs) -> Reason:
    """Return the filter, the darker sky or the larger aperture that would help, nearest at hand first."""
    helping, aperture_mm = needs.remedies, cell.telescope.aperture_mm
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
        return SkyAndApertureNeeded(DARK_SITE_MAG, dark_mm, cell.is_moon_up)
    if here_mm < inf:
        return ApertureNeeded(here_mm)
    return Faint(is_dark=cell.target.subject.kind is Kind.DARK_NEBULA)


def _worth_naming_mm(needed_mm: float | None, own_mm: float) -> float:
    """Return the aperture to name as the one that would do; infinite where none that somebody has would."""
    named_mm = inf if needed_mm is None else larger_mm(needed_mm, own_mm)
    return named_mm if named_mm <= LARGEST_MM else inf
