"""Finds the first of the coming nights on which a target can be seen that tonight does not show."""

import datetime as dt
from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from nightmode.arrays import Array, Flags, Indices, distinct
from nightmode.catalog.light import lights_of
from nightmode.constants import DAY_S
from nightmode.eyepiece.choices import without_barlow
from nightmode.model.site import Site
from nightmode.model.target import MOON, Body, Double, LunarFeature, Star, Subject
from nightmode.night.feature_verdict import least_aperture_mm
from nightmode.night.glass import glass_at
from nightmode.night.glow import is_glow
from nightmode.night.planet_verdict import is_lost_by_power
from nightmode.night.point import MOON_CLEAR_DEG, pair_margins_of, star_magnitude
from nightmode.night.scene import glass_through
from nightmode.night.table import Night
from nightmode.night.usable import clearance, dark_levels_deg, least_altitudes_deg
from nightmode.records import Record
from nightmode.sky.dark import NAUTICAL_DEG, SUNSET_DEG, sun_altitude
from nightmode.sky.kernel import LAST_YEAR, Sky
from nightmode.sky.moon import moon_night
from nightmode.sky.track import tracks_at
from nightmode.sky.vantage import Vantage, stand
from nightmode.sky.vectors import separation_deg
from nightmode.sky.window import are_in_hours, instants_of, lowest_of_each, night_of
from nightmode.visibility.conditions import Conditions
from nightmode.visibility.contrast import favour_dex
from nightmode.visibility.eye import star_limit_mag
from nightmode.visibility.margin import FAIR_DEX, HARD_DEX, margin
from nightmode.visibility.points import FAIR_ALTITUDE_DEG, HARD_ALTITUDE_DEG, star_margin_dex
from nightmode.words import Word

#: Minutes between the instants looked at on the coming nights.
STEP_MIN = 15
#: Targets worked out at once: this keeps the temporary arrays of a long list near 40 MB.
_AT_ONCE = 256


class Coming(Record, eq=False):
    """Instants of the coming nights, (T,): the night each belongs to, and the Sun's altitude."""

    dates: Sequence[dt.date]
    time_s: Array
    night_number: Indices
    sun_deg: Array
    sun_lowest_deg: Array


class Moonlight(Record, eq=False):
    """The Moon at those instants, (T,) each: its place and its phase angle."""

    altitude_deg: Array
    azimuth_deg: Array
    phase_angle_deg: Array


class Prospect(Record, eq=False):
    """One target at those instants, (T,) each: its altitude, the sky behind it, what the air takes of it."""

    coming: Coming
    usable: Flags
    altitude_deg: Array
    sky_mag: Array
    loss_mag: Array


#: Instants at which a target is judged, and how it shows at each.
LevelsAt = tuple[Indices, Array]
LevelJudge = Callable[[Night, int, Prospect], LevelsAt]
#: What twilight may take between two instants, in dex.
COARSE_DEX = 0.05
#: How a target shows: the words of its verdict, as far as they decide about a night.
NOT, HARD, FAIR = 0, 1, 2
_LEVELS = {Word.EASY: FAIR, Word.FAIR: FAIR, Word.HARD: HARD}


def next_fits(sky: Sky, night: Night, rows: Sequence[int], days: int = 30) -> dict[int, dt.date | None]:
    """Return for targets `rows` the first of the next `days` nights on which each can be seen, or None.

    It can be seen if it is usable and its verdict is at least fair; if no night gives that, at least hard.
    The eyepieces are those that suit the target tonight.
    """
    if not rows:
        return {}
    coming = _coming(sky, night, days)
    if not coming.time_s.size:  # in a summer without dark nights
        return dict.fromkeys(rows)
    vantage = stand(sky, night.site, coming.time_s)
    moon = _moon(vantage, night.site)
    found: dict[int, dt.date | None] = {}
    for start in range(0, len(rows), _AT_ONCE):
        some = rows[start : start + _AT_ONCE]
        shown = _shown(night, some, coming, vantage, moon)
        found |= {row: _first(coming, shown[place]) for place, row in enumerate(some)}
    return found | {row: _next_light(night, row) for row in rows if night.targets[row].feature}


def _shown(
    night: Night, rows: Sequence[int], coming: Coming, vantage: Vantage, moon: Moonlight
) -> NDArray[np.int8]:
    """Return how targets `rows` show, (N, T): FAIR, HARD, or NOT.

    Glows and doubles are judged at the best instant of each night only.
    """
    subjects = [night.targets[row].subject for row in rows]
    paths = tracks_at(vantage, subjects)
    altitude_deg, azimuth_deg = paths.altitude_deg, paths.azimuth_deg
    usable = _usable(night, subjects, coming, altitude_deg, azimuth_deg)
    shown = np.full(usable.shape, NOT, dtype=np.int8)
    judged: list[tuple[int, LevelJudge]] = []
    for place, subject in enumerate(subjects):
        if isinstance(subject, Body):
            shown[place] = np.where(usable[place], _body_levels(night, rows[place], altitude_deg[place]), NOT)
        elif (judge := _judge_of(subject)) and night.targets[rows[place]].look and usable[place].any():
            judged.append((place, judge))
    if judged:
        places = [place for place, _ in judged]
        conditions = _conditions(night, coming, moon, altitude_deg[places], azimuth_deg[places])
        for (place, judge), sky_mag, loss_mag in zip(
            judged, conditions.sky_mag(), conditions.loss_mag(), strict=True
        ):
            prospect = Prospect(coming, usable[place], altitude_deg[place], sky_mag, loss_mag)
            chosen, found = judge(night, rows[place], prospect)
            shown[place, chosen] = found
    return shown


def _judge_of(subject: Subject) -> LevelJudge | None:
    """Return what chooses the instants at which a subject is judged and tells how it shows then, or None."""
    if isinstance(subject, Star):
        return _star_shown
    if isinstance(subject, Double):
        return _double_shown
    return _glow_shown if is_glow(subject) else None


def _body_levels(night: Night, row: int, altitude_deg: Array) -> NDArray[np.int8]:
    """Return how the Moon or a planet shows at these heights, with the power that it gets tonight."""
    target, middle_s = night.targets[row], night.middle_s
    if target.planet is None:
        clear_deg = MOON_CLEAR_DEG
    elif target.look and is_lost_by_power(target.planet, middle_s, target.look.combination.power):
        return np.full(altitude_deg.shape, NOT, dtype=np.int8)
    else:
        clear_deg = FAIR_ALTITUDE_DEG
    return _levels(altitude_deg, clear_deg, HARD_ALTITUDE_DEG).astype(np.int8)


def _by_light(dex: Array) -> Array:
    """Return FAIR, HARD or NOT for margins of light; NOT for NaN."""
    return _levels(dex, FAIR_DEX, HARD_DEX)


def _levels(values: Array, fair: float, hard: float) -> Array:
    return np.where(values >= fair, FAIR, np.where(values >= hard, HARD, NOT))


def _next_light(night: Night, row: int) -> dt.date | None:
    """Return the next night with good light on a feature of the Moon; None if the aperture is too small."""
    target, middle = night.targets[row], len(night.time_s) // 2
    if target.feature is None or not isinstance(target.subject, LunarFeature):
        return None
    needed_mm = least_aperture_mm(target.subject, target.feature, middle)
    night_s = target.feature.next_night_s
    if night_s is None or (needed_mm > target.kit.telescope.aperture_mm and target.usable):
        return None
    return night_of(night.site, night_s + 3600.0)


def _first(coming: Coming, shown: NDArray[np.int8]) -> dt.date | None:
    best = shown.max()
    return None if best == NOT else coming.dates[int(coming.night_number[(shown == best).argmax()])]


def _coming(sky: Sky, night: Night, days: int) -> Coming:
    dates = [night.date + dt.timedelta(days=number) for number in range(1, days + 1)]
    dates = [date for date in dates if date.year <= LAST_YEAR]
    time_s, night_number = instants_of(night.site, dates, STEP_MIN * 60.0)
    sun_deg = sun_altitude(sky, night.site, time_s)
    lowest = lowest_of_each(sun_deg, night_number)
    down = (sun_deg < SUNSET_DEG) & are_in_hours(night.site, dates, night.person.hours, time_s, night_number)
    return Coming(dates, time_s[down], night_number[down], sun_deg[down], lowest)


def _usable(
    night: Night, subjects: Sequence[Subject], coming: Coming, altitude_deg: Array, azimuth_deg: Array
) -> Flags:
    levels = dark_levels_deg(subjects, coming.sun_lowest_deg)
    return clearance(
        altitude_deg,
        azimuth_deg,
        coming.sun_deg,
        minimum_deg=least_altitudes_deg(subjects, night.person),
        horizon=night.site.horizon,
        dark_level_deg=levels[:, coming.night_number],
    ).usable


def _moon(vantage: Vantage, site: Site) -> Moonlight:
    """Return the Moon at the instants of a vantage; its phase is interpolated between days."""
    path, time_s = tracks_at(vantage, [MOON]), vantage.time_s
    daily_s = np.arange(time_s[0], time_s[-1] + DAY_S, DAY_S)
    phase_angle_deg = moon_night(vantage.sky, site, daily_s).phase_angle_deg
    return Moonlight(path.altitude_deg[0], path.azimuth_deg[0], np.interp(time_s, daily_s, phase_angle_deg))


def _conditions(
    night: Night, coming: Coming, moon: Moonlight, altitude_deg: Array, azimuth_deg: Array
) -> Conditions:
    return Conditions(
        zenith_mag=night.zenith_mag,
        altitude_deg=altitude_deg,
        mag_per_airmass=night.site.extinction,
        moon_phase_angle_deg=moon.phase_angle_deg,
        moon_separation_deg=separation_deg(azimuth_deg, altitude_deg, moon.azimuth_deg, moon.altitude_deg),
        moon_altitude_deg=moon.altitude_deg,
        sun_altitude_deg=coming.sun_deg,
    )


def _best_instants(prospect: Prospect, favour: Array) -> Indices:
    """Return one instant of each night on which a target is usable: that of the greatest favour."""
    night_number = prospect.coming.night_number
    nights = distinct(night_number[prospect.usable])
    each = [np.flatnonzero(prospect.usable & (night_number == number)) for number in nights]
    return np.array([some[favour[some].argmax()] for some in each], dtype=np.intp)


def _glow_shown(night: Night, row: int, prospect: Prospect) -> LevelsAt:
    """Return how a glow shows in the best sky and height of each night."""
    chosen = _best_instants(prospect, favour_dex(prospect.sky_mag, prospect.loss_mag))
    return chosen, _by_light(_glow_dex(night, row, prospect.sky_mag[chosen], prospect.loss_mag[chosen]))


def _glow_dex(night: Night, row: int, sky_mag: Array, loss_mag: Array) -> Array:
    """Return the best margin of a glow at instants of this sky brightness and this loss in the air."""
    target = night.targets[row]
    light = lights_of([target.subject]).some(np.zeros(len(sky_mag), dtype=np.intp))
    through = [
        margin(light, sky_mag, loss_mag, glass_through(night, row, combination))
        for combination in without_barlow(target.choices, or_reducer=True)
    ]
    # The best of all, for no combination is suggested that costs a word.
    return np.asarray(np.fmax.reduce([seen.margin_dex for seen in through]))


def _star_shown(night: Night, row: int, prospect: Prospect) -> LevelsAt:
    """Return how a star shows at every usable instant, by its expected magnitude then."""
    chosen = np.flatnonzero(prospect.usable)
    return chosen, _by_light(_star_dex(night, row, prospect, chosen))


def _double_shown(night: Night, row: int, prospect: Prospect) -> LevelsAt:
    """Return how a double shows where it is highest, in the dark if it can be: the instant of its verdict.

    A night is not counted on where it gets dark beside the last instant at which the double is usable, or the
    first: then it may be usable in the dark for some minutes between two instants, and is judged by those.
    Its fainter star must show a little more than it needs, for twilight changes between two instants, too.
    """
    target, coming = night.targets[row], prospect.coming
    dusk = coming.sun_deg >= NAUTICAL_DEG
    chosen = _best_instants(prospect, prospect.altitude_deg - np.where(dusk, 180.0, 0.0))
    assert target.look is not None
    power, star_dex = target.look.combination.power, _star_dex(night, row, prospect, chosen) - COARSE_DEX
    words = pair_margins_of(night, row, prospect.altitude_deg[chosen], power, star_dex).word.tolist()
    levels = np.array([_LEVELS.get(word, NOT) for word in words])
    beside_dark = np.append(~dusk[1:], False) | np.insert(~dusk[:-1], 0, False)
    in_doubt = set(coming.night_number[prospect.usable & dusk & beside_dark].tolist())
    doubtful = [number in in_doubt for number in coming.night_number[chosen].tolist()]
    return chosen, np.where(dusk[chosen] & np.array(doubtful, dtype=bool), NOT, levels)


def _star_dex(night: Night, row: int, prospect: Prospect, chosen: Indices) -> Array:
    """Return the margin of a star, or of a double's fainter one, through its own eyepiece."""
    target = night.targets[row]
    magnitude = star_magnitude(target, prospect.coming.time_s[chosen])
    if target.look is None or magnitude is None:
        return np.full(chosen.shape, np.nan)
    glass = glass_at(target.kit.telescope, night.person, target.look.combination.power)
    limit_mag = star_limit_mag(prospect.sky_mag[chosen], glass)
    return star_margin_dex(magnitude, prospect.loss_mag[chosen], limit_mag)
