"""Opening a night: tracks, usable stretches, order and eyepieces for every target of a plan."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from nightmode import eyepiece
from nightmode.eyepiece import Combination, Look
from nightmode.model.kind import Kind
from nightmode.model.problem import (
    NeverUsable,
    NoAstronomicalNight,
    NoDarkness,
    NoEyepieces,
    Problem,
    SkyAssumed,
)
from nightmode.model.site import Site
from nightmode.model.target import Body, Fixed, Subject
from nightmode.night.circumstances import Circumstances
from nightmode.night.sights import Stage
from nightmode.night.table import Array, Night, NightTarget
from nightmode.sky.crossings import intervals
from nightmode.sky.dark import SUNSET_DEG, sun_altitude_at, twilights
from nightmode.sky.kernel import Sky
from nightmode.sky.moon import moon_at
from nightmode.sky.track import Tracks, tracks_at
from nightmode.sky.vantage import stand
from nightmode.sky.window import minute_columns, night_window
from nightmode.visibility.sky import mag_of_bortle, mag_of_naked_eye_limit
from nightmode.walk.order import Chance
from nightmode.walk.state import target_key
from nightmode.walk.usable import Interval, Usable, floor_crossings, floor_deg, sharpened, usable_stretches

#: The sky taken for a site that says nothing about its own: open country near a town.
USUAL_ZENITH_MAG = 20.5

#: A Moon lit so far dazzles in the eyepiece, and a grey filter helps (common practice, no published source).
DAZZLING_MOON = 0.4


def open_night(sky: Sky, where: Circumstances, subjects: Sequence[Subject]) -> Night:
    """Work out the night for a plan's subjects. Rows keep the order of subjects.

    NightmodeError outside the years of the ephemeris.
    """
    time_s = minute_columns(night_window(where.site, where.date))
    vantage = stand(sky, where.site, time_s)
    sun_deg = sun_altitude_at(vantage)
    lights = twilights(time_s, sun_deg)
    paths = tracks_at(vantage, subjects)
    chances, above = _chances(where, subjects, paths, sun_deg)
    night = Night(
        date=where.date,
        site=where.site,
        kit=where.kit,
        person=where.person,
        zenith_mag=zenith_mag(where.site),
        time_s=time_s,
        altitude_deg=paths.altitude_deg,
        azimuth_deg=paths.azimuth_deg,
        sun_altitude_deg=sun_deg,
        twilights=lights,
        moon=moon_at(vantage),
        targets=(),
        problems=(),
    )
    return _with_targets(night, subjects, paths, chances, above)


def zenith_mag(site: Site) -> float:
    """Return the site's moonless zenith in mag/arcsec², from whichever figure it gives."""
    if site.sky_brightness is not None:
        return site.sky_brightness
    if site.naked_eye_limit_mag is not None:
        return float(mag_of_naked_eye_limit(site.naked_eye_limit_mag))
    return mag_of_bortle(site.bortle) if site.bortle is not None else USUAL_ZENITH_MAG


def dark_level_deg(kind: Kind, sun_lowest_deg: float) -> float | None:
    """Return the Sun's altitude below which this kind is observed tonight; None if the Sun never sets.

    Where the Sun does not get as low as the kind asks for, the deepest level that it passes.
    """
    levels = (-18.0, -12.0, -6.0, SUNSET_DEG)
    allowed = (level for level in levels if level >= kind.sun_below_deg and sun_lowest_deg < level)
    return next(allowed, None)


def _chances(
    where: Circumstances, subjects: Sequence[Subject], paths: Tracks, sun_deg: Array
) -> tuple[list[Chance], list[list[Interval]]]:
    time_s = paths.time_unix_s
    usual = where.person.min_altitude_deg
    minimum = [usual if one.min_altitude_deg is None else one.min_altitude_deg for one in subjects]
    least, horizon = np.array(minimum, dtype=float), where.site.horizon
    floor = floor_deg(least, horizon, paths.azimuth_deg)
    above = intervals(time_s, paths.altitude_deg - floor) if subjects else []
    above = sharpened(above, time_s, paths.altitude_deg, paths.azimuth_deg, least, horizon)
    lowest_deg = float(sun_deg.min())
    dark = {kind: _dark(kind, lowest_deg, time_s, sun_deg) for kind in {one.kind for one in subjects}}
    chances = []
    for row, subject in enumerate(subjects):
        usable = usable_stretches(above[row], dark[subject.kind], time_s, paths.altitude_deg[row])
        ra_deg, _ = _place(subject, paths, usable)
        chances.append(Chance(target_key(subject.name), ra_deg, usable))
    return chances, above


def _dark(kind: Kind, lowest_deg: float, time_s: Array, sun_deg: Array) -> list[Interval]:
    level_deg = dark_level_deg(kind, lowest_deg)
    return [] if level_deg is None else intervals(time_s, level_deg - sun_deg)[0]


def _place(subject: Subject, paths: Tracks, usable: Sequence[Usable]) -> tuple[float, float]:
    """Return J2000 right ascension and declination; a body's at the start of its usable stretch."""
    if isinstance(subject, Fixed):
        return subject.ra_deg, subject.dec_deg
    assert isinstance(subject, Body)
    path, time_s = paths.bodies[subject.body], paths.time_unix_s
    column = int(np.searchsorted(time_s, usable[0].start)) if usable else len(time_s) // 2
    return float(path.ra_deg[column]), float(path.dec_deg[column])


def under_sky(night: Night, zenith_mag: float) -> Night:
    """Return the night with its eyepieces chosen anew for another moonless zenith (mag/arcsec²).

    For a reading taken at the telescope; places, times and order stay as they are.
    """
    darker = replace(night, zenith_mag=zenith_mag)
    suggested = _suggestions(darker, [target.subject for target in night.targets], night.chances)
    targets = [
        replace(target, look=look, choices=choices)
        for target, (look, choices) in zip(night.targets, suggested, strict=True)
    ]
    return replace(darker, targets=tuple(targets))


def _suggestions(
    night: Night, subjects: Sequence[Subject], chances: Sequence[Chance]
) -> Iterator[tuple[Look | None, tuple[Combination, ...]]]:
    """Yield for each subject what to look with, and all that is sensible in the order of stepping."""
    made, bounds = eyepiece.combinations(night.kit), _bounds(night)
    choices = eyepiece.sensible(made, bounds)
    dazzles = night.moon.illuminated >= DAZZLING_MOON
    filters = [one for one in night.kit.filters if dazzles or one.passband != "neutral"]
    stage = Stage(night, subjects, chances, choices)
    for row, subject in enumerate(subjects):
        look = eyepiece.look_with(subject, made, bounds, filters, stage.judge(row))
        yield look, tuple(eyepiece.alternatives(look, choices)) if look else ()


def _bounds(night: Night) -> eyepiece.Limits:
    return eyepiece.limits(night.kit, night.person.pupil_mm, night.person.seeing_arcsec)


def _with_targets(
    night: Night,
    subjects: Sequence[Subject],
    paths: Tracks,
    chances: Sequence[Chance],
    above: Sequence[Sequence[Interval]],
) -> Night:
    find = eyepiece.find_with(eyepiece.combinations(night.kit), _bounds(night))
    window = (float(night.time_s[0]), float(night.time_s[-1]))
    targets = [
        NightTarget(
            subject,
            *_place(subject, paths, chance.usable),
            chance,
            *floor_crossings(clear, window, chance.usable),
            find,
            *suggested,
        )
        for subject, chance, clear, suggested in zip(
            subjects, chances, above, _suggestions(night, subjects, chances), strict=True
        )
    ]
    return replace(night, targets=tuple(targets), problems=tuple(_problems(night, targets)))


def _problems(night: Night, targets: Sequence[NightTarget]) -> Iterator[Problem]:
    lights, site = night.twilights, night.site
    if lights.dark is None:
        yield NoDarkness(lights.sun_lowest_deg)
    elif lights.sun_below_deg != -18.0:
        yield NoAstronomicalNight(lights.sun_lowest_deg)
    if not night.kit.eyepieces:
        yield NoEyepieces()
    if (site.sky_brightness, site.naked_eye_limit_mag, site.bortle) == (None, None, None):
        yield SkyAssumed(night.zenith_mag)
    yield from (NeverUsable(target.subject.name) for target in targets if not target.usable)
