"""Makes the light to be judged from catalogue values."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from nightmode.catalog.columns import Columns, columns_of
from nightmode.catalog.magnitudes import blue_excess_mag
from nightmode.model.target import Subject
from nightmode.visibility.photometry import opacity_mag
from nightmode.visibility.profile import Light, light_of


def lights_of(subjects: Sequence[Subject]) -> Light:
    """Return the light of N subjects; V worked out where only a blue magnitude is published."""
    return light_in(columns_of(subjects), np.arange(len(subjects)))


def light_in(columns: Columns, rows: NDArray[np.intp]) -> Light:
    """Return the light of rows of the catalogue, in their order."""
    kinds, types = [columns.kind[row] for row in rows], [columns.hubble_type[row] for row in rows]
    excess = [blue_excess_mag(kind, of_type) for kind, of_type in zip(kinds, types, strict=True)]
    return light_of(
        [kind.value for kind in kinds],
        columns.magnitude[rows] - np.where(columns.is_blue[rows], excess, 0.0),
        columns.size_arcmin[rows],
        columns.size_minor_arcmin[rows],
        types,
        half_light_arcmin=columns.half_light_arcmin[rows],
        tenth_star_mag=columns.tenth_star_magnitude[rows],
        surface_brightness_mag=columns.surface_brightness_mag[rows] + opacity_mag(columns.opacity[rows]),
        told_dex=columns.told_dex[rows],
    )
