"""Makes the light to be judged from catalogue values."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from nightmode.catalog.columns import Columns, columns_of
from nightmode.catalog.magnitudes import blue_excess_mag
from nightmode.model.target import Subject
from nightmode.visibility.photometry import opacity_mag
from nightmode.visibility.profile import Light, Published, light_of


def lights_of(subjects: Sequence[Subject]) -> Light:
    """Return the light of N subjects; V worked out where only a blue magnitude is published."""
    return light_in(columns_of(subjects), np.arange(len(subjects)))


def light_in(columns: Columns, rows: NDArray[np.intp]) -> Light:
    """Return the light of rows of the catalogue, in their order."""
    kinds, types = [columns.kind[row] for row in rows], [columns.hubble_type[row] for row in rows]
    excess = [blue_excess_mag(kind, of_type) for kind, of_type in zip(kinds, types, strict=True)]
    published = Published(
        kind=[kind.value for kind in kinds],
        magnitude=columns.magnitude[rows] - np.where(columns.is_blue[rows], excess, 0.0),
        major_arcmin=columns.size_arcmin[rows],
        minor_arcmin=columns.size_minor_arcmin[rows],
        hubble_type=types,
        half_light_arcmin=columns.half_light_arcmin[rows],
        tenth_star_mag=columns.tenth_star_magnitude[rows],
        surface_brightness_mag=columns.surface_brightness_mag[rows] + opacity_mag(columns.opacity[rows]),
        told_dex=columns.told_dex[rows],
    )
    return light_of(published)
