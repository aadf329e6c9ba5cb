"""Variable stars: cycles, phases, expected brightness, and how well these can be foreseen.

Numbers in, numbers out. Instants of stars are heliocentric Julian dates: when the light would reach the Sun,
up to 8.3 minutes before or after it reaches the Earth. They are taken to be in Universal Time. Some
catalogues use another time scale, which differs by about a minute, far less than the precision of the
forecasts.
"""

import numpy as np
from numpy.typing import ArrayLike

from nightmode.arrays import Array
from nightmode.constants import DAY_S, LIGHT_AU_PER_DAY, UNIX_JD
from nightmode.model.variable import Course, Variability
from nightmode.records import Record
from nightmode.sky.vectors import unit_vectors

#: Where the error of a period is not published, it is taken to be this share of the period.
#: Our own rule: Algol, RZ Cassiopeiae, U Cephei and Delta Cephei moved away from the General Catalogue's
#: elements by 6 to 13 millionths of a period a cycle.
USUAL_DRIFT = 1e-5
#: Maxima of long-period stars wander by such a share of the period about their mean, and the mean by such a
#: share a cycle. Our own rule: Mira was 26 days late in 2011, R Ursae Majoris 28 early in 2016.
WANDERS, WANDERS_A_CYCLE = 0.04, 0.002
#: How an eclipse falls and rises: a raised cosine to this power (our own; within 0.1 of Algol's curve by
#: Stebbins 1910, Astrophysical Journal 32, 185).
_ECLIPSE_POWER = 1.3
#: An instant is foreseen when its error is below this share of the period, of eclipses of their length.
_FORESEEN_SHARE = {Course.ECLIPSES: 0.125, Course.PULSATES: 0.125, Course.LONG_PERIOD: 0.25}
_FORESEEN_ECLIPSE = 0.5


def cycle(star: Variability, jd: ArrayLike) -> Array:
    """Return the number of the cycle, with its fraction, at instants jd. ValueError without a set period."""
    epoch_jd, period_d = _elements(star)
    since = np.asarray(jd, dtype=float) - epoch_jd
    root = np.sqrt(np.maximum(period_d**2 + 4.0 * star.change_d * since, 0.0))
    return np.asarray(2.0 * since / (period_d + root))


def instant_jd(star: Variability, number: ArrayLike) -> Array:
    """Return the instants of mid-eclipse or maximum of these cycles. ValueError without a set period."""
    epoch_jd, period_d = _elements(star)
    count = np.asarray(number, dtype=float)
    return np.asarray(epoch_jd + period_d * count + star.change_d * count**2)


def phase(star: Variability, jd: ArrayLike) -> Array:
    """Return the fraction of the cycle gone by at instants jd, from 0 to below 1."""
    found = np.mod(cycle(star, jd), 1.0)
    return np.where(found < 1.0, found, 0.0)


def error_d(star: Variability, jd: ArrayLike) -> Array:
    """Return by how many days a foreseen instant near jd may be wrong; it grows with each cycle."""
    _, period_d = _elements(star)
    cycles = np.abs(cycle(star, jd))
    if star.course is Course.LONG_PERIOD:
        return np.hypot(WANDERS * period_d, cycles * WANDERS_A_CYCLE * period_d)
    a_cycle = USUAL_DRIFT * period_d if star.period_error_d is None else star.period_error_d
    return np.hypot(star.epoch_error_d or 0.0, cycles * a_cycle)


def is_foreseen(star: Variability, jd: float) -> bool:
    """Return whether the phase at an instant is known well enough to foresee the brightness."""
    if star.course is Course.LOOSE or star.period_d is None:
        return False
    within = _FORESEEN_SHARE[star.course] * star.period_d
    if star.eclipse_d is not None:
        within = _FORESEEN_ECLIPSE * star.eclipse_d
    return float(error_d(star, jd)) <= within


def magnitude(star: Variability, jd: ArrayLike) -> Array:
    """Return the V magnitude to be expected at heliocentric instants, in the shape of jd.

    Between the extremes it follows smooth curves: cosines for pulsating stars, dips for eclipses. Where the
    phase is not known well enough, it is the magnitude that such a star has most of the time.
    """
    instants = np.asarray(jd, dtype=float)
    if not is_foreseen(star, float(np.mean(instants))):
        return np.full(instants.shape, star.steady_mag)
    gone = phase(star, instants)
    if star.course is Course.ECLIPSES:
        return _eclipsing(star, gone)
    brightest, faintest = star.usual_extremes
    rise = 0.5 if star.share is None else star.share
    # 0 at maximum, 1 at the minimum that comes before the rise, 2 at the next maximum.
    half = np.where(gone < 1.0 - rise, gone / (1.0 - rise), 1.0 + (gone - 1.0 + rise) / rise)
    return np.asarray(brightest + (faintest - brightest) * (1.0 - np.cos(np.pi * half)) / 2.0)


def light_time_s(sun_au: ArrayLike, ra_deg: float, dec_deg: float) -> float:
    """Return what to add to a heliocentric instant to get the instant on Earth, in seconds.

    sun_au (3,) is the place of the Sun as seen from here, on ICRS axes.
    """
    towards = unit_vectors(np.array(ra_deg), np.array(dec_deg))
    return DAY_S / LIGHT_AU_PER_DAY * float(np.asarray(sun_au, dtype=float) @ towards)


class VariableTonight(Record):
    """A star's light on one night. Instants are Unix seconds at the site; light_time_s as by its function."""

    star: Variability
    light_time_s: float = 0.0

    def jd(self, at_s: ArrayLike) -> Array:
        """Return the heliocentric Julian dates of instants at the site."""
        return (np.asarray(at_s, dtype=float) - self.light_time_s) / DAY_S + UNIX_JD

    def magnitudes_at(self, at_s: ArrayLike) -> Array:
        """Return the V magnitudes to be expected at instants."""
        return magnitude(self.star, self.jd(at_s))

    def magnitude_at(self, at_s: float) -> float:
        """Return the V magnitude to be expected at an instant."""
        return float(self.magnitudes_at(at_s))

    def phase_at(self, at_s: float) -> float | None:
        """Return the fraction of the cycle gone by at an instant, None where it is not foreseen."""
        return float(phase(self.star, self.jd(at_s))) if self.is_foreseen(at_s) else None

    def is_foreseen(self, at_s: float) -> bool:
        """Return whether the phase at an instant is known well enough to foresee the brightness."""
        return is_foreseen(self.star, float(self.jd(at_s)))

    def error_s(self, at_s: float) -> float:
        """Return by how many seconds a foreseen eclipse or maximum near at_s may be wrong."""
        return float(error_d(self.star, self.jd(at_s))) * DAY_S

    def instants(self, start_s: float, end_s: float) -> list[float]:
        """Return the mid-eclipses or maxima from start_s to end_s, in Unix seconds, foreseen well or not."""
        if self.star.course is Course.LOOSE:
            return []
        first, last = (float(cycle(self.star, self.jd(at_s))) for at_s in (start_s, end_s))
        jd = instant_jd(self.star, np.arange(np.ceil(first - 1e-9), np.floor(last + 1e-9) + 1.0))
        return ((jd - UNIX_JD) * DAY_S + self.light_time_s).tolist()

    def next_instant(self, after_s: float) -> float | None:
        """Return the next mid-eclipse or maximum after after_s, None without a set period."""
        if self.star.course is Course.LOOSE:
            return None
        number = np.ceil(float(cycle(self.star, self.jd(after_s))) - 1e-9)
        jd = float(instant_jd(self.star, number))
        return (jd - UNIX_JD) * DAY_S + self.light_time_s


def _elements(star: Variability) -> tuple[float, float]:
    if star.epoch_jd is None or star.period_d is None:
        raise ValueError("a star without epoch or period has no cycles")
    return star.epoch_jd, star.period_d


def _eclipsing(star: Variability, gone: Array) -> Array:
    """Return the magnitude of an eclipsing star at phases; it changes all the time if no length is known."""
    half = 0.25 if star.share is None else star.share / 2.0
    depths = (
        star.faintest_mag - star.brightest_mag,
        (star.second_mag or star.brightest_mag) - star.brightest_mag,
    )
    fainter = np.zeros(gone.shape)
    for depth, off in zip(depths, (gone, np.mod(gone + 0.5, 1.0)), strict=True):
        share = np.minimum(np.minimum(off, 1.0 - off) / half, 1.0)
        fainter = np.maximum(fainter, depth * ((1.0 + np.cos(np.pi * share)) / 2.0) ** _ECLIPSE_POWER)
    return np.asarray(star.brightest_mag + fainter)
