"""Verdicts on what has to stand out from the sky: nebulae, galaxies, clusters."""

from collections.abc import Sequence

import numpy as np

from nightmode.arrays import Array, Indices, known
from nightmode.eyepiece import Combination
from nightmode.kinds import Kind
from nightmode.model.target import DeepSky, Subject
from nightmode.night.cell import Cell
from nightmode.night.reasons import Needs, reason
from nightmode.night.remedies import remedies
from nightmode.night.scene import Scene, scene_of
from nightmode.night.table import Night
from nightmode.visibility import limits
from nightmode.visibility.margin import Margin, margin, word
from nightmode.visibility.reasons import Verdict
from nightmode.words import Cause, Word


def is_glow(subject: Subject) -> bool:
    """Return whether a target is judged by its contrast with the sky."""
    if isinstance(subject, DeepSky) and subject.kind is Kind.DARK_NEBULA:
        return subject.surface_brightness_mag is not None
    return not subject.kind.is_point


def glow_verdicts(
    night: Night, rows: Indices, columns: Indices, combinations: Sequence[Combination], zenith_mag: float
) -> list[Verdict]:
    """Return the verdicts on targets `rows`, each at its own minute and through its own combination."""
    if not len(rows):
        return []
    scene = scene_of(night, rows, columns, combinations, zenith_mag)
    found = _margin(scene)
    causes = limits.limiting_cause(scene.light, scene.conditions, scene.glass, found)
    words = word(found.margin_dex)
    without_moon = _words_without_moon(scene, causes, words)
    helping = remedies(night, rows, scene, causes, found.margin_dex)
    verdicts = []
    for place, row in enumerate(rows.tolist()):
        needs = Needs(
            word=words[place],
            cause=causes[place],
            remedies=helping[place],
            seen_fraction=float(found.seen_fraction[place]),
            stars_seen=float(found.stars_seen[place]),
            field_deg=combinations[place].true_field_deg,
            power=combinations[place].power,
            power_times=float(found.power_times[place]),
            without_moon=without_moon[place],
        )
        why = reason(Cell(night, row, int(columns[place])), needs)
        margin_dex, contrast_dex = known(found.margin_dex[place]), known(found.contrast_dex[place])
        verdicts.append(Verdict(needs.word, margin_dex, needs.cause, why, contrast_dex))
    return verdicts


def glow_words(
    night: Night, rows: Indices, columns: Indices, combinations: Sequence[Combination], zenith_mag: float
) -> list[Word]:
    """Return the words of `glow_verdicts` alone."""
    if not len(rows):
        return []
    return list(word(_margin(scene_of(night, rows, columns, combinations, zenith_mag)).margin_dex))


def _margin(scene: Scene) -> Margin:
    return margin(scene.light, scene.conditions.sky_mag(), scene.conditions.loss_mag(), scene.glass)


def _words_without_moon(scene: Scene, causes: Array, words: Array) -> Array:
    """Return the words of targets, (N,), those that the Moon limits as they would be with the Moon down."""
    told = words.copy()
    if (which := np.flatnonzero(causes == Cause.MOON)).size:
        some = scene.some(which)
        down = some.conditions.moonless()
        found = margin(some.light, down.sky_mag(), down.loss_mag(), some.glass)
        told[which] = word(found.margin_dex)
    return told
