"""How bright the sky is at a target (site, moonlight, twilight), and what people call a sky so bright.

Sources: twilight by Patat, Ugolnikov & Postylyakov 2006, A&A 455, 385, table 1; the site's own sky by
Krisciunas & Schaefer 1991, PASP 103, 1033.
"""

import numpy as np
from numpy.typing import ArrayLike

from nightmode import defaults
from nightmode.visibility.extinction import glow_airmass
from nightmode.visibility.moonlight import NO_MOON, Moon, moon_glow_nl
from nightmode.visibility.photometry import mag_of_nanolambert, nanolambert

#: The night sky that the measurements of twilight hold.
NIGHT_MAG = 21.6
#: The measurements end with the Sun so many degrees down; from there on the twilight fades by so many
#: magnitudes a degree (our own), until it is over.
MEASURED_TO_DEG, FADE_MAG_PER_DEG, END_DEPRESSION_DEG = 15.0, 1.0, 18.0
#: The middle of each Bortle class, from 1 to 9, mag/arcsec2.
BORTLE_MAG = (21.9, 21.7, 21.45, 20.8, 19.8, 18.9, 18.25, 17.8, 17.3)


def measured_zenith_mag(sun_altitude_deg: ArrayLike) -> np.ndarray:
    """Return the measured V mag/arcsec2 in the zenith, night sky included, for a Sun at -5 to -15 degrees.

    Above -5 degrees the slope at -5 is kept, up to a Sun on the horizon.
    """
    x = np.clip(-np.asarray(sun_altitude_deg, float), 0.0, MEASURED_TO_DEG) - 5.0
    return 11.84 + 1.518 * x - 0.057 * np.maximum(x, 0.0) ** 2


def twilight_glow_nl(sun_altitude_deg: ArrayLike) -> np.ndarray:
    """Return the twilight alone, in nanolambert, in the zenith; 0 with the Sun at -18 degrees or lower."""
    depression = -np.asarray(sun_altitude_deg, float)
    glow = nanolambert(measured_zenith_mag(sun_altitude_deg)) - nanolambert(NIGHT_MAG)
    faded = glow * 10.0 ** (-0.4 * FADE_MAG_PER_DEG * np.maximum(depression - MEASURED_TO_DEG, 0.0))
    return np.where(depression < END_DEPRESSION_DEG, faded, 0.0)


def site_glow_nl(zenith_mag: ArrayLike, altitude_deg: ArrayLike, mag_per_airmass: ArrayLike) -> np.ndarray:
    """Return the site's moonless night sky at an altitude, in nanolambert, from its zenith's mag/arcsec2.

    Source: Krisciunas & Schaefer 1991, eq. 2. A town's glow grows faster towards the horizon than this.
    """
    x = glow_airmass(altitude_deg)
    dimmed = 10.0 ** (-0.4 * np.asarray(mag_per_airmass, float) * (x - 1.0))
    return nanolambert(zenith_mag) * dimmed * x


def sky_brightness_mag(
    zenith_mag: ArrayLike,
    altitude_deg: ArrayLike,
    *,
    mag_per_airmass: ArrayLike = defaults.MAG_PER_AIRMASS,
    moon: Moon = NO_MOON,
    sun_altitude_deg: ArrayLike = -90.0,
) -> np.ndarray:
    """Return the sky's V mag/arcsec2 at a point: site (eq. 2), moonlight (eq. 15), twilight, added as light.

    zenith_mag is the site's moonless zenith. Sources: Krisciunas & Schaefer 1991; Patat et al. 2006.
    """
    total = (
        site_glow_nl(zenith_mag, altitude_deg, mag_per_airmass)
        + moon_glow_nl(moon, altitude_deg, mag_per_airmass)
        + twilight_glow_nl(sun_altitude_deg)
    )
    return mag_of_nanolambert(total)


def mag_of_naked_eye_limit(limit_mag: ArrayLike) -> np.ndarray:
    """Return mag/arcsec2 of the sky in which so faint a star is just seen in the zenith.

    Source: the relation printed with hand-held sky meters, after Schaefer 1990,
    limit = 7.93 - 5 log10(10^(4.316 - mu / 5) + 1); nothing brighter than 14 or darker than 22.2 comes back.
    """
    room = 10.0 ** ((7.93 - np.minimum(np.asarray(limit_mag, float), 7.9)) / 5.0) - 1.0
    return np.clip(5.0 * (4.316 - np.log10(room)), 14.0, 22.2)


def naked_eye_limit_of_mag(zenith_mag: ArrayLike) -> np.ndarray:
    """Return the faintest star in the zenith of a sky of so many mag/arcsec2, as sky meters print it."""
    return 7.93 - 5.0 * np.log10(10.0 ** (4.316 - np.asarray(zenith_mag, float) / 5.0) + 1.0)


def mag_of_bortle(bortle: int) -> float:
    """Return a middle mag/arcsec2 for a Bortle class, 1 to 9.

    Source: ranges published beside the scale (Bortle 2001; the mag/arcsec2 column is later and unofficial,
    and sources differ by half a magnitude for classes 4 to 8). Classes 8 and 9 are extended by us.
    """
    return BORTLE_MAG[bortle - 1]
