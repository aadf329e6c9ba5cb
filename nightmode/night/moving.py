"""Comets and minor planets put where they stand on one night."""

from collections.abc import Sequence

import numpy as np

from nightmode.constants import AU_KM, DAY_S, UNIX_JD
from nightmode.kinds import Kind
from nightmode.model.target import Comet, MinorPlanet, Orbiting, Subject
from nightmode.sky.constellation import constellation
from nightmode.sky.orbiting import OrbitPath, magnitude, motion_arcsec_per_h, orbit_path
from nightmode.sky.vantage import Vantage

#: How wide a coma usually is to the eye (our own; what is reported runs from 50,000 to 300,000 km).
USUAL_COMA_KM = 100_000.0


def placed(vantage: Vantage, subjects: Sequence[Subject]) -> list[Subject]:
    """Return the subjects with each comet and minor planet as it is in the middle of the vantage's night."""
    return [_placed(vantage, subject) if isinstance(subject, Orbiting) else subject for subject in subjects]


def _placed(vantage: Vantage, subject: Orbiting) -> Comet | MinorPlanet:
    path = orbit_path(vantage, subject.elements)
    middle = path.distance_au.size // 2
    x, y, z = path.direction[:, middle]
    ra_deg, dec_deg = float(np.degrees(np.arctan2(y, x)) % 360.0), float(np.degrees(np.arcsin(z)))
    night_jd = float(vantage.time_s[middle]) / DAY_S + UNIX_JD
    values = vars(subject) | {
        "ra_deg": ra_deg,
        "dec_deg": dec_deg,
        "constellation": constellation(ra_deg, dec_deg),
        "magnitude": _magnitude(vantage, subject, path, middle),
        "motion_arcsec_per_h": motion_arcsec_per_h(path, vantage.time_s),
        "elements_age_days": abs(night_jd - subject.elements.epoch_jd),
    }
    if subject.kind is Kind.MINOR_PLANET:
        return MinorPlanet(**{key: value for key, value in values.items() if key != "size_arcmin"})
    distance_km = float(path.distance_au[middle]) * AU_KM
    usual_arcmin = float(np.degrees(USUAL_COMA_KM / distance_km)) * 60.0
    return Comet(**values | {"size_arcmin": subject.size_arcmin or usual_arcmin})


def _magnitude(vantage: Vantage, subject: Orbiting, path: OrbitPath, middle: int) -> float | None:
    if subject.magnitude is not None:
        return subject.magnitude
    sun_site_au = np.linalg.norm(vantage.see("sun").xyz.au, axis=0)
    found = magnitude(subject.elements, path.distance_au, path.sun_distance_au, sun_site_au)
    return None if found is None else float(found[middle])
