"""How bright the sky is at the target (site, moonlight, twilight), and a site's figure in other words."""

import numpy as np
from numpy.typing import ArrayLike

from nightmode import defaults
from nightmode.visibility.extinction import glow_airmass
from nightmode.visibility.photometry import mag_of_nanolambert, nanolambert

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


NEAREST_DEG = 0.25


def moon_illuminance_fc(phase_angle_deg: ArrayLike) -> np.ndarray:
    """Return the Moon's light above the air in foot-candles (eq. 20); phase angle 0 is full, 180 is new."""
    alpha = np.abs(np.asarray(phase_angle_deg, float))
    return 10.0 ** (-0.4 * (3.84 + 0.026 * alpha + 4e-9 * alpha**4))


def scattering(separation_deg: ArrayLike) -> np.ndarray:
    """Return f(rho), what the air scatters through an angle (eqs 16 to 19 and 21).

    Closer than a quarter of a degree the value there is kept: that is the Moon's own disc.
    """
    rho = np.clip(np.asarray(separation_deg, float), NEAREST_DEG, 180.0)
    rayleigh = 10.0**5.36 * (1.06 + np.cos(np.radians(rho)) ** 2)
    haze = np.where(rho >= 10.0, 10.0 ** (6.15 - rho / 40.0), 6.2e7 / rho**2)
    return rayleigh + haze


def moon_glow_nl(
    phase_angle_deg: ArrayLike,
    separation_deg: ArrayLike,
    moon_altitude_deg: ArrayLike,
    altitude_deg: ArrayLike,
    mag_per_airmass: ArrayLike,
) -> np.ndarray:
    """Return the moonlight in the sky at a point, in nanolambert (eq. 15); none once the Moon has set.

    separation_deg is between Moon and point, altitudes in degrees, extinction in V magnitudes per airmass.
    """
    k = np.asarray(mag_per_airmass, float)
    through = 10.0 ** (-0.4 * k * glow_airmass(moon_altitude_deg))
    caught = 1.0 - 10.0 ** (-0.4 * k * glow_airmass(altitude_deg))
    glow = scattering(separation_deg) * moon_illuminance_fc(phase_angle_deg) * through * caught
    return np.where(np.asarray(moon_altitude_deg, float) > 0.0, glow, 0.0)


#: Within so many degrees of the Moon its light falls into the tube; it fades in over the last ten.
IN_TUBE_DEG, FADES_OVER_DEG = 25.0, 10.0
_LUX_A_FC, _CD_M2_A_NL = 10.764, 3.183e-6


def moon_veil_nl(
    phase_angle_deg: ArrayLike,
    separation_deg: ArrayLike,
    moon_altitude_deg: ArrayLike,
    mag_per_airmass: ArrayLike,
) -> np.ndarray:
    """Return the veil that a Moon nearby draws over the field by stray light in tube and eye, in nanolambert.

    Source: the veil of a glaring source, 10 E / angle^2 cd/m2 for E lux at an angle in degrees (Holladay
    1926, J. Opt. Soc. Am. 12, 271); half of it, for the eye is in the dark of the eyepiece
    and the tube is not (our own). None beyond 25 degrees.
    """
    angle = np.maximum(np.asarray(separation_deg, float), 1.0)
    air = 10.0 ** (-0.4 * np.asarray(mag_per_airmass, float) * glow_airmass(moon_altitude_deg))
    lux = moon_illuminance_fc(phase_angle_deg) * _LUX_A_FC * air
    veil = 5.0 * lux / angle**2 / _CD_M2_A_NL
    return np.where(np.asarray(moon_altitude_deg, float) > 0.0, veil * _in_tube(angle), 0.0)


def _in_tube(separation_deg: ArrayLike) -> np.ndarray:
    """How much of the Moon's light falls into the tube, 0 from 25 degrees on, 1 within 15."""
    return np.clip((IN_TUBE_DEG - np.asarray(separation_deg, float)) / FADES_OVER_DEG, 0.0, 1.0)


#: How many times more light the eye needs beside a full Moon overhead, which lights the ground about the
#: observer, and in addition where it shines into the tube (common practice, no published source).
BY_MOONLIT_GROUND, BY_MOON_IN_TUBE = 0.6, 1.4


def moon_dazzle_mag(
    phase_angle_deg: ArrayLike,
    separation_deg: ArrayLike,
    moon_altitude_deg: ArrayLike,
    mag_per_airmass: ArrayLike,
) -> np.ndarray:
    """Return how much more light an eye needs that moonlight keeps from adapting to the dark, in magnitudes.

    In proportion to the light of the Moon. It stands beside the brighter sky: thresholds measured against a
    bright background (`contrast`) are those of an eye that has nothing else to see.
    """
    air = 10.0 ** (-0.4 * np.asarray(mag_per_airmass, float) * glow_airmass(moon_altitude_deg))
    light = moon_illuminance_fc(phase_angle_deg) / moon_illuminance_fc(0.0) * air
    times = 1.0 + light * (BY_MOONLIT_GROUND + BY_MOON_IN_TUBE * _in_tube(separation_deg))
    return np.where(np.asarray(moon_altitude_deg, float) > 0.0, 2.5 * np.log10(times), 0.0)


BORTLE_MAG = (21.9, 21.7, 21.45, 20.8, 19.8, 18.9, 18.25, 17.8, 17.3)


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
    moon_phase_angle_deg: ArrayLike = 180.0,
    moon_separation_deg: ArrayLike = 90.0,
    moon_altitude_deg: ArrayLike = -90.0,
    sun_altitude_deg: ArrayLike = -90.0,
) -> np.ndarray:
    """Return the sky's V mag/arcsec2 at a point: site (eq. 2), moonlight (eq. 15), twilight, added as light.

    zenith_mag is the site's moonless zenith. Sources: Krisciunas & Schaefer 1991; Patat et al. 2006.
    """
    total = (
        site_glow_nl(zenith_mag, altitude_deg, mag_per_airmass)
        + moon_glow_nl(
            moon_phase_angle_deg, moon_separation_deg, moon_altitude_deg, altitude_deg, mag_per_airmass
        )
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
