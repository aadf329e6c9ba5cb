"""Skies for the tests of aiming: a place, a sidereal time and how dark it is, without an ephemeris."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from nightmode.aim.frame import direction
from nightmode.aim.guide import guide
from nightmode.aim.shows import Air, IcrsStars, apparent, stars_here
from nightmode.catalog.field import field_stars
from nightmode.visibility.sky import mag_of_naked_eye_limit

FIELD = field_stars()
KNOWN = IcrsStars(
    FIELD.direction,
    FIELD.magnitude,
    FIELD.has_name,
    FIELD.has_word,
    FIELD.is_steady,
    np.ones(len(FIELD), bool),
)
WORDS = [name or letter for name, letter in zip(FIELD.name, FIELD.designation, strict=True)]
RINGS_DEG = (0.5, 2.0, 4.0)


def place(ra_deg, dec_deg):
    """Return a direction (3,) on ICRS axes."""
    ra, dec = np.radians(ra_deg), np.radians(dec_deg)
    return np.array([np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)])


def rotation(latitude_deg, sidereal_deg):
    """Return (3, 3) from equatorial axes to north, east, up. Precession is left out."""
    c, s = np.cos(np.radians(sidereal_deg)), np.sin(np.radians(sidereal_deg))
    meridian = np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])
    c, s = np.cos(np.radians(latitude_deg)), np.sin(np.radians(latitude_deg))
    return np.array([[-s, 0.0, c], [0.0, 1.0, 0.0], [c, 0.0, s]]) @ meridian


def dark(limit_mag, mag_per_airmass=0.25):
    """Return moonless night air over a site with this naked-eye limit."""
    return Air(
        zenith_mag=float(mag_of_naked_eye_limit(limit_mag)),
        mag_per_airmass=mag_per_airmass,
        sun_altitude_deg=-50.0,
        moon=direction(-50.0, 0.0),
        moon_altitude_deg=-50.0,
        moon_phase_angle_deg=90.0,
    )


@dataclass(frozen=True, eq=False)
class View:
    """A target's guide among the stars of a sky, and what those stars are called."""

    target: np.ndarray
    stars: object
    guide: object
    words: list

    def star(self, word):
        """Return a star by what it is called."""
        return self.words.index(word)


@cache
def view(ra_deg, dec_deg, latitude_deg, hour_angle_deg, limit_mag=6.2, rings_deg=RINGS_DEG):
    """Return what leads to a place at a latitude and hour angle, in a moonless sky."""
    turned = rotation(latitude_deg, ra_deg + hour_angle_deg)
    near = np.flatnonzero(KNOWN.direction @ place(ra_deg, dec_deg) > np.cos(np.radians(36.0)))
    some = IcrsStars(*(column[near] for column in vars(KNOWN).values()))
    stars = stars_here(some, turned, dark(limit_mag), ())
    target = apparent(place(ra_deg, dec_deg), turned)
    return View(target, stars, guide(stars, target, rings_deg), [WORDS[star] for star in near])
