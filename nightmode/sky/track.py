"""Tracks: where each target stands at each minute of a night."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from nightmode.constants import J2000_S, YEAR_S
from nightmode.model.site import Site
from nightmode.model.target import Body, Comet, Fixed, MinorPlanet, Subject
from nightmode.sky.bodies import refuse_sun
from nightmode.sky.kernel import Sky
from nightmode.sky.orbiting import orbit_path
from nightmode.sky.place import BodyPath, body_path
from nightmode.sky.refraction import refracted_deg
from nightmode.sky.vantage import Vantage, horizontal, stand
from nightmode.sky.vectors import angles, unit_vectors

#: Rows worked on at once: keeps the scratch arrays of a long list near 10 MB.
_ROWS = 128


@dataclass(frozen=True, eq=False)
class Tracks:
    """N targets at T instants: apparent (refracted) altitude and azimuth, in degrees, (N, T).

    Azimuth runs from north (0) through east (90). `bodies` holds the place of each Solar System body among
    the targets, by its name.
    """

    time_s: np.ndarray
    altitude_deg: np.ndarray
    azimuth_deg: np.ndarray
    bodies: Mapping[str, BodyPath] = field(default_factory=dict)


def tracks(sky: Sky, site: Site, subjects: Sequence[Subject], time_s: np.ndarray) -> Tracks:
    """Return the tracks of subjects over instants (T,) in Unix seconds.

    Fixed targets: J2000 places, proper motion to the middle of the instants, aberration (annual and daily),
    precession and nutation, all targets and instants at once. Parallax and the bending of light by the Sun
    are left out (under 0.001 degree). Bodies: topocentric, from the ephemeris, at every instant.
    NightmodeError for the Sun and outside the years of the ephemeris.
    """
    return tracks_at(stand(sky, site, time_s), subjects)


def tracks_at(vantage: Vantage, subjects: Sequence[Subject]) -> Tracks:
    """Return `tracks` for a vantage taken already."""
    times = vantage.time_s
    altitude_deg = np.empty((len(subjects), times.size))
    azimuth_deg = np.empty_like(altitude_deg)
    moving = {
        row: subject for row, subject in enumerate(subjects) if isinstance(subject, Comet | MinorPlanet)
    }
    stars = {
        row: subject
        for row, subject in enumerate(subjects)
        if isinstance(subject, Fixed) and row not in moving
    }
    if stars:
        _fill_fixed(vantage, stars, altitude_deg, azimuth_deg)
    for row, wanderer in moving.items():
        north, east, up = _from_site(vantage, orbit_path(vantage, wanderer.elements).direction)
        altitude, azimuth_deg[row] = angles(north, east, up)
        altitude_deg[row] = refracted_deg(altitude)
    bodies: dict[str, BodyPath] = {}
    for body, rows in _rows_of_bodies(subjects).items():
        position = vantage.see(body)
        altitude, azimuth = horizontal(vantage.rotation, position.xyz.au)
        altitude_deg[rows], azimuth_deg[rows] = refracted_deg(altitude), azimuth
        bodies[body] = body_path(position)
    return Tracks(times, altitude_deg, azimuth_deg, bodies)


def _rows_of_bodies(subjects: Sequence[Subject]) -> dict[str, list[int]]:
    """Return the rows of each body: a hundred features of the Moon are one look at it."""
    rows: dict[str, list[int]] = {}
    for row, subject in enumerate(subjects):
        if isinstance(subject, Body):
            refuse_sun(subject.name, subject.body)
            rows.setdefault(subject.body, []).append(row)
    return rows


def directions(subjects: Sequence[Fixed], at_s: float) -> np.ndarray:
    """Return unit vectors (N, 3) of fixed subjects, carried from J2000.0 by their proper motion."""
    ra, dec = np.array([(s.ra_deg, s.dec_deg) for s in subjects]).T
    motion_ra, motion_dec = np.array([(s.motion_ra_mas, s.motion_dec_mas) for s in subjects]).T
    moved_deg = (at_s - J2000_S) / YEAR_S / 3.6e6
    sky_scale = np.maximum(np.cos(np.radians(dec)), 1e-6)
    return unit_vectors(ra + moved_deg * motion_ra / sky_scale, dec + moved_deg * motion_dec)


def _fill_fixed(
    vantage: Vantage,
    subjects: Mapping[int, Fixed],
    altitude_deg: np.ndarray,
    azimuth_deg: np.ndarray,
) -> None:
    rows = list(subjects)
    vectors = directions(list(subjects.values()), float(np.mean(vantage.time_s)))
    for start in range(0, len(rows), _ROWS):
        some = rows[start : start + _ROWS]
        altitude, azimuth_deg[some] = fixed_horizontal(vantage, vectors[start : start + _ROWS])
        altitude_deg[some] = refracted_deg(altitude)


def fixed_horizontal(vantage: Vantage, vectors: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return geometric altitude and azimuth in degrees, (N, T), of fixed directions (N, 3)."""
    return angles(*fixed_components(vantage, vectors))


def fixed_components(vantage: Vantage, vectors: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return north, east and up, (N, T) each and of length one, of fixed directions (N, 3).

    Aberration is the classical sum of direction and velocity (error below 0.002 arcsec).
    """
    north, east, up = (vectors @ vantage.rotation[axis] + vantage.drift[axis] for axis in range(3))
    return north, east, up


def _from_site(vantage: Vantage, direction: np.ndarray) -> np.ndarray:
    """Return north, east and up (3, T) of unit vectors (3, T), aberration put in as for fixed targets."""
    return np.einsum("ijt,jt->it", vantage.rotation, direction + vantage.beta)
