"""Verdicts where the sky's brightness does not count (doubles, planets, the Moon), and on single stars."""

import numpy as np
from numpy.typing import ArrayLike

from nightmode import optics
from nightmode.catalog.magnitudes import visual_magnitude
from nightmode.eyepiece import Combination
from nightmode.kinds import Kind
from nightmode.model.kit import Instrument
from nightmode.model.target import Body, Double, Fixed, LunarFeature
from nightmode.model.variable import Course
from nightmode.night.cell import Cell
from nightmode.night.conditions import conditions_at
from nightmode.night.feature_verdict import feature_verdict
from nightmode.night.glass import apparent_steps_arcsec, at_ease_arcsec, glass_at, larger_mm
from nightmode.night.planet_verdict import planet_verdict
from nightmode.night.rest_of_night import low, twilight
from nightmode.night.table import Night, Placed
from nightmode.records import replace
from nightmode.sky.dark import ASTRONOMICAL_DEG
from nightmode.visibility import points
from nightmode.visibility.conditions import Conditions
from nightmode.visibility.eye import star_limit_mag
from nightmode.visibility.glass import Glass
from nightmode.visibility.margin import next_word_dex, word, word_of
from nightmode.visibility.reasons import (
    ApertureNeeded,
    Blurred,
    Glare,
    High,
    Missing,
    MorePower,
    NoLight,
    Reason,
    Split,
    Verdict,
    WithinReach,
)
from nightmode.visibility.splitting import EASY_SPLIT_DEX, PairMargins, pair_margins, split_cause, split_word
from nightmode.words import Cause, Word

#: From this difference in magnitudes on, the glare of the brighter star is named as the cause.
NAMED_GLARE_MAG = 1.5
#: The Moon as a whole is plain to see from this altitude on; what low air takes from it is detail, which its
#: features are judged by (common practice, no published source).
MOON_CLEAR_DEG = 10.0


def point_verdict(cell: Cell, combination: Combination | None, zenith_mag: float) -> Verdict:
    """Return the verdict on a target that is not a glow, at one minute; combination None for no eyepiece."""
    subject = cell.target.subject
    if isinstance(subject, Body):
        return _body(cell, combination)
    if subject.kind is Kind.DARK_NEBULA:
        return Verdict(Word.UNKNOWN, None, Cause.NO_BRIGHTNESS, NoLight())
    if combination is None:
        return _missing(Cause.NO_EYEPIECE)
    star = _star(cell, combination, zenith_mag)
    if not isinstance(subject, Double):
        return star
    margins = pair_margins_of(cell.night, cell.row, cell.altitude_deg, combination.power, star.margin_dex)
    return star if margins.is_faint else _pair(cell, subject, combination.power, margins)


def _missing(what: Cause) -> Verdict:
    return Verdict(Word.UNKNOWN, None, what, Missing(what))


def _body(cell: Cell, combination: Combination | None) -> Verdict:
    target = cell.target
    if target.planet is not None:
        return planet_verdict(cell, target.planet, combination)
    if isinstance(target.subject, LunarFeature) and target.feature is not None:
        return feature_verdict(cell, target.subject, target.feature, combination)
    if cell.altitude_deg >= MOON_CLEAR_DEG:
        return Verdict(Word.EASY, None, Cause.NONE, High(cell.altitude_deg))
    told = Word(points.altitude_word(cell.altitude_deg).item())
    return Verdict(told, None, Cause.LOW, low(cell))


def _star(cell: Cell, combination: Combination, zenith_mag: float) -> Verdict:
    """Return the verdict by brightness: of a star, or of the fainter star of a double."""
    magnitude = star_magnitude(cell.target, cell.at_s)
    if magnitude is None:
        return _missing(Cause.NO_BRIGHTNESS)
    conditions = conditions_at(cell.night, np.array(cell.row), np.array(cell.column), zenith_mag)
    glass = glass_at(cell.telescope, cell.night.person, combination.power)
    dex = _star_dex(magnitude, conditions, glass)
    told, aperture_mm = Word(word(dex).item()), cell.telescope.aperture_mm
    if told is Word.EASY:
        return Verdict(told, dex, Cause.NONE, WithinReach(aperture_mm))
    match _light_cause(told, magnitude, conditions, glass):
        case Cause.TWILIGHT:
            return Verdict(told, dex, Cause.TWILIGHT, twilight(cell))
        case Cause.LOW:
            no_brighter_deg = max(ASTRONOMICAL_DEG, float(cell.night.sun_altitude_deg[cell.column]))
            return Verdict(told, dex, Cause.LOW, low(cell, no_brighter_deg))
    # At the same exit pupil a star gains as the square of the aperture.
    enough_mm = aperture_mm * 10.0 ** ((float(next_word_dex(dex)) - dex) / 2.0)
    subject = cell.target.subject
    companion_mag = subject.companion_magnitude if isinstance(subject, Double) else None
    return Verdict(
        told, dex, Cause.APERTURE, ApertureNeeded(larger_mm(enough_mm, aperture_mm), companion_mag)
    )


def _star_dex(magnitude: ArrayLike, conditions: Conditions, glass: Glass) -> float:
    limit_mag = star_limit_mag(conditions.sky_mag(), glass)
    return float(points.star_margin_dex(magnitude, conditions.loss_mag(), limit_mag))


def _light_cause(told: Word, magnitude: ArrayLike, conditions: Conditions, glass: Glass) -> Cause:
    """Return what keeps a star from a better word than the one told: twilight, low air, or the aperture.

    Of the first two the one without which it would be the brighter; from EASY_ALTITUDE_DEG on none is low.
    """
    without = {Cause.TWILIGHT: replace(conditions, sun_altitude_deg=-90.0)}
    if np.less(conditions.altitude_deg, points.EASY_ALTITUDE_DEG):
        without[Cause.LOW] = replace(conditions, altitude_deg=90.0)
    then_dex = {cause: _star_dex(magnitude, other, glass) for cause, other in without.items()}
    better = {cause: dex for cause, dex in then_dex.items() if word_of(dex).rank < told.rank}
    return max(better, key=lambda cause: better[cause], default=Cause.APERTURE)


def star_magnitude(target: Placed, at_s: ArrayLike) -> ArrayLike | None:
    """Return the V magnitude that decides whether a star is seen, at instants; None if unknown.

    For a variable it is the expected one, for a double that of the fainter star if it is known.
    """
    if isinstance(target.subject, Double) and target.subject.companion_magnitude is not None:
        return target.subject.companion_magnitude
    variable = target.variable
    if variable is not None and variable.star.course is not Course.LOOSE:
        return variable.magnitudes_at(at_s)
    return visual_magnitude(target.subject) if isinstance(target.subject, Fixed) else None


def _pair(cell: Cell, subject: Double, power: float, margins: PairMargins) -> Verdict:
    """Return the verdict by separation, against the widest limit of aperture, air and power."""
    separation = subject.separation_arcsec
    if separation is None:
        return _missing(Cause.NO_SEPARATION)
    aperture_mm = cell.telescope.aperture_mm
    by_stars, dex = float(margins.steady_dex), float(margins.split_dex)
    told = Word(split_word(dex).item())
    if told is Word.EASY:
        limit = float(optics.dawes_limit_arcsec(aperture_mm))
        return Verdict(told, dex, Cause.NONE, Split(separation, limit))
    at_any_power = Word(split_word(min(by_stars, EASY_SPLIT_DEX)).item())
    if at_any_power.rank < told.rank:
        needed = float(optics.power_to_show(separation, _apparent_arcmin(cell.telescope, at_any_power)))
        return Verdict(told, dex, Cause.POWER, MorePower(separation, power, needed, at_any_power))
    resolved = float(optics.unequal_limit_arcsec(aperture_mm, subject.difference_mag))
    air = {"seeing_arcsec": cell.night.person.seeing_arcsec, "altitude_deg": cell.altitude_deg}
    cause = Cause(split_cause(resolved, **air).item())
    return Verdict(told, dex, cause, _why(cell, subject, margins, cause))


def _apparent_arcmin(telescope: Instrument, word: Word) -> float:
    """Return the apparent separation that a word asks for."""
    hard, fair, _ = apparent_steps_arcsec(telescope).tolist()
    return {Word.HARD: hard, Word.FAIR: fair, Word.EASY: at_ease_arcsec(telescope)}[word] / 60.0


def pair_margins_of(
    night: Night, row: int, altitude_deg: ArrayLike, power: float, star_dex: ArrayLike | None
) -> PairMargins:
    """Return the margins of a double at altitudes, in its telescope at a power and in the night's air."""
    subject, telescope = night.targets[row].subject, night.targets[row].kit.telescope
    assert isinstance(subject, Double)
    return pair_margins(
        telescope.aperture_mm,
        subject.separation_arcsec,
        subject.difference_mag,
        altitude_deg=altitude_deg,
        seeing_arcsec=night.person.seeing_arcsec,
        power=power,
        apparent_steps_arcsec=apparent_steps_arcsec(telescope),
        star_dex=star_dex,
    )


def _why(cell: Cell, subject: Double, margins: PairMargins, cause: Cause) -> Reason:
    separation_arcsec, difference_mag = subject.separation_arcsec or 0.0, subject.difference_mag
    if cause is Cause.SEEING:
        blur = points.seeing_at_arcsec(cell.night.person.seeing_arcsec, cell.altitude_deg)
        return Blurred(separation_arcsec, float(blur), float(points.STILL_SHARE * blur))
    if cause is Cause.LOW:
        return low(cell)
    limit_arcsec = float(optics.dawes_limit_arcsec(cell.telescope.aperture_mm))
    if difference_mag >= NAMED_GLARE_MAG and separation_arcsec >= limit_arcsec:
        brighter_dex = float(margins.star_dex) + 0.4 * difference_mag
        return Glare(separation_arcsec, difference_mag, is_star_easy=word_of(brighter_dex) is Word.EASY)
    easy_arcsec = separation_arcsec * 10.0 ** (EASY_SPLIT_DEX - float(margins.steady_dex))
    return Split(separation_arcsec, limit_arcsec, easy_arcsec)
