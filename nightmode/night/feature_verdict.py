"""Verdicts on features of the Moon: by light, libration, aperture and altitude."""

import math

from nightmode.eyepiece import Combination
from nightmode.model.target import Illumination, LunarFeature
from nightmode.night.cell import Cell
from nightmode.night.features import (
    NEARLY_DEG,
    feature_clearance_deg,
    is_turned_away,
    peaks_catch_sun_deg,
    spread_deg,
)
from nightmode.night.glass import larger_mm
from nightmode.night.rest_of_night import low
from nightmode.visibility import points, relief
from nightmode.visibility.reasons import (
    BetterAt,
    FeatureNeeds,
    GoodLight,
    LitButLow,
    TurnedAway,
    Verdict,
    WrongLight,
)
from nightmode.visibility.relief import FeatureTonight
from nightmode.words import Cause, Word

#: From how many times the least aperture on a feature is easy, fair, hard: as for double stars.
_WORDS: tuple[tuple[float, Word], ...] = ((2.0, Word.EASY), (1.3, Word.FAIR), (1.0, Word.HARD))
#: How many times the least aperture would make a word the next better one.
_FOR_BETTER = dict(zip((Word.FAIR, Word.HARD, Word.OUT), (times for times, _ in _WORDS), strict=True))

#: What is so wide, in km, shows at a glance: at a third of the height at which planets show well, and without
#: shadows as long as the Sun is no higher over it than this (common practice, no published source).
LARGE_KM, LARGE_TO_SUN_DEG, LARGE_LOWER = 50.0, 45.0, 3.0

#: Exit pupil in mm up to which the eye, which resolves about 1 arcmin, sees all that the aperture resolves.
#: With a wider one, some of it is too small to be seen.
MM_SHOWN_BY_POWER = 2.0


def feature_verdict(
    cell: Cell, feature: LunarFeature, tonight: FeatureTonight, combination: Combination | None
) -> Verdict:
    """Return the verdict on a feature of the Moon whose place is known, at one minute.

    combination is what is looked through, None for any; where its power is low, not all of the aperture
    counts.
    """
    if (wrong := wrong_light(cell)) is not None:
        return wrong
    sun_deg = float(tonight.sun_deg[cell.column])
    by_height = _by_height(feature, cell.altitude_deg)
    needed_mm = least_aperture_mm(feature, tonight, cell.column)
    aperture_mm = cell.telescope.aperture_mm
    shown_mm = aperture_mm if combination is None else MM_SHOWN_BY_POWER * combination.power
    is_short_of_power, aperture_mm = shown_mm < aperture_mm, min(shown_mm, aperture_mm)
    by_aperture = next((word for times, word in _WORDS if aperture_mm >= times * needed_mm), Word.OUT)
    if by_aperture.rank > max(by_height.rank, Word.EASY.rank):
        better_mm = _FOR_BETTER[by_aperture] * needed_mm
        if is_short_of_power:
            return Verdict(by_aperture, None, Cause.POWER, BetterAt(math.ceil(better_mm / MM_SHOWN_BY_POWER)))
        return Verdict(by_aperture, None, Cause.APERTURE, FeatureNeeds(larger_mm(better_mm, aperture_mm)))
    if by_height is not Word.EASY:
        return Verdict(by_height, None, Cause.LOW, LitButLow(sun_deg, low(cell)))
    easy = _easy(feature, tonight, cell.column)
    if easy.high and Illumination.LOW in feature.light:  # its rays can be seen, its walls cannot
        return Verdict(_without_shadows(feature, sun_deg), None, Cause.NO_SHADOWS, easy)
    return Verdict(Word.EASY, None, Cause.NONE, easy)


def wrong_light(cell: Cell) -> Verdict | None:
    """Return the verdict on a feature that is unlit, in the wrong light or turned away; None otherwise."""
    target, column = cell.target, cell.column
    feature, tonight = target.subject, target.feature
    if tonight is None or not isinstance(feature, LunarFeature):
        return None
    if is_turned_away(feature, float(tonight.seen_deg[column])):
        return Verdict(Word.OUT, None, Cause.TURNED_AWAY, TurnedAway(tonight.next_night_s))
    if feature_clearance_deg(feature, tonight)[column] > -NEARLY_DEG:
        return None
    sun_deg = float(tonight.sun_deg[column])
    coming = target.chance.stretch(cell.at_s)
    is_too_low = feature.light == (Illumination.HIGH,) and sun_deg < relief.LIGHT_DEG["high"][0]
    reason = WrongLight(sun_deg, coming.start_s if coming else None, tonight.next_night_s, is_too_low)
    if sun_deg + spread_deg(feature) <= peaks_catch_sun_deg(feature):
        return Verdict(Word.OUT, None, Cause.NO_SUN_ON_IT, reason)
    # Lit, but by a Sun too high or too low for it: it is visible, but shows little.
    return Verdict(_without_shadows(feature, sun_deg), None, Cause.NO_SHADOWS, reason)


def _by_height(feature: LunarFeature, altitude_deg: float) -> Word:
    counted_deg = altitude_deg * LARGE_LOWER if _is_large(feature) else altitude_deg
    return Word(points.altitude_word(counted_deg).item())


def _without_shadows(feature: LunarFeature, sun_deg: float) -> Word:
    if sun_deg <= 0.0:
        return Word.HARD
    return Word.EASY if _is_large(feature) and sun_deg <= LARGE_TO_SUN_DEG else Word.FAIR


def _is_large(feature: LunarFeature) -> bool:
    is_line = feature.width_km is not None  # a scarp, a rille: long, but narrow
    return not is_line and feature.diameter_km is not None and feature.diameter_km >= LARGE_KM


def least_aperture_mm(feature: LunarFeature, tonight: FeatureTonight, column: int) -> float:
    """Return the least aperture in mm that shows the feature, 0 where neither width nor size is known."""
    if _is_high(feature, float(tonight.sun_deg[column])):
        return 0.0  # a bright patch is larger than the crater in it
    squeezed = relief.squeeze(tonight.seen_deg[column] + spread_deg(feature))
    if feature.width_km is not None:
        return float(relief.aperture_for_line_mm(feature.width_km, squeezed))
    if feature.diameter_km is None:
        return 0.0
    return float(relief.aperture_for_detail_mm(feature.diameter_km, squeezed))


def detail_aperture_mm(feature: LunarFeature, tonight: FeatureTonight, column: int) -> float | None:
    """Return the least aperture in mm that shows the detail named for a feature, None if none is named."""
    if feature.detail_km is None:
        return None
    squeezed = relief.squeeze(tonight.seen_deg[column])
    needs = relief.aperture_for_line_mm if feature.detail_is_line else relief.aperture_for_detail_mm
    return float(needs(feature.detail_km, squeezed))


def _is_high(feature: LunarFeature, sun_deg: float) -> bool:
    """Return whether this is a feature for a high Sun, and the Sun is high over it."""
    lowest, _ = relief.LIGHT_DEG["high"]
    return Illumination.HIGH in feature.light and sun_deg >= lowest


def _easy(feature: LunarFeature, tonight: FeatureTonight, column: int) -> GoodLight:
    sun_deg = float(tonight.sun_deg[column])
    is_high = _is_high(feature, sun_deg)
    peaks_only = sun_deg <= 0.0 and feature.rise_km is not None
    shows_detail = not is_high or Illumination.LOW not in feature.light
    detail_mm = detail_aperture_mm(feature, tonight, column) if shows_detail else None
    if detail_mm is None or peaks_only:
        return GoodLight(sun_deg, is_high, peaks_only)
    return GoodLight(sun_deg, is_high, peaks_only, feature.detail, detail_mm)
