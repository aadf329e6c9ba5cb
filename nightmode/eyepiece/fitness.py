"""Whether a power suits the telescope, the eye and the air."""

from enum import StrEnum

from nightmode import optics
from nightmode.eyepiece import Limits
from nightmode.model.kit import Binoculars

#: A printed power that differs by less than this share from that of binoculars is taken to be the same.
SAME_POWER = 0.05


class Fitness(StrEnum):
    """How a power suits, as `--json` spells it."""

    GOOD = "good"
    TOO_MUCH = "too much"
    STILL_AIR = "still air only"
    TOO_LITTLE = "too little"


def fitness(power: float, aperture_mm: float, bounds: Limits) -> Fitness:
    """Return whether a power is good, more than the aperture or the usual air carries, or too low."""
    if power > optics.highest_useful_magnification(aperture_mm):
        return Fitness.TOO_MUCH
    if power > bounds.highest_power:
        return Fitness.STILL_AIR
    return Fitness.TOO_LITTLE if power < bounds.lowest_power else Fitness.GOOD


def has_power(binoculars: Binoculars, power: float) -> bool:
    """Return whether binoculars have a power: one of theirs, or one in the range of a zoom."""
    own = [setting for setting, _ in binoculars.settings]
    near = any(abs(power / setting - 1.0) < SAME_POWER for setting in own)
    return near or (binoculars.is_zoom and own[0] <= power <= own[-1])
