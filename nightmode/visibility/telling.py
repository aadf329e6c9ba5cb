"""What observers tell of a kind of object beyond its contrast and its light.

A larger telescope shows more of galaxies, globulars and small nebulae than their light in it accounts for:
there is detail in them to hold the eye. Open clusters and galaxies are lost in a bright sky sooner than their
contrast is. All figures are fitted to what observers tell of whole evenings; no published source.
"""

import numpy as np
from numpy.typing import ArrayLike

from nightmode.arrays import Array
from nightmode.kinds import Kind

#: Where the figures are counted from: an aperture, and a sky (V mag/arcsec2 at the target).
USUAL_MM, USUAL_SKY_MAG = 200.0, 20.5
_OPEN = (0.05, 0.0, 0.09)
# In dex: with the usual aperture under the usual sky; with each tenfold aperture; with each darker magnitude.
_BY_KIND = {
    Kind.GALAXY.value: (0.08, 0.25, 0.05),
    Kind.GLOBULAR_CLUSTER.value: (0.06, 0.23, 0.0),
    Kind.PLANETARY_NEBULA.value: (0.03, 0.38, 0.0),
    Kind.OPEN_CLUSTER.value: _OPEN,
    Kind.ASTERISM.value: _OPEN,
    Kind.CLUSTER_NEBULA.value: _OPEN,
}


def told_of_kinds(kinds: np.ndarray) -> tuple[Array, Array, Array]:
    """Return what is told of kinds (the words of the plan files), three arrays of their shape, in dex.

    By how much the margin is more than contrast and light make it with the usual aperture under the usual
    sky, and by how much more with each tenfold aperture and with each magnitude of a darker sky. Nothing of
    kinds that are not named here.
    """
    figures = np.zeros((*kinds.shape, 3))
    for kind, of_kind in _BY_KIND.items():
        figures[kinds == kind] = of_kind
    return figures[..., 0], figures[..., 1], figures[..., 2]


def told_of_scene_dex(
    by_aperture: ArrayLike, by_sky: ArrayLike, aperture_mm: ArrayLike, sky_mag: ArrayLike
) -> Array:
    """Return what aperture and sky (V mag/arcsec2 at the target) add, by figures of `told_of_kinds`."""
    larger, darker = np.log10(np.divide(aperture_mm, USUAL_MM)), np.subtract(sky_mag, USUAL_SKY_MAG)
    return np.multiply(by_aperture, larger) + np.multiply(by_sky, darker)
