"""Opening a night: tracks and usable stretches for every target of a plan, and the kit under them."""

from collections.abc import Mapping, Sequence

import numpy as np

from nightmode.arrays import Array
from nightmode.kinds import Kind
from nightmode.model.sight import Moment
from nightmode.model.site import Site
from nightmode.model.target import Body, Fixed, Subject
from nightmode.night.circumstances import Circumstances
from nightmode.night.each_target import equip_each
from nightmode.night.features import features_tonight, good_light, tie_of
from nightmode.night.moments import moments_of
from nightmode.night.moving import placed
from nightmode.night.pairs import pairs_of_the_night
from nightmode.night.table import Night, Placed, SkyTable
from nightmode.night.usable import clear_stretches, dark_levels_deg, least_altitudes_deg
from nightmode.night.varying import as_tonight, eclipse_moments, variables_tonight
from nightmode.records import Record
from nightmode.sky.crossings import intervals
from nightmode.sky.dark import sun_altitude_at, twilights
from nightmode.sky.eclipse import eclipse_seen
from nightmode.sky.globes import PlanetTonight, planets_tonight
from nightmode.sky.kernel import Sky
from nightmode.sky.moon import moon_at
from nightmode.sky.paths import Paths
from nightmode.sky.vantage import Vantage, stand
from nightmode.sky.varying import VariableTonight
from nightmode.sky.window import hours_of_night, minute_columns, night_window
from nightmode.visibility.relief import FeatureTonight
from nightmode.visibility.sky import mag_of_bortle, mag_of_naked_eye_limit
from nightmode.walk.order import Chance
from nightmode.walk.state import target_key
from nightmode.walk.usable import Usable, floor_crossings, usable_stretches

#: The sky brightness of a site that gives none, mag/arcsec²: open country near a town.
USUAL_ZENITH_MAG = 20.5


class _Brings(Record, eq=False):
    """What the night brings those targets that are more than a place on the sky, by row."""

    features: Mapping[int, FeatureTonight]
    planets: Mapping[int, PlanetTonight]
    variables: Mapping[int, VariableTonight]
    is_moon_waxing: bool


def open_night(sky: Sky, circumstances: Circumstances, subjects: Sequence[Subject]) -> Night:
    """Return the night of subjects with the observer's kits; rows are in the order of subjects.

    NightmodeError outside the years of the ephemeris.
    """
    return equip_each(night_sky(sky, circumstances, subjects), circumstances.instruments)


def night_sky(sky: Sky, circumstances: Circumstances, subjects: Sequence[Subject]) -> SkyTable:
    """Return the sky of a night for subjects: the part that takes time, the same for every kit."""
    site, person = circumstances.site, circumstances.person
    time_s = minute_columns(night_window(site, circumstances.date))
    vantage = stand(sky, site, time_s)
    sun_deg = sun_altitude_at(vantage)
    middle_s = float(time_s[len(time_s) // 2])
    subjects = placed(vantage, pairs_of_the_night(subjects, middle_s))
    variables = variables_tonight(vantage, subjects)
    for row, tonight in variables.items():
        subjects[row] = as_tonight(subjects[row], tonight, middle_s)
    paths = Paths(vantage, subjects)
    moon = moon_at(vantage)
    brings = _Brings(
        features=features_tonight(sky, vantage, site, person, subjects),
        planets=_planets(vantage, site, subjects),
        variables=variables,
        is_moon_waxing=moon.waxing,
    )
    return SkyTable(
        date=circumstances.date,
        site=site,
        person=person,
        zenith_mag=zenith_mag(site),
        time_s=time_s,
        altitude_deg=paths.altitude_deg,
        azimuth_deg=paths.azimuth_deg,
        sun_altitude_deg=sun_deg,
        twilights=twilights(time_s, sun_deg),
        moon=moon,
        vantage=vantage,
        rotation=np.ascontiguousarray(np.moveaxis(vantage.rotation, -1, 0)),
        eclipse=eclipse_seen(sky, time_s, moon.altitude_deg, moon.phase_angle_deg),
        hours_s=hours_of_night(site, circumstances.date, person.hours) if person.hours else None,
        targets=_placed(circumstances, subjects, paths, sun_deg, brings),
    )


def _planets(vantage: Vantage, site: Site, subjects: Sequence[Subject]) -> dict[int, PlanetTonight]:
    """Return the globes of the planets among the subjects, by row."""
    planets = {
        row: subject.body
        for row, subject in enumerate(subjects)
        if isinstance(subject, Body) and subject.kind is Kind.PLANET
    }
    first_s, last_s = float(vantage.time_s[0]), float(vantage.time_s[-1])
    globes = planets_tonight(vantage.sky, site, [*planets.values()], first_s, last_s)
    return {row: globes[name] for row, name in planets.items()}


def zenith_mag(site: Site) -> float:
    """Return the brightness of the site's moonless zenith, mag/arcsec², from whichever figure it gives."""
    if site.sky_brightness is not None:
        return site.sky_brightness
    if site.naked_eye_limit_mag is not None:
        return float(mag_of_naked_eye_limit(site.naked_eye_limit_mag))
    return mag_of_bortle(site.bortle) if site.bortle is not None else USUAL_ZENITH_MAG


def _placed(
    circumstances: Circumstances,
    subjects: Sequence[Subject],
    paths: Paths,
    sun_deg: Array,
    brings: _Brings,
) -> tuple[Placed, ...]:
    """Return each subject with the times at which it can be observed, and with its place then."""
    if not subjects:
        return ()
    time_s = paths.vantage.time_s
    minimum = least_altitudes_deg(subjects, circumstances.person)
    above = clear_stretches(paths, minimum, circumstances.site.horizon)
    # Most targets of one kind wait for the same dark.
    levels = dark_levels_deg(subjects, sun_deg.min()).tolist()
    dark = {level: intervals(time_s, level - sun_deg)[0] for level in set(levels)}
    light = good_light(time_s, subjects, brings.features)
    stretches = usable_stretches(above, [dark[level] for level in levels], paths.altitude_at, light)
    window = (float(time_s[0]), float(time_s[-1]))
    red_spot_deg = circumstances.person.red_spot_longitude_deg
    targets = []
    for row, (subject, clear, usable) in enumerate(zip(subjects, above, stretches, strict=True)):
        ra_deg, dec_deg = _place(subject, paths, usable)
        feature, planet = brings.features.get(row), brings.planets.get(row)
        variable = brings.variables.get(row)
        # Features of the Moon set together, so their own places do not count.
        tie = tie_of(subject, feature, brings.is_moon_waxing) if feature else ()
        moments: tuple[Moment, ...] = ()
        if planet:
            moments = moments_of(paths.vantage, planet, usable, red_spot_deg)
        elif variable:
            moments = eclipse_moments(subject.name, variable, usable)
        watch = tuple(sorted(stretch for moment in moments for stretch in moment.watch))
        chance = Chance(target_key(subject.name), 0.0 if feature else ra_deg, usable, tie, watch)
        crossings = floor_crossings(clear, window, usable)
        targets.append(
            Placed(subject, ra_deg, dec_deg, chance, *crossings, feature, planet, variable, moments)
        )
    return tuple(targets)


def _place(subject: Subject, paths: Paths, usable: Sequence[Usable]) -> tuple[float, float]:
    """Return J2000 right ascension and declination; a body's at the start of its usable stretch."""
    if isinstance(subject, Fixed):
        return subject.ra_deg, subject.dec_deg
    assert isinstance(subject, Body)
    path, time_s = paths.bodies[subject.body], paths.vantage.time_s
    column = int(np.searchsorted(time_s, usable[0].start_s)) if usable else len(time_s) // 2
    return float(path.ra_deg[column]), float(path.dec_deg[column])
