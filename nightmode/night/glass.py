"""The figures of telescope or binoculars, eyepiece and eye for the visibility model: made here only."""

from nightmode.eyepiece import Combination
from nightmode.model.kit import Binoculars, Instrument
from nightmode.model.observer import Person

#: Binoculars held in the hand tremble, so that the eye needs this many times the light: a tripod gains a
#: third of a magnitude and more (common practice, no published source).
TREMBLE = 1.2

#: The least apparent separation at which the eye sees two stars; twice that is comfortable. In the hand,
#: where they shake, it is more (common practice, no published source).
LEAST_APPARENT_ARCSEC, LEAST_STEADY_ARCSEC, LEAST_IN_HAND_ARCSEC = 120.0, 180.0, 270.0


def is_in_hand(instrument: Instrument) -> bool:
    """Return whether an instrument is binoculars held in the hand."""
    return isinstance(instrument, Binoculars) and not instrument.mounted


def least_apparent_arcsec(instrument: Instrument) -> float:
    """Return the least apparent separation, in arcsec, at which two stars are seen as two."""
    if isinstance(instrument, Binoculars):
        return LEAST_IN_HAND_ARCSEC if is_in_hand(instrument) else LEAST_STEADY_ARCSEC
    return LEAST_APPARENT_ARCSEC


def star_glass(instrument: Instrument, person: Person, power: float) -> dict[str, float]:
    """Return the figures that decide how faint a star shows (`visibility.eye.star_limit_mag`)."""
    return {
        "aperture_mm": instrument.aperture_mm,
        "obstruction_mm": instrument.obstruction_mm,
        "transmission": instrument.transmission,
        "magnification": power,
        "pupil_mm": person.pupil_mm,
        "field_factor": person.experience * (TREMBLE if is_in_hand(instrument) else 1.0),
        "eyes": float(instrument.eyes) if isinstance(instrument, Binoculars) else 1.0,
    }


def glass(instrument: Instrument, person: Person, combination: Combination) -> dict[str, float]:
    """Return the figures that decide how a glow shows (`visibility.verdict.margin`)."""
    return star_glass(instrument, person, combination.power) | {"true_field_deg": combination.true_field_deg}
