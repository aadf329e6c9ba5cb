"""What observers tell of a kind of object beyond its contrast and its light.

A larger telescope shows more of galaxies, globulars and small nebulae than their light in it accounts for:
there is detail in them to hold the eye. Open clusters and galaxies are lost in a bright sky sooner than their
contrast is. Two eyes hold on to what one eye doubts, more surely than the light they gain would do. All
figures are fitted to what observers tell of whole evenings; no published source.
"""

import numpy as np
from numpy.typing import ArrayLike

from nightmode.arrays import Array
from nightmode.kinds import Kind

#: Where the figures are counted from: an aperture, and a sky (V mag/arcsec2 at the target).
USUAL_MM, USUAL_SKY_MAG = 200.0, 20.5
_OPEN = (0.05, 0.0, 0.09, 0.06)
# In dex: with one eye at the usual aperture under the usual sky; with each tenfold aperture; with each darker
# magnitude; with the second eye.
_BY_KIND = {
    Kind.GALAXY.value: (0.06, 0.25, 0.05, 0.05),
    Kind.GLOBULAR_CLUSTER.value: (0.06, 0.23, 0.0, 0.08),
    Kind.PLANETARY_NEBULA.value: (0.04, 0.38, 0.0, 0.06),
    Kind.OPEN_CLUSTER.value: _OPEN,
    Kind.ASTERISM.value: _OPEN,
    Kind.CLUSTER_NEBULA.value: _OPEN,
}


def told_of_kinds(kinds: np.ndarray) -> Array:
    """Return what is told of kinds (the words of the plan files), in dex: an array of their shape + (4,).

    By how much the margin is more than contrast and light make it with one eye, the usual aperture and the
    usual sky; and by how much more with each tenfold aperture, with each magnitude of a darker sky, with the
    second eye. Nothing of kinds that are not named here.
    """
    figures = np.zeros((*kinds.shape, 4))
    for kind, of_kind in _BY_KIND.items():
        figures[kinds == kind] = of_kind
    return figures


def told_of_scene_dex(of_kind: Array, aperture_mm: ArrayLike, sky_mag: ArrayLike, eyes: ArrayLike) -> Array:
    """Return what kinds gain through an aperture under a sky (V mag/arcsec2 at the target) with 1 or 2 eyes.

    of_kind is what `told_of_kinds` has of them; the others broadcast with its shape, its last axis left out.
    """
    usual, by_aperture, by_sky, by_eye = np.moveaxis(np.asarray(of_kind, float), -1, 0)
    larger, darker = np.log10(np.divide(aperture_mm, USUAL_MM)), np.subtract(sky_mag, USUAL_SKY_MAG)
    return usual + by_aperture * larger + by_sky * darker + by_eye * (np.asarray(eyes) - 1.0)
