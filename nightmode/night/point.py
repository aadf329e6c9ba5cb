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
from nightmode.night.conditions import conditions_at
from nightmode.night.feature_verdict import feature_verdict
from nightmode.night.glass import apparent_steps_arcsec, at_ease_arcsec, glass_at, larger_mm
from nightmode.night.planet_verdict import planet_verdict
from nightmode.night.rest_of_night import low
from nightmode.night.table import Night, Placed
from nightmode.visibility import points
from nightmode.visibility.eye import star_limit_mag
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
from nightmode.visibility.verdict import next_word_dex, word, word_of
from nightmode.words import Cause, Word

#: From this difference in magnitudes on, the glare of the brighter star is named as the cause.
NAMED_GLARE_MAG = 1.5
#: The Moon as a whole is plain to see from this altitude on; what low air takes from it is detail, which its
#: features are judged by (common practice, no published source).
MOON_CLEAR_DEG = 10.0


def point_verdict(
    night: Night, row: int, column: int, combination: Combination | None, zenith_mag: float
) -> Verdict:
    """Return the verdict on a target that is not a glow, at one minute; combination None for no eyepiece."""
    subject = night.targets[row].subject
    if isinstance(subject, Body):
        return _body(night, row, column, combination)
    if subject.kind is Kind.DARK_NEBULA:
        return Verdict(Word.UNKNOWN, None, Cause.NO_BRIGHTNESS, NoLight())
    if combination is None:
        return _missing(Cause.NO_EYEPIECE)
    assert isinstance(subject, Fixed)
    star = _star(night, row, column, subject, combination, zenith_mag)
    if not isinstance(subject, Double):
        return star
    margins = pair_margins_of(
        night, row, subject, float(night.altitude_deg[row, column]), combination.power, star.margin_dex
    )
    return star if margins.is_faint else _pair(night, row, column, subject, combination, margins)


def _missing(what: Cause) -> Verdict:
    return Verdict(Word.UNKNOWN, None, what, Missing(what))


def _body(night: Night, row: int, column: int, combination: Combination | None) -> Verdict:
    target = night.targets[row]
    if target.planet is not None:
        return planet_verdict(night, row, column, target.planet, combination)
    if isinstance(target.subject, LunarFeature) and target.feature is not None:
        return feature_verdict(night, row, column, target.subject, target.feature, combination)
    altitude_deg = float(night.altitude_deg[row, column])
    if altitude_deg >= MOON_CLEAR_DEG:
        return Verdict(Word.EASY, None, Cause.NONE, High(altitude_deg))
    told = Word(points.altitude_word(altitude_deg).item())
    return Verdict(told, None, Cause.LOW, low(night, row, column))


def _star(
    night: Night, row: int, column: int, subject: Fixed, combination: Combination, zenith_mag: float
) -> Verdict:
    """Return the verdict by brightness: of a star, or of the fainter star of a double."""
    magnitude = star_magnitude(night.targets[row], float(night.time_s[column]))
    if magnitude is None:
        return _missing(Cause.NO_BRIGHTNESS)
    conditions = conditions_at(night, np.array(row), np.array(column), zenith_mag)
    sky_mag, loss_mag = conditions.sky_mag(), conditions.loss_mag()
    dex = float(star_margin_of(night, row, magnitude, sky_mag, loss_mag, combination.power))
    told, aperture_mm = Word(word(dex).item()), night.targets[row].kit.telescope.aperture_mm
    if told is Word.EASY:
        return Verdict(told, dex, Cause.NONE, WithinReach(aperture_mm))
    # At the same exit pupil a star gains as the square of the aperture.
    enough_mm = aperture_mm * 10.0 ** ((float(next_word_dex(dex)) - dex) / 2.0)
    companion_mag = subject.companion_magnitude if isinstance(subject, Double) else None
    return Verdict(
        told, dex, Cause.APERTURE, ApertureNeeded(larger_mm(enough_mm, aperture_mm), companion_mag)
    )


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


def star_margin_of(
    night: Night, row: int, magnitude: ArrayLike, sky_mag: ArrayLike, loss_mag: ArrayLike, power: float
) -> np.ndarray:
    """Return the margin in dex of a star's light at a power, for skies and losses in the air."""
    limit = star_limit_mag(sky_mag, glass_at(night.targets[row].kit.telescope, night.person, power))
    return points.star_margin_dex(magnitude, loss_mag, limit)


def _pair(
    night: Night, row: int, column: int, subject: Double, combination: Combination, margins: PairMargins
) -> Verdict:
    """Return the verdict by separation, against the widest limit of aperture, air and power."""
    altitude_deg = float(night.altitude_deg[row, column])
    separation = subject.separation_arcsec
    if separation is None:
        return _missing(Cause.NO_SEPARATION)
    telescope = night.targets[row].kit.telescope
    aperture_mm = telescope.aperture_mm
    by_stars, dex = float(margins.steady_dex), float(margins.split_dex)
    told = Word(split_word(dex).item())
    if told is Word.EASY:
        limit = float(optics.dawes_limit_arcsec(aperture_mm))
        return Verdict(told, dex, Cause.NONE, Split(separation, limit))
    at_any_power = Word(split_word(min(by_stars, EASY_SPLIT_DEX)).item())
    if at_any_power.rank < told.rank:
        needed = float(optics.power_to_show(separation, _apparent_arcmin(telescope, at_any_power)))
        return Verdict(told, dex, Cause.POWER, MorePower(separation, combination.power, needed, at_any_power))
    resolved = float(optics.unequal_limit_arcsec(aperture_mm, subject.difference_mag))
    air = {"seeing_arcsec": night.person.seeing_arcsec, "altitude_deg": altitude_deg}
    cause = Cause(split_cause(resolved, **air).item())
    return Verdict(told, dex, cause, _why(night, row, column, subject, margins, cause))


def _apparent_arcmin(telescope: Instrument, word: Word) -> float:
    """Return the apparent separation that a word asks for."""
    hard, fair, _ = apparent_steps_arcsec(telescope).tolist()
    return {Word.HARD: hard, Word.FAIR: fair, Word.EASY: at_ease_arcsec(telescope)}[word] / 60.0


def pair_margins_of(
    night: Night,
    row: int,
    subject: Double,
    altitude_deg: ArrayLike,
    power: float,
    star_dex: ArrayLike | None,
) -> PairMargins:
    """Return the margins of a double at altitudes, in its telescope at a power and in the night's air."""
    telescope = night.targets[row].kit.telescope
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


def _why(night: Night, row: int, column: int, subject: Double, margins: PairMargins, cause: Cause) -> Reason:
    separation_arcsec, difference_mag = subject.separation_arcsec or 0.0, subject.difference_mag
    if cause is Cause.SEEING:
        blur = points.seeing_at_arcsec(night.person.seeing_arcsec, float(night.altitude_deg[row, column]))
        return Blurred(separation_arcsec, float(blur), float(points.STILL_SHARE * blur))
    if cause is Cause.LOW:
        return low(night, row, column)
    limit_arcsec = float(optics.dawes_limit_arcsec(night.targets[row].kit.telescope.aperture_mm))
    if difference_mag >= NAMED_GLARE_MAG and separation_arcsec >= limit_arcsec:
        brighter_dex = float(margins.star_dex) + 0.4 * difference_mag
        return Glare(separation_arcsec, difference_mag, is_star_easy=word_of(brighter_dex) is Word.EASY)
    return Split(separation_arcsec, limit_arcsec)
