"""What limits a sight, and what would change that."""

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike

from nightmode.records import replace
from nightmode.visibility.conditions import Conditions
from nightmode.visibility.glass import WITHOUT_END_DEG, Glass
from nightmode.visibility.margin import EASY_DEX, HARD_DEX, Margin, margin, next_word_dex
from nightmode.visibility.profile import Light
from nightmode.visibility.ranking import choose
from nightmode.words import Cause

#: The skies (V mag/arcsec2) and the apertures among which one that would do is sought.
BRIGHTEST_MAG, DARKEST_MAG = 14.0, 22.0
SMALLEST_MM, LARGEST_MM = 20.0, 1000.0
#: How it is sought: into how many parts, and how often (see `_least`): to a thousandth of the whole range.
_PARTS, _ROUNDS = 10, 3
# What can be taken away, in the order of `limiting_cause`; then what it says otherwise.
_CAUSES = (
    Cause.SKY, Cause.MOON, Cause.TWILIGHT, Cause.LOW, Cause.FIELD, Cause.POWER,
    Cause.APERTURE, Cause.NO_BRIGHTNESS, Cause.NO_SIZE, Cause.NONE,
)  # fmt: skip
_NUMBER = {cause: number for number, cause in enumerate(_CAUSES)}
# What taking a condition away must gain before it is blamed rather than the aperture.
BLAME_DEX = 0.12
# Moon, twilight and a low place are blamed only where without them this part of the way to the next better
# word would be gone, all of it out of reach; and nothing is called low from this altitude on (our own rules).
ENOUGH, LOW_DEG = 0.5, 30.0


def limiting_cause(
    light: Light, conditions: Conditions, glass: Glass, seen: Margin | None = None
) -> np.ndarray:
    """Return the circumstance that would gain most if it alone were removed.

    seen is the margin as things are, if it has been worked out already.

    sky (a dark site of 21.7 instead), Moon (below the horizon), twilight (Sun far below), low altitude (the
    zenith), size against field (a field without end); aperture where none of them gains 0.12 dex. Moon,
    twilight and low altitude must gain half of what the next better word needs, too, and all of it where the
    target is out of reach. What the field has no room for is the field's doing, whatever it gains; and it is
    the power's that something bright enough to be hard or better looks like a star.

    NONE where it is easy already; the missing figure where the margin is unknown.
    """
    if seen is None:
        seen = margin(light, conditions.sky_mag(), conditions.loss_mag(), glass)
    now = seen.margin_dex
    gains = np.nan_to_num(_without_each_dex(light, conditions, glass, now.shape) - now)
    number = _to_blame(gains, now, conditions.altitude_deg)
    number = np.where(seen.is_bound, _NUMBER[Cause.FIELD], number)
    is_starlike = (seen.power_times > 1.0) & (now >= HARD_DEX)
    number = np.where(is_starlike, _NUMBER[Cause.POWER], number)
    sizeless = ~np.isnan(light.magnitude) & np.isnan(light.semi_major_arcmin)
    missing = np.where(sizeless, _NUMBER[Cause.NO_SIZE], _NUMBER[Cause.NO_BRIGHTNESS])
    number = np.where(now >= EASY_DEX, _NUMBER[Cause.NONE], number)
    return choose(_CAUSES, np.where(np.isnan(now), missing, number))


def _without_each_dex(
    light: Light, conditions: Conditions, glass: Glass, shape: tuple[int, ...]
) -> np.ndarray:
    """Return the margins with one circumstance taken away, by its number on the first axis: (5, *shape)."""
    changed = (
        conditions.in_the_dark(),
        conditions.moonless(),
        replace(conditions, sun_altitude_deg=-90.0),
        replace(conditions, altitude_deg=90.0),
        conditions,
    )
    fields_deg = [glass.true_field_deg] * 4 + [WITHOUT_END_DEG]
    sky_mag, loss_mag, field_deg = (
        np.stack([np.broadcast_to(figure, shape) for figure in figures])
        for figures in ([one.sky_mag() for one in changed], [one.loss_mag() for one in changed], fields_deg)
    )
    return margin(light, sky_mag, loss_mag, replace(glass, true_field_deg=field_deg)).margin_dex


def _to_blame(gains_dex: np.ndarray, now_dex: np.ndarray, altitude_deg: ArrayLike) -> np.ndarray:
    """Return the number of the cause to name by what each gains; aperture where none gains enough.

    Moonlight is named before the sky where the next better word is there without it; where it is only a part
    of too bright a sky, the sky is named.
    """
    counted, gap = gains_dex.copy(), next_word_dex(now_dex) - now_dex
    sky, moon, low = (_NUMBER[cause] for cause in (Cause.SKY, Cause.MOON, Cause.LOW))
    for number in (moon, _NUMBER[Cause.TWILIGHT], low):
        counted[number] *= gains_dex[number] >= gap * np.where(now_dex < HARD_DEX, 1.0, ENOUGH)
    counted[low] *= np.asarray(altitude_deg) < LOW_DEG
    is_all_the_moons = (gains_dex[moon] > 0.0) & (gains_dex[moon] >= gap)
    counted[sky] *= ~is_all_the_moons
    counted[moon] = np.where(is_all_the_moons, np.maximum(counted[moon], BLAME_DEX), counted[moon])
    otherwise = np.where(gains_dex[moon] >= BLAME_DEX, sky, _NUMBER[Cause.APERTURE])
    return np.where(counted.max(axis=0) >= BLAME_DEX, counted.argmax(axis=0), otherwise)


def sky_needed_mag(
    light: Light, loss_mag: ArrayLike, glass: Glass, wanted_dex: ArrayLike = HARD_DEX
) -> np.ndarray:
    """Return the brightest sky (V mag/arcsec2 at the target) that gives a margin, 14 to 22.

    NaN where even a sky of 22 does not, and where the margin is unknown.
    """

    def dex_at(sky_mag: np.ndarray) -> np.ndarray:
        return margin(light, sky_mag, loss_mag, glass).margin_dex

    return _least(dex_at, wanted_dex, BRIGHTEST_MAG, DARKEST_MAG)


def aperture_needed_mm(
    light: Light,
    sky_mag: ArrayLike,
    loss_mag: ArrayLike,
    glass: Glass,
    wanted_dex: ArrayLike = HARD_DEX,
) -> np.ndarray:
    """Return the smallest aperture that gives a margin in the same field, 20 to 1000 mm.

    The better of two powers counts: that of the same exit pupil, and the present one as long as the pupil of
    the eye takes the beam. NaN where no aperture does, and where the margin is unknown.
    """
    start = np.asarray(glass.aperture_mm, float)

    def dex_at(log_aperture: np.ndarray) -> np.ndarray:
        larger = glass.times(np.exp(log_aperture) / start)
        least_power = np.asarray(larger.aperture_mm) / glass.pupil_mm
        brighter = replace(larger, magnification=np.maximum(glass.magnification, least_power))
        return np.fmax(
            margin(light, sky_mag, loss_mag, larger).margin_dex,
            margin(light, sky_mag, loss_mag, brighter).margin_dex,
        )

    return np.exp(_least(dex_at, wanted_dex, np.log(SMALLEST_MM), np.log(LARGEST_MM)))


def _least(
    dex_at: Callable[[np.ndarray], np.ndarray], wanted: ArrayLike, low: float, high: float
) -> np.ndarray:
    """Return the least argument whose margin reaches wanted, for a rising dex_at; NaN where high does not.

    Each round tries the ends of _PARTS equal parts at once, along a new first axis, and goes on with the part
    in which wanted is reached: a few large steps cost less than many small ones.
    """
    top = dex_at(np.asarray(high))
    lower, part = np.full(top.shape, low), np.full(top.shape, high - low)
    ends = np.arange(1, _PARTS).reshape(-1, *[1] * top.ndim)
    for _ in range(_ROUNDS):
        part = part / _PARTS
        reached = dex_at(lower + ends * part) >= wanted
        lower = lower + part * np.where(reached.any(axis=0), reached.argmax(axis=0), _PARTS - 1)
    return np.where(top >= wanted, lower + part, np.nan)
