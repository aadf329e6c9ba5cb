"""The combination that suits a galaxy, a nebula or a globular: held with room, and shown large enough."""

from collections.abc import Sequence
from typing import NamedTuple

from nightmode.eyepiece import Combination
from nightmode.eyepiece.choices import nearest_power
from nightmode.eyepiece.filters import Visibility, is_bright_disc
from nightmode.eyepiece.shown import Shown, best_contrast, rank
from nightmode.eyepiece.why import Chosen, Why
from nightmode.kinds import Kind
from nightmode.model.target import Subject
from nightmode.words import Word

#: A target is framed when the field is this much wider than it is; a globular, whose outskirts hardly show,
#: with less room (common practice, no published source).
ROOM, GLOBULAR_ROOM = 1.5, 1.2
#: The widest beam for something of unknown brightness (common practice: low power first).
UNKNOWN_PUPIL_MM = 5.5
#: The exit pupils wanted for galaxies and for nebulae (common practice, no published source).
GALAXY_PUPIL_MM, NEBULA_PUPIL_MM = 3.0, 4.0
#: What looks narrower than this in them gets more power, up to that of a beam of 2 mm; one below 1.5 mm
#: is never taken for it (common practice, no published source).
APPARENT_DEG, SMALL_PUPIL_MM, DIM_PUPIL_MM = 20.0, 2.0, 1.5
#: A small planetary nebula is looked at for detail: it should look this wide, down to these exit pupils, the
#: narrower one where its surface is bright (common practice, no published source).
DISC_APPARENT_DEG, DISC_PUPIL_MM, BRIGHT_DISC_PUPIL_MM = 5.0, 1.0, 0.7
#: The exit pupil that resolves a globular (common practice, no published source: 1.5 to 2.5 mm). In a small
#: telescope it still wants this power, down to that exit pupil.
RESOLVING_PUPIL_MM, RESOLVING_POWER, RESOLVING_LEAST_MM = 1.6, 70.0, 1.2
#: What a larger view may cost in dex, where the target is not easy anyway (our own).
COST_DEX = 0.15


class Wanted(NamedTuple):
    """The power wanted, the narrowest beam for it, and why."""

    power: float
    least_pupil_mm: float
    why: Why


def room(kind: Kind) -> float:
    """Return how much wider than a target the field should be that it is looked at in."""
    return GLOBULAR_ROOM if kind is Kind.GLOBULAR_CLUSTER else ROOM


def for_glow(
    subject: Subject,
    size_deg: float,
    framing: Sequence[Combination],
    with_barlow: Sequence[Combination],
    shown: Shown,
) -> Chosen:
    """Return the combination for a glow, and why: best contrast, or as large as that costs little.

    framing are the combinations that hold it, with_barlow the same and those with a Barlow.
    """
    best = best_contrast(framing, shown)
    if best is None:
        low = [choice for choice in framing if choice.exit_pupil_mm <= UNKNOWN_PUPIL_MM] or framing
        return low[0], Why.UNKNOWN
    wanted = _wanted(subject, size_deg, best.power * best.exit_pupil_mm)
    bright = [choice for choice in with_barlow if choice.exit_pupil_mm >= wanted.least_pupil_mm]
    at_best = shown(best)
    bearable = [choice for choice in bright if _costs_little(shown(choice), at_best)]
    chosen = nearest_power(bearable, wanted.power)
    return (chosen, wanted.why) if chosen and chosen.power > best.power else (best, Why.CONTRAST)


def _costs_little(seen: Visibility, at_best: Visibility) -> bool:
    """Return whether a choice costs no word against the best, and little unless the target is easy."""
    if seen.contrast_dex is None or (told := rank(seen)) > rank(at_best):
        return False
    if seen.margin_dex is None or at_best.margin_dex is None or told == Word.EASY.rank:
        return True
    return seen.margin_dex >= at_best.margin_dex - COST_DEX


def _wanted(subject: Subject, size_deg: float, aperture_mm: float) -> Wanted:
    if subject.kind is Kind.GLOBULAR_CLUSTER:
        least = min(RESOLVING_POWER, aperture_mm / RESOLVING_LEAST_MM)
        return Wanted(max(aperture_mm / RESOLVING_PUPIL_MM, least), DISC_PUPIL_MM, Why.RESOLVES)
    is_galaxy = subject.kind in (Kind.GALAXY, Kind.GALAXY_GROUP)
    usual = aperture_mm / (GALAXY_PUPIL_MM if is_galaxy else NEBULA_PUPIL_MM)
    if not size_deg:
        return Wanted(usual, DIM_PUPIL_MM, Why.LARGER)
    large = max(usual, min(APPARENT_DEG / size_deg, aperture_mm / SMALL_PUPIL_MM))
    if subject.kind is not Kind.PLANETARY_NEBULA:
        return Wanted(large, DIM_PUPIL_MM, Why.LARGER)
    least_mm = BRIGHT_DISC_PUPIL_MM if is_bright_disc(subject) else DISC_PUPIL_MM
    disc = min(DISC_APPARENT_DEG / size_deg, aperture_mm / least_mm)
    return Wanted(max(large, disc), least_mm, Why.SMALL if disc > usual else Why.LARGER)
