"""The power that dim stars want: it darkens the sky behind them and leaves their own light as it is."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from nightmode.arrays import Array, Indices
from nightmode.eyepiece import Combination, Limits
from nightmode.eyepiece.choices import without_barlow

#: A star of magnitude 10 wants so much, one two magnitudes fainter 2.5 times as much, in a beam of this width
#: at least (common practice, no published source).
POWER_FOR_MAG_10, STAR_PUPIL_MM = 50.0, 1.5


def power_for_star(magnitude: ArrayLike, bounds: Limits) -> Array:
    """Return the power that shows stars well against the sky; NaN where the magnitude is NaN."""
    wanted = POWER_FOR_MAG_10 * 10.0 ** (0.2 * (np.asarray(magnitude, float) - 10.0))
    return np.minimum(wanted, bounds.aperture_mm / STAR_PUPIL_MM)


def for_stars(magnitude: ArrayLike, choices: Sequence[Combination], bounds: Limits) -> Indices:
    """Return for single stars the places among the sensible choices of the combinations that suit them.

    The highest plain one of no more power than the star wants, for a wide field shows which star it is; the
    lowest if all have more, or where the magnitude is NaN.
    """
    plain = without_barlow(choices)
    places = np.array([choices.index(choice) for choice in plain])
    wanted = np.nan_to_num(power_for_star(magnitude, bounds))
    enough = np.searchsorted([choice.power for choice in plain], wanted, side="right")
    return places[np.maximum(enough - 1, 0)]
