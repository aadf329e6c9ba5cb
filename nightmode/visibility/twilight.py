"""Twilight in the zenith, while the Sun stands between the horizon and 18 degrees below it.

Source: Patat, Ugolnikov & Postylyakov 2006, A&A 455, 385, table 1: more than 2000 images at ESO Paranal,
V = 11.84 + 1.518 x - 0.057 x^2 mag/arcsec2 with x the Sun's depression less 5 degrees, for depressions of
5 to 15 degrees, scatter 0.18 mag. The natural night sky (V 21.6 there) is in those figures and is taken
out here, because the site's own sky is added later.

Outside the fit: brighter than 5 degrees the curve goes on with its slope there; from 15 to 18 degrees what
is left fades at 1 mag a degree and then ends (both are continuations of our own). Low sites are about 0.4
mag brighter than Paranal by the paper's comparison, and the sky over the Sun brighter than the zenith:
neither is in the model.
"""

import numpy as np
from numpy.typing import ArrayLike

from nightmode.visibility.photometry import nanolambert

NIGHT_MAG = 21.6
BRIGHTEST_DEPRESSION_DEG = 0.0
FADE_MAG_PER_DEG = 1.0
END_DEPRESSION_DEG = 18.0


def measured_zenith_mag(sun_altitude_deg: ArrayLike) -> np.ndarray:
    """Return the measured V mag/arcsec2 in the zenith, night sky included, for a Sun at -5 to -15 degrees.

    Above -5 degrees the slope at -5 is kept, up to a Sun on the horizon.
    """
    x = np.clip(-np.asarray(sun_altitude_deg, float), BRIGHTEST_DEPRESSION_DEG, 15.0) - 5.0
    return 11.84 + 1.518 * x - 0.057 * np.maximum(x, 0.0) ** 2


def twilight_glow_nl(sun_altitude_deg: ArrayLike) -> np.ndarray:
    """Return the twilight alone, in nanolambert, in the zenith; 0 with the Sun at -18 degrees or lower."""
    depression = -np.asarray(sun_altitude_deg, float)
    glow = nanolambert(measured_zenith_mag(sun_altitude_deg)) - nanolambert(NIGHT_MAG)
    faded = glow * 10.0 ** (-0.4 * FADE_MAG_PER_DEG * np.maximum(depression - 15.0, 0.0))
    return np.where(depression < END_DEPRESSION_DEG, faded, 0.0)
