"""The stars of a cluster from its total magnitude."""

import numpy as np
from numpy.typing import ArrayLike

ENOUGH = 10
MOST = 100
BRIGHTEST_BELOW_TOTAL_MAG = 2.2
MAG_PER_DECADE = 2.86


def member_magnitude(total_mag: ArrayLike, rank: ArrayLike) -> np.ndarray:
    """Return the likely V magnitude of a cluster's star of a rank, 1 the brightest.

    N stars are brighter than m, log10 N growing by 0.35 a magnitude; then the brightest is 2.2 below the
    total, near what Messier's open clusters show (median; they scatter by about a magnitude). A fit of our
    own to their brightest stars, no published source.
    """
    return np.asarray(total_mag, float) + BRIGHTEST_BELOW_TOTAL_MAG + MAG_PER_DECADE * np.log10(rank)


def members_seen(total_mag: ArrayLike, limit_mag: ArrayLike) -> np.ndarray:
    """Return about how many of a cluster's stars a limiting magnitude shows, 0 to 100 (100 or more).

    See `member_magnitude`; the law is not trusted beyond its first hundred stars.
    """
    depth = np.asarray(limit_mag, float) - np.asarray(total_mag, float) - BRIGHTEST_BELOW_TOTAL_MAG
    return np.where(depth < 0.0, 0.0, np.floor(np.minimum(10.0 ** (depth / MAG_PER_DECADE), MOST)))
