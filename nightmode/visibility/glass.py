"""What is between a target and the mind of the observer: telescope, eyepiece, filter and the eye itself."""

from collections.abc import Sequence

import numpy as np

from nightmode import defaults
from nightmode.arrays import Figures, Indices
from nightmode.records import NamedRecord, field_names, replace

#: The true field where nothing bounds it, in degrees: as much as there is to see of the sky at once.
WITHOUT_END_DEG = 180.0


class Glass(NamedRecord, eq=False):
    """A telescope, an eyepiece in it, a filter and an eye: numbers, or arrays that broadcast.

    true_field_deg     how much of the sky it shows; for single stars it does not count
    obstruction_mm     the width of the secondary mirror; 0 where there is none
    transmission       the part of the light that comes through, 0 to 1, a filter left aside
    pupil_mm           the width of the eye's pupil in the dark
    field_factor       how many times the light is needed that a young eye in a laboratory needs
    eyes               1 or 2
    sky_filter_mag, object_filter_mag   what the filter takes off the sky and off the object (`filters`)
    """

    aperture_mm: Figures
    magnification: Figures
    true_field_deg: Figures = WITHOUT_END_DEG
    obstruction_mm: Figures = 0.0
    transmission: Figures = defaults.TRANSMISSION
    pupil_mm: Figures = defaults.PUPIL_MM
    field_factor: Figures = defaults.FIELD_FACTOR
    eyes: Figures = 1.0
    sky_filter_mag: Figures = 0.0
    object_filter_mag: Figures = 0.0

    def some(self, which: Indices) -> "Glass":
        """Return those at some places, of figures that are arrays (N,)."""
        return Glass(**{name: np.asarray(getattr(self, name))[which] for name in field_names(Glass)})

    def times(self, factor: Figures) -> "Glass":
        """Return the same in another size: same exit pupil, same share of obstruction, same field."""
        names = "aperture_mm", "magnification", "obstruction_mm"
        return replace(self, **{name: np.asarray(getattr(self, name), float) * factor for name in names})


def together(each: Sequence[Glass]) -> Glass:
    """Return N of them as one, each of its figures an array (N,)."""
    return Glass(**{name: np.array([getattr(one, name) for one in each]) for name in field_names(Glass)})
