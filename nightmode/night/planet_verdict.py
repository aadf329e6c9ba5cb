"""Verdicts on planets: by altitude, and by whether aperture and power show a disc, or Saturn's ring."""

from nightmode import optics
from nightmode.eyepiece import Combination
from nightmode.night.cell import Cell
from nightmode.night.rest_of_night import low
from nightmode.sky.globes import PlanetTonight
from nightmode.visibility import points
from nightmode.visibility.reasons import (
    DiscInAir,
    DiscInAperture,
    DiscNeeds,
    DiscShows,
    PlainDiscNeeds,
    PointOnly,
    RingNeeds,
    Verdict,
)
from nightmode.words import Cause, Word

#: From how many times the Dawes limit on, or the blur left in still moments where that is wider, a disc
#: is easily, fairly or hardly told from a star (our own rule).
_STEPS = ((3.0, Word.EASY), (1.6, Word.FAIR), (1.0, Word.HARD))
#: Apparent sizes, in arcmin, from which on a disc is one at a glance, and a ring looks apart from its planet
#: (common practice, no published source: 25x shows a ring of 43 arcsec).
PLAIN_DISC_ARCMIN, RING_ARCMIN = 7.0, 18.0
#: From this share on of the power needed, none is missed (our own rule).
_NEARLY = 0.95
#: Below this share of the power that shows a disc or a ring, no patience shows it (common practice, no
#: published source).
HOPELESS = 0.5


def planet_verdict(cell: Cell, tonight: PlanetTonight, combination: Combination | None) -> Verdict:
    """Return the verdict on a planet at one minute, with one combination, or with None for any."""
    diameter = tonight.at(tonight.diameter_arcsec, cell.at_s)
    told = Word(points.altitude_word(cell.altitude_deg).item())
    blur = float(points.seeing_at_arcsec(cell.night.person.seeing_arcsec, cell.altitude_deg))
    by_disc = _by_disc(diameter, cell.telescope.aperture_mm, blur)
    if combination and (short := _short_of_power(tonight, cell.at_s, diameter, combination.power)):
        by_disc = max(by_disc, short, key=lambda verdict: verdict.word.rank)
    if by_disc.word.rank > told.rank:
        return by_disc
    if told is not Word.EASY:
        return Verdict(told, None, Cause.LOW, low(cell))
    return Verdict(told, None, Cause.NONE, DiscShows(diameter, cell.altitude_deg))


def is_lost_by_power(tonight: PlanetTonight, at_s: float, power: float) -> bool:
    """Return whether a power is so low that no patience shows a planet's disc, or Saturn's ring."""
    short = _short_of_power(tonight, at_s, tonight.at(tonight.diameter_arcsec, at_s), power)
    return short is not None and short.word is Word.OUT


def _by_disc(diameter_arcsec: float, aperture_mm: float, blur_arcsec: float) -> Verdict:
    limit, still = float(optics.dawes_limit_arcsec(aperture_mm)), points.STILL_SHARE * blur_arcsec
    if diameter_arcsec < limit:
        return Verdict(Word.HARD, None, Cause.APERTURE, PointOnly(diameter_arcsec))
    ratio = diameter_arcsec / max(limit, still)
    word = next((word for times, word in _STEPS if ratio >= times), Word.HARD)
    if still > limit:
        return Verdict(word, None, Cause.SEEING, DiscInAir(diameter_arcsec, blur_arcsec))
    return Verdict(word, None, Cause.APERTURE, DiscInAperture(diameter_arcsec, limit))


def _short_of_power(
    tonight: PlanetTonight, at_s: float, diameter_arcsec: float, power: float
) -> Verdict | None:
    """Return the verdict if the power is too low to show a disc, or Saturn's ring; else None."""
    if tonight.planet == "saturn":
        needed = float(optics.power_to_show(tonight.at(tonight.ring_arcsec[0], at_s), RING_ARCMIN))
        if power < _NEARLY * needed:
            return Verdict(_word_short_of(needed, power), None, Cause.POWER, RingNeeds(power, needed))
    needed = float(optics.power_to_show(diameter_arcsec, points.DISC_ARCMIN))
    if power < _NEARLY * needed:
        return Verdict(_word_short_of(needed, power), None, Cause.POWER, DiscNeeds(power, needed))
    plain = float(optics.power_to_show(diameter_arcsec, PLAIN_DISC_ARCMIN))
    if power < _NEARLY * plain:
        return Verdict(Word.FAIR, None, Cause.POWER, PlainDiscNeeds(power, plain))
    return None


def _word_short_of(needed: float, power: float) -> Word:
    """Return the word for a disc or a ring that takes more power: none at all where it takes over twice."""
    return Word.HARD if power >= HOPELESS * needed else Word.OUT
