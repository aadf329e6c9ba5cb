"""The figures of telescope or binoculars, eyepiece and eye for the visibility model: made here only."""

import numpy as np

from nightmode.arrays import Array, Figures
from nightmode.eyepiece import Combination
from nightmode.model.kit import Binoculars, Instrument
from nightmode.model.observer import Person
from nightmode.records import replace
from nightmode.visibility.glass import Glass

#: Binoculars held in the hand tremble, so that the eye needs this many times the light: a tripod gains a
#: third of a magnitude and more (common practice, no published source).
TREMBLE = 1.2

#: The apparent separations, in arcsec, from which on two stars are seen as two: hardly, fairly, easily. In
#: binoculars it takes more; some see two at once in the hand, but to be at ease where they shake takes the
#: most (common practice, no published source; of the hand fitted to what observers tell).
APPARENT_ARCSEC = np.array([120.0, 144.0, 216.0])
STEADY_ARCSEC, IN_HAND_ARCSEC = np.array([135.0, 216.0, 324.0]), np.array([135.0, 300.0, 520.0])

#: Only a telescope of so many times the aperture in use is named as larger: 115 mm are no step from 114 (our
#: own rule).
CLEARLY_LARGER = 1.1


def is_in_hand(instrument: Instrument) -> bool:
    """Return whether an instrument is binoculars held in the hand."""
    return isinstance(instrument, Binoculars) and not instrument.mounted


def apparent_steps_arcsec(instrument: Instrument) -> Array:
    """Return the apparent separations, (3,), from which on two stars are hardly, fairly, easily two."""
    if isinstance(instrument, Binoculars):
        return IN_HAND_ARCSEC if is_in_hand(instrument) else STEADY_ARCSEC
    return APPARENT_ARCSEC


def at_ease_arcsec(instrument: Instrument) -> float:
    """Return the apparent separation that is asked for where two stars are to be easily two.

    At least twice that from which on they are two at all (common practice), even where less would do.
    """
    hardly, _, easily = apparent_steps_arcsec(instrument).tolist()
    return max(easily, 2.0 * hardly)


def glass_at(instrument: Instrument, person: Person, power: Figures) -> Glass:
    """Return an instrument at a power, in front of a person's eye; its field has no end, as for a star."""
    return Glass(
        aperture_mm=instrument.aperture_mm,
        obstruction_mm=instrument.obstruction_mm,
        transmission=instrument.transmission,
        magnification=power,
        pupil_mm=person.pupil_mm,
        field_factor=person.experience * (TREMBLE if is_in_hand(instrument) else 1.0),
        eyes=float(instrument.eyes) if isinstance(instrument, Binoculars) else 1.0,
    )


def glass_with(instrument: Instrument, person: Person, combination: Combination) -> Glass:
    """Return an instrument with an eyepiece in it, in front of a person's eye, without a filter."""
    at_its_power = glass_at(instrument, person, combination.power)
    return replace(at_its_power, true_field_deg=combination.true_field_deg)


def larger_mm(needed_mm: float, own_mm: float) -> float:
    """Return the aperture to name where needed_mm would do and own_mm does not: a clear step larger."""
    return max(needed_mm, CLEARLY_LARGER * own_mm)
