"""Verdicts on what has to stand out from the sky: nebulae, galaxies, clusters."""

from collections.abc import Sequence

import numpy as np

from nightmode.arrays import Array, Indices
from nightmode.catalog.light import lights_of
from nightmode.eyepiece import Combination
from nightmode.kinds import Kind
from nightmode.model.target import DeepSky, Subject, shines_in
from nightmode.night.contrast import conditions_at
from nightmode.night.glass import glass
from nightmode.night.reasons import Needs, reason
from nightmode.night.table import Night
from nightmode.records import Record, replace
from nightmode.visibility import limits
from nightmode.visibility.filters import filter_loss_mag
from nightmode.visibility.photometry import nanolambert
from nightmode.visibility.profile import Light
from nightmode.visibility.reasons import Verdict
from nightmode.visibility.sky import site_glow_nl
from nightmode.visibility.verdict import EASY_DEX, FAIR_DEX, HARD_DEX, margin, word
from nightmode.words import Cause


def is_glow(subject: Subject) -> bool:
    """Return whether a target is judged by its contrast with the sky."""
    if isinstance(subject, DeepSky) and subject.kind is Kind.DARK_NEBULA:
        return subject.surface_brightness_mag is not None
    return not subject.kind.is_point


class Scene(Record, eq=False):
    """N targets, each under its own sky and in its own eyepiece: arrays (N,), curves of light (N, radii)."""

    light: Light
    conditions: limits.Conditions
    glass: dict[str, Array]

    def some(self, which: Indices) -> "Scene":
        """Return the scene of some of the targets."""
        count = len(self.light.magnitude)
        conditions = {n: np.broadcast_to(v, (count,))[which] for n, v in vars(self.conditions).items()}
        glass = {name: value[which] for name, value in self.glass.items()}
        return Scene(self.light.some(which), limits.Conditions(**conditions), glass)


def glow_verdicts(
    night: Night, rows: Indices, columns: Indices, combinations: Sequence[Combination], zenith_mag: float
) -> list[Verdict]:
    """Return the verdicts on targets `rows`, each at its own minute and through its own combination."""
    if not len(rows):
        return []
    scene = _scene(night, rows, columns, combinations, zenith_mag)
    found = margin(scene.light, scene.conditions.sky_mag(), scene.conditions.loss_mag(), **scene.glass)
    causes = limits.limiting_cause(scene.light, scene.conditions, found, **scene.glass)
    words = word(found.best_dex)
    would_do = _what_would_do(scene, causes, found.best_dex)
    verdicts = []
    for place, row in enumerate(rows.tolist()):
        dex = float(found.best_dex[place])
        needs = Needs(
            word=words[place],
            cause=causes[place],
            **{name: float(values[place]) for name, values in would_do.items()},
            seen_fraction=float(found.seen_fraction[place]),
            stars_seen=float(found.stars_seen[place]),
            field_deg=combinations[place].true_field_deg,
            power=combinations[place].power,
            power_times=float(found.power_times[place]),
        )
        why = reason(night, row, int(columns[place]), needs)
        verdicts.append(Verdict(needs.word, None if np.isnan(dex) else dex, needs.cause, why))
    return verdicts


def _scene(
    night: Night, rows: Indices, columns: Indices, combinations: Sequence[Combination], zenith_mag: float
) -> Scene:
    subjects = [night.targets[row].subject for row in rows]
    through = [
        glass(night.targets[row].kit.telescope, night.person, combination)
        for row, combination in zip(rows, combinations, strict=True)
    ]
    figures = {name: np.array([glass[name] for glass in through]) for name in through[0]}
    taken = np.array([filter_losses(night, row) for row in rows])
    figures |= {"sky_filter_mag": taken[:, 0], "object_filter_mag": taken[:, 1]}
    return Scene(lights_of(subjects), conditions_at(night, rows, columns, zenith_mag), figures)


def filter_losses(night: Night, row: int) -> tuple[float, float]:
    """Return the magnitudes the filter suggested for a target takes off sky and object."""
    target = night.targets[row]
    name = target.look.filter if target.look else None
    passband = next((filter_.passband for filter_ in target.kit.filters if filter_.name == name), None)
    return filter_loss_mag(passband, shines_in(target.subject)) if passband else (0.0, 0.0)


def _what_would_do(scene: Scene, causes: Array, dex: Array) -> dict[str, Array]:
    """Return what would give the next better word, (N,) each: a darker zenith or a larger aperture.

    The zenith is in mag/arcsec², with the Moon as it is and without it; the aperture in mm. NaN where that
    would not help, or is not what limits the target.
    """
    count = len(dex)
    goal = np.where(dex >= FAIR_DEX, EASY_DEX, np.where(dex >= HARD_DEX, FAIR_DEX, HARD_DEX))
    sky, moonless, aperture = (np.full(count, np.nan) for _ in range(3))
    if (asked := np.flatnonzero(causes == Cause.SKY)).size:
        sky[asked], moonless[asked] = _zeniths_needed(scene.some(asked), goal[asked])
    no_sky_helps = np.isnan(sky) & np.isnan(moonless) & ((causes == Cause.SKY) | (causes == Cause.APERTURE))
    if (asked := np.flatnonzero(no_sky_helps)).size:
        some = scene.some(asked)
        aperture[asked] = limits.aperture_needed_mm(
            some.light, some.conditions.sky_mag(), some.conditions.loss_mag(), goal[asked], **some.glass
        )
    return {"sky_mag": sky, "moonless_sky_mag": moonless, "aperture_mm": aperture}


def _zeniths_needed(scene: Scene, goal: Array) -> tuple[Array, Array]:
    """Return the moonless zenith, mag/arcsec², that gives the margin `goal`: with the Moon, and without."""
    conditions = scene.conditions
    needed = limits.sky_needed_mag(scene.light, conditions.loss_mag(), goal, **scene.glass)
    down = replace(conditions, moon_altitude_deg=np.full(len(goal), -90.0))
    return _zenith_of(needed, conditions), _zenith_of(needed, down)


def _zenith_of(needed_mag: Array, conditions: limits.Conditions) -> Array:
    """Return the zenith, mag/arcsec², under which the sky at a target is needed_mag; NaN if above 22."""
    site = site_glow_nl(conditions.zenith_mag, conditions.altitude_deg, conditions.mag_per_airmass)
    left = nanolambert(needed_mag) - (nanolambert(conditions.sky_mag()) - site)
    with np.errstate(invalid="ignore", divide="ignore"):
        zenith = conditions.zenith_mag - 2.5 * np.log10(np.where(left > 0.0, left, np.nan) / site)
    return np.where(zenith <= limits.DARKEST_MAG, zenith, np.nan)
