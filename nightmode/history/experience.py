"""Compares the verdicts easy, fair and hard with what was seen, and finds the experience that fits best.

The likelihood. A target whose contrast is c dex above the threshold of an eye with the factor F0 stands
c + log10(F0 / F) above that of an eye with F: thresholds of Crumey (2014) are in proportion to F, for
surfaces (eq. 41) as for stars (eq. 34). It is seen with the chance

    p = slip + (1 - 2 slip) Phi((c + log10(F0 / F)) / s)

Phi is the normal distribution: chances of seeing follow it (Blackwell 1946, J. Opt. Soc. Am. 36, 624; from
memory), so half of what stands right at the threshold is seen. s is how wide the edge of sight is, in dex;
slip is for keys pressed by mistake. A suspected target counts half as seen, half as not.

The prior. log10 F is normal about that of the usual observer, 2.4, with a spread of 0.15 dex: Crumey's range,
1.4 to 2.4, is 0.23 dex wide. log s is normal about log 0.2 with a spread of a factor 1.6; it is summed over.
"""

from collections.abc import Iterable, Sequence

import numpy as np

from nightmode.defaults import FIELD_FACTOR
from nightmode.history.objects import identify
from nightmode.history.sitting import Look, Sitting
from nightmode.kinds import POINTS
from nightmode.model.session import Outcome
from nightmode.records import Record
from nightmode.words import Word

PRIOR_DEX = 0.15
EDGE_DEX, EDGE_SPREAD = 0.2, 1.6
SLIP = 0.02
#: The interval holds this share of what is likely.
HELD = 0.95
#: Nothing is said with fewer ticks, or if the factor is not known better than before by this ratio (our own
#: rule).
LEAST_TICKS, LEAST_KNOWN_DEX = 20, 0.6 * PRIOR_DEX

_SHARE = {Outcome.SEEN: 1.0, Outcome.SUSPECTED: 0.5, Outcome.NOT_SEEN: 0.0}
_LOG_FACTOR = np.linspace(np.log10(0.5), 1.0, 261)
_EDGES = np.geomspace(0.05, 0.8, 17)
_POINT_KINDS = frozenset(kind.value for kind in POINTS)


class Trial(Record):
    """A tick: its prediction (a word, or None, margin and contrast for an eye with `factor`) and its outcome.

    Only the contrast is in proportion to the factor. The margin, by which the word goes, counts the light of
    a target, too, and of an open cluster that is the same for every eye (`visibility.margin`).
    """

    word: Word | None
    margin_dex: float
    contrast_dex: float
    factor: float
    outcome: Outcome


class Learnt(Record):
    """The experience that fits the ticks best, and the interval that holds it with a probability of 95 %.

    known_dex is the spread of log10 of the factor.
    """

    factor: float
    low: float
    high: float
    known_dex: float
    ticks: int

    @property
    def is_enough(self) -> bool:
        """Whether there are enough ticks to rely on the result."""
        return self.ticks >= LEAST_TICKS and self.known_dex <= LEAST_KNOWN_DEX


def trials(sittings: Iterable[Sitting], usual_factor: float) -> list[Trial]:
    """Return every tick that says something about the eye: of glows with a margin.

    usual_factor is used where a journal does not say which experience its margins assumed. Bodies and double
    stars are left out: they depend on the air, not on the eye. Where a journal tells no contrast it is of the
    first version, whose margin was the contrast.
    """
    found: list[Trial] = []
    for sitting in sittings:
        says_factor = any(look.experience is not None for look in sitting.looks)
        for look in sitting.last_looks:
            factor = look.experience or (None if says_factor or _is_point(look) else usual_factor)
            if look.outcome in _SHARE and look.margin_dex is not None and factor is not None:
                contrast_dex = look.margin_dex if look.contrast_dex is None else look.contrast_dex
                found.append(Trial(look.verdict, look.margin_dex, contrast_dex, factor, look.outcome))
    return found


def _is_point(look: Look) -> bool:
    return identify(look.name).kind in _POINT_KINDS


def learn(found: Sequence[Trial]) -> Learnt:
    """Return the experience that fits what was seen, by the likelihood and the priors above."""
    chance = _posterior(found)
    mean = float(np.sum(chance * _LOG_FACTOR))
    spread = float(np.sqrt(np.sum(chance * (_LOG_FACTOR - mean) ** 2)))
    ends = np.interp([(1 - HELD) / 2, 0.5, (1 + HELD) / 2], np.cumsum(chance), _LOG_FACTOR)
    low, middle, high = (float(factor) for factor in 10.0**ends)
    return Learnt(middle, low, high, spread, len(found))


def _posterior(found: Sequence[Trial]) -> np.ndarray:
    """Return the probability of each factor of the grid, (F,), summed over the width s."""
    log_edge = np.log(_EDGES / EDGE_DEX) / np.log(EDGE_SPREAD)
    away = (_LOG_FACTOR - np.log10(FIELD_FACTOR)) / PRIOR_DEX
    log_chance = -0.5 * (log_edge[:, None] ** 2 + away[None, :] ** 2)
    for trial in found:
        contrast = trial.contrast_dex + np.log10(trial.factor) - _LOG_FACTOR
        seen = SLIP + (1.0 - 2.0 * SLIP) * _normal(contrast[None, :] / _EDGES[:, None])
        share = _SHARE[trial.outcome]
        log_chance += share * np.log(seen) + (1.0 - share) * np.log1p(-seen)
    chance = np.exp(log_chance - log_chance.max()).sum(axis=0)
    return chance / chance.sum()


def _normal(x: np.ndarray) -> np.ndarray:
    """Return the normal distribution up to x, good to 1e-7 (Abramowitz & Stegun 1964, eq. 26.2.17)."""
    t = 1.0 / (1.0 + 0.2316419 * np.abs(x))
    series = t * (0.319381530 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))))
    tail = np.exp(-0.5 * x**2) / np.sqrt(2.0 * np.pi) * series
    return np.where(x >= 0.0, 1.0 - tail, tail)


def margins_with(found: Sequence[Trial], factor: float) -> np.ndarray:
    """Return about the margins that an eye with another factor would have had, in dex, (N,).

    They are taken to move as the contrast does. Those of open clusters move four fifths as far, which is
    0.02 dex less between 2.4 and 1.8.
    """
    return np.array([trial.margin_dex + np.log10(trial.factor / factor) for trial in found])
