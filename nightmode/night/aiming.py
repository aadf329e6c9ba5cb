"""Where the targets of a night are, among the stars that its sky shows."""

import numpy as np

from nightmode.aim.chain import finder_chain
from nightmode.aim.frame import direction
from nightmode.aim.guide import guide
from nightmode.aim.pointing import Extent, FieldOfView, Pointing
from nightmode.aim.shows import SUN_DEG, Air, IcrsStars, Stars, apparent, dimmed_mag, stars_here
from nightmode.arrays import Array
from nightmode.catalog.field import FieldStars, field_stars
from nightmode.eyepiece import Combination
from nightmode.kinds import Kind
from nightmode.model.kit import Finder, Instrument, View
from nightmode.model.target import Body, DeepSky, Double, Subject
from nightmode.night.aligning import air_at, some_of
from nightmode.night.table import Night
from nightmode.sky.planets import moon_magnitude
from nightmode.sky.vectors import angle_between_deg, unit_vectors
from nightmode.visibility.extinction import air_loss_mag
from nightmode.visibility.eye import star_limit_mag
from nightmode.visibility.glass import Glass

#: Stars farther from a target than this are neither drawn nor spoken of.
REACH_DEG = 36.0
#: What is assumed of a finder without figures: its aperture in mm, its power, and its power times its field
#: in degrees (common practice, no published source: 6x30 shows 7 degrees, 8x50 5.3).
USUAL_APERTURE_MM, USUAL_POWER, USUAL_APPARENT_DEG = 30.0, 6.0, 42.0
MOON, MOON_DEG = "Moon", 0.52


class Aiming:
    """Points to the targets of a night, and keeps the star to begin with as long as it serves.

    What was worked out for the last target, minute and sky is kept.
    """

    def __init__(self) -> None:
        self._asked: tuple[object, ...] = ()
        self._found: Pointing | None = None

    def at(self, night: Night, row: int, now_s: float) -> Pointing | None:
        """Return what points to a target in the minute of an instant; None below the horizon or by day."""
        minute = int(now_s // 60)
        asked = (night, row, minute)
        if asked != self._asked:
            before = self._found.guide.begin if self._found and self._asked[1] == row else None
            kept = self._found.called[before.star] if self._found and before else ""
            self._asked, self._found = asked, pointing_at(night, row, minute * 60.0, kept)
        return self._found


def pointing_at(night: Night, row: int, now_s: float, keep: str = "") -> Pointing | None:
    """Return what points to a target at an instant; None while it is down, or the Sun is above -6 degrees.

    keep is the name of the star that was begun with the last time.
    """
    altitude_deg = night.altitude_at(row, now_s)
    if altitude_deg <= 0.0 or night.sun_altitude_at(now_s) > SUN_DEG:
        return None
    rotation = night.rotation_at(now_s)
    target = direction(altitude_deg, night.azimuth_at(row, now_s))
    field, air = field_stars(), air_at(night, now_s)
    known, called = _known(night, field, now_s, target)
    stars = stars_here(known, rotation, air, night.site.horizon)
    finders = night.targets[row].kit.finders
    rings = (finder.rings_deg for finder in finders if finder.kind == "bullseye" and finder.rings_deg)
    rings_deg = tuple(sorted(next(rings, ())))
    kept = called.index(keep) if keep and keep in called else None
    found = guide(stars, target, rings_deg, kept)
    fov = margin = hops = None
    if finder := next((finder for finder in finders if finder.kind == "optical"), None):
        fov = _field_of(finder)
        margin = _finder_margin(night, finder, fov, stars, air)
        begin = found.begin.star if found.begin else None
        hops = finder_chain(stars, margin, target, fov.field_deg, begin)
    subject = night.targets[row].subject
    return Pointing(
        name=subject.name,
        stars=stars,
        called=called,
        guide=found,
        air=air,
        rings_deg=rings_deg,
        fist_deg=night.person.fist_deg,
        pole=apparent(np.array([0.0, 0.0, 1.0]), rotation),
        horizon=night.site.horizon,
        extent=_extent(subject),
        finder=fov,
        finder_margin_mag=margin,
        chain=hops,
    )


def zenith_then(night: Night, now_s: float, then_s: float) -> Array:
    """Return the place among the stars that is in the zenith at then_s, as a direction (3,) at now_s."""
    return night.rotation_at(now_s) @ night.rotation_at(then_s).T @ np.array([0.0, 0.0, 1.0])


def through(telescope: Instrument, combination: Combination) -> FieldOfView:
    """Return the field that a telescope shows with an eyepiece."""
    return FieldOfView(
        name=combination.name,
        power=combination.power,
        field_deg=combination.true_field_deg,
        view=telescope.shows,
        is_rolled=telescope.shows is View.TURNED and telescope.obstruction_mm > 0.0,
    )


def _known(night: Night, field: FieldStars, now_s: float, target: Array) -> tuple[IcrsStars, tuple[str, ...]]:
    """Return the stars round a target, the planets and the Moon after them, and what they are called."""
    rotation = night.rotation_at(now_s)
    rows = np.flatnonzero(field.direction @ (rotation.T @ target) > np.cos(np.radians(REACH_DEG)))
    stars = some_of(field, rows)
    moon = np.array([_moon_icrs(night, now_s)])
    bodies = np.concatenate([night.planets.direction[night.column(now_s)], moon])
    phase_deg = float(night.moon.light_phase_deg[night.column(now_s)])
    light = np.append(night.planets.magnitude, moon_magnitude(phase_deg))
    near = angle_between_deg(bodies @ rotation.T, target) <= REACH_DEG
    names = [name.title() for name in (*night.planets.names, MOON)]
    kept = [name for name, is_near in zip(names, near.tolist(), strict=True) if is_near]
    known = IcrsStars(
        np.concatenate([stars.direction, bodies[near]]),
        np.append(stars.magnitude, light[near]),
        np.append(stars.has_name, np.ones(len(kept), bool)),
        np.append(stars.has_word, np.ones(len(kept), bool)),
        np.append(stars.is_steady, [name != MOON for name in kept]).astype(bool),
        np.append(stars.is_fixed, np.zeros(len(kept), bool)),
    )
    called = (field.name[row] or field.designation[row] for row in rows)
    return known, (*called, *kept)


def _moon_icrs(night: Night, now_s: float) -> Array:
    column = night.column(now_s)
    return unit_vectors(night.moon.ra_deg[column], night.moon.dec_deg[column])


def _field_of(finder: Finder) -> FieldOfView:
    power = finder.magnification or USUAL_POWER
    return FieldOfView(finder.name, power, finder.field_deg or USUAL_APPARENT_DEG / power, finder.shows)


def _finder_margin(night: Night, finder: Finder, fov: FieldOfView, stars: Stars, air: Air) -> Array:
    """Return by how many magnitudes each star is brighter than the faintest that a finder shows (N,)."""
    glass = Glass(
        aperture_mm=finder.aperture_mm or USUAL_APERTURE_MM,
        magnification=fov.power,
        pupil_mm=night.person.pupil_mm,
        field_factor=night.person.experience,
    )
    limit = star_limit_mag(air.sky_mag(stars.direction), glass)
    at_zenith = air_loss_mag(90.0, air.mag_per_airmass)
    return limit - dimmed_mag(stars.magnitude, stars.altitude_deg, air.mag_per_airmass) - at_zenith


def _extent(subject: Subject) -> Extent:
    def degrees(value: float | None, parts: float) -> float | None:
        return None if value is None else value / parts

    if isinstance(subject, DeepSky):
        return Extent(degrees(subject.size_arcmin, 60.0))
    if isinstance(subject, Body) and subject.kind is Kind.MOON:
        return Extent(MOON_DEG)
    if isinstance(subject, Double):
        apart = degrees(subject.separation_arcsec, 3600.0)
        return Extent(companion_deg=apart, position_angle_deg=subject.position_angle_deg)
    return Extent()
