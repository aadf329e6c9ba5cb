"""Suggests the combination to look at a target with, and says why: a rule of practice for each kind."""

from collections.abc import Callable, Sequence
from enum import Enum, auto
from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from nightmode import optics
from nightmode.arrays import Array, Indices
from nightmode.eyepiece import FINDING_SPILL, Combination, Limits, sensible
from nightmode.eyepiece.filters import PLAIN_DEX, Visibility, filter_for, helpful, is_bright_disc
from nightmode.kinds import STARS, Kind
from nightmode.model.kit import Filter
from nightmode.model.target import Double, LunarFeature, Subject, size_arcmin
from nightmode.records import Record
from nightmode.visibility.verdict import word_of
from nightmode.words import Word

#: A target is framed when the field is this much wider than it is (common practice, no published source).
ROOM = 1.5
#: Contrast margins closer than this, in dex, count as equal.
EQUAL_DEX = 0.05
#: The exit pupil that shows most on planets, and how far off a plain eyepiece may be before a Barlow does
#: better (common practice, no published source: 0.7 to 1 mm).
DETAIL_PUPIL_MM, DETAIL_TOLERANCE = 0.85, 1.6
#: A companion so much fainter drowns in the glare of its star at the power that would split equal stars
#: (common practice, no published source).
GLARE_MAG, GLARE_POWER = 3.0, 2.5
#: The widest beam for something of unknown brightness (common practice: low power first).
UNKNOWN_PUPIL_MM = 5.5
MOON_SIZE_ARCMIN = 31.0
#: Star clusters want dark sky round them: twice their size at least, three times where they are easy anyway,
#: and a wide beam (common practice, no published source).
CLUSTER_ROOM, CLUSTER_AMPLE_ROOM, CLUSTER_PUPIL_MM = 2.0, 3.0, 2.5
#: An easy planetary nebula is looked at for detail: it should look this wide, 1 mm of exit pupil being the
#: least (common practice, no published source).
DETAIL_APPARENT_DEG, LEAST_PUPIL_MM = 4.0, 1.0
#: One with a bright surface bears a narrower beam (common practice, no published source).
BRIGHT_LEAST_PUPIL_MM = 0.5
#: The exit pupil that resolves an easy globular (common practice, no published source: 1.5 to 2.5 mm).
RESOLVING_PUPIL_MM = 2.0
#: In a small telescope a globular still wants this power, down to this exit pupil (common practice).
RESOLVING_POWER, SMALL_PUPIL_MM = 70.0, 1.2
#: A Barlow is taken for detail where no plain eyepiece gives this share of the power wanted (our own).
NEARLY_POWER = 0.7


class Why(Enum):
    """Why a combination is suggested; `wording.suggestion` has the words."""

    PLANNED = auto()
    FIXED = auto()
    DETAIL = auto()
    TOO_CLOSE = auto()
    GLARE = auto()
    SPLITS = auto()
    WANTS_STILL_AIR = auto()
    HIGHEST = auto()
    WIDEST = auto()
    WHOLE_DISC = auto()
    LOW_POWER = auto()
    TOGETHER = auto()
    UNKNOWN = auto()
    CONTRAST = auto()
    SKY_AROUND = auto()
    MORE_STARS = auto()
    GATHERS = auto()
    RESOLVES = auto()
    SMALL = auto()


#: What a combination, with a filter or None, shows of the target.
Judge = Callable[[Combination, Filter | None], Visibility]
#: What a combination shows with whatever filter is best.
Shown = Callable[[Combination], Visibility]
Chosen = tuple[Combination, Why]


class Suggestion(Record):
    """A suggestion: the combination, a filter where one helps, and why."""

    combination: Combination
    filter: str | None
    why: Why


def suggest(
    subject: Subject,
    made: Sequence[Combination],
    bounds: Limits,
    filters: Sequence[Filter],
    judge: Judge,
    view_arcmin: float | None = None,
) -> Suggestion | None:
    """Return the combination to look with, by the rule for the target's kind; None without eyepieces.

    view_arcmin is the width of a view that holds the target and what is looked at together with it.
    """
    choices = sensible(made, bounds)
    if not choices:
        return None
    helping = helpful(subject, filters)
    chosen, why = _chosen(subject, made, choices, bounds, _with_the_best(judge, helping), view_arcmin)
    return Suggestion(chosen, filter_for(subject, helping, lambda filter_: judge(chosen, filter_)), why)


def _with_the_best(judge: Judge, filters: Sequence[Filter]) -> Shown:
    """Return a function that tells what a combination shows with the best of the helpful filters."""

    @cache  # asked of each combination several times
    def shown(combination: Combination) -> Visibility:
        seen = [judge(combination, tried) for tried in (None, *filters)]
        return max(seen, key=lambda visibility: visibility.stands_out_dex)

    return shown


def _chosen(
    subject: Subject,
    made: Sequence[Combination],
    choices: Sequence[Combination],
    bounds: Limits,
    shown: Shown,
    view_arcmin: float | None,
) -> Chosen:
    if subject.eyepiece and (planned := _planned(subject.eyepiece, made)):
        return planned, Why.PLANNED
    if subject.kind is Kind.PLANET or isinstance(subject, LunarFeature):
        return _for_detail(choices)
    if isinstance(subject, Double) and subject.separation_arcsec:
        return _for_double(subject, subject.separation_arcsec, choices, bounds)
    if view_arcmin is not None and (together := _together(choices, view_arcmin / 60.0)):
        return together, Why.TOGETHER
    return _for_extended(subject, choices, shown, _wider(made, bounds))


def _wider(made: Sequence[Combination], bounds: Limits) -> list[Combination]:
    """Return the combinations whose beam is a little too wide for the eye, as is allowed for finding."""
    return [
        combination
        for combination in made
        if combination.barlow is None
        and combination.power < bounds.lowest_power <= FINDING_SPILL * combination.power
    ]


def _planned(name: str, made: Sequence[Combination]) -> Combination | None:
    return next(
        (combination for combination in made if combination.eyepiece.casefold() == name.casefold()), None
    )


def without_barlow(choices: Sequence[Combination], *, or_reducer: bool = False) -> list[Combination]:
    """Return the combinations without a Barlow, and without a reducer unless or_reducer; if none, all."""
    return [choice for choice in choices if choice.barlow is None or (or_reducer and choice.widens)] or list(
        choices
    )


def wide_enough(choices: Sequence[Combination], wanted_deg: float) -> list[Combination]:
    """Return the combinations without a Barlow; if none has that field, those with a reducer too."""
    plain = without_barlow(choices)
    if max((combination.true_field_deg for combination in plain), default=0.0) >= wanted_deg:
        return plain
    return [combination for combination in choices if combination.widens or combination in plain]


def _for_detail(choices: Sequence[Combination]) -> Chosen:
    """Return the combination nearest to the best exit pupil for detail, without Barlow if near enough."""
    simple = min(without_barlow(choices), key=_off_detail)
    chosen = simple if _off_detail(simple) <= DETAIL_TOLERANCE else min(choices, key=_off_detail)
    return chosen, Why.DETAIL


def _off_detail(combination: Combination) -> float:
    ratio = combination.exit_pupil_mm / DETAIL_PUPIL_MM
    return max(ratio, 1.0 / ratio)


def for_pairs(
    separation_arcsec: ArrayLike, difference_mag: ArrayLike, choices: Sequence[Combination], bounds: Limits
) -> Indices:
    """Return for doubles the places among the sensible choices of the combinations that suit them.

    The lowest power that shows two stars, without Barlow if there is one; the highest if none does or if the
    pair is too close for the aperture. The lowest for pairs whose separation is NaN: they are single stars.
    """
    powers = [choice.power for choice in choices]
    suited = [choices.index(without_barlow(choices[first:])[0]) for first in range(len(choices))]
    last = len(choices) - 1
    separation = np.asarray(separation_arcsec, float)
    enough = np.searchsorted(powers, power_for_pair(separation, difference_mag))
    places = np.where(separation < bounds.dawes_arcsec, last, np.array([*suited, last])[enough])
    return np.where(np.isnan(separation), suited[0], places)


def power_for_pair(separation_arcsec: ArrayLike, difference_mag: ArrayLike) -> Array:
    """Return the power that shows doubles as two stars; more if the companion drowns in glare."""
    glare = np.where(np.asarray(difference_mag, float) >= GLARE_MAG, GLARE_POWER, 1.0)
    return optics.power_to_show(separation_arcsec) * glare


def _for_double(
    subject: Double, separation_arcsec: float, choices: Sequence[Combination], bounds: Limits
) -> Chosen:
    chosen = choices[int(for_pairs(separation_arcsec, subject.difference_mag, choices, bounds))]
    if separation_arcsec < bounds.dawes_arcsec:
        return chosen, Why.TOO_CLOSE
    if chosen.power >= float(power_for_pair(separation_arcsec, subject.difference_mag)):
        return chosen, Why.GLARE if subject.difference_mag >= GLARE_MAG else Why.SPLITS
    if separation_arcsec < bounds.seeing_arcsec:
        return chosen, Why.WANTS_STILL_AIR
    return chosen, Why.HIGHEST


def _together(choices: Sequence[Combination], view_deg: float) -> Combination | None:
    """Return the highest power whose field holds what is looked at together, or None."""
    holding = [
        combination
        for combination in wide_enough(choices, view_deg)
        if combination.true_field_deg >= view_deg
    ]
    return holding[-1] if holding else None


def _for_extended(
    subject: Subject, choices: Sequence[Combination], shown: Shown, wider: Sequence[Combination]
) -> Chosen:
    size_deg = width_deg(subject)
    simple = wide_enough(choices, (CLUSTER_ROOM if subject.kind.is_star_field else ROOM) * size_deg)
    framing = [combination for combination in simple if combination.true_field_deg >= ROOM * size_deg]
    if not framing:  # a third of the light is a fair price for a view that holds the target
        return _widest([*wider, *simple], ROOM * size_deg), Why.WIDEST
    if subject.kind is Kind.MOON:
        return framing[-1], Why.WHOLE_DISC
    if subject.kind in STARS:
        return framing[0], Why.LOW_POWER
    if subject.kind.is_star_field or _is_easy_with_its_cluster(subject, framing[0], shown):
        return _for_cluster(size_deg, framing, shown)
    best = _best_contrast(framing, shown)
    if best is None:
        low = [
            combination for combination in framing if combination.exit_pupil_mm <= UNKNOWN_PUPIL_MM
        ] or framing
        return low[0], Why.UNKNOWN
    every = [
        combination
        for combination in choices
        if combination.true_field_deg >= ROOM * size_deg and (not combination.widens or combination in simple)
    ]
    return _closer(subject, best, every, shown) or (best, Why.CONTRAST)


def _widest(choices: Sequence[Combination], room_deg: float) -> Combination:
    """Return the highest power whose field has room_deg; if there is none, the widest field."""
    roomy = [choice for choice in choices if choice.true_field_deg >= room_deg]
    if roomy:
        return max(roomy, key=lambda choice: choice.power)
    return max(choices, key=lambda choice: (choice.true_field_deg, choice.power))


def _best_contrast(choices: Sequence[Combination], shown: Shown) -> Combination | None:
    """Return the lowest power of nearly the best contrast that costs no word; None where none is known."""
    known = [combination for combination in choices if _dex(combination, shown) > float("-inf")]
    if not known:
        return None
    told = min(_rank(combination, shown) for combination in known)
    as_good = [combination for combination in known if _rank(combination, shown) == told]
    most = max(_dex(combination, shown) for combination in as_good)
    return next(combination for combination in as_good if _dex(combination, shown) >= most - EQUAL_DEX)


def _is_easy_with_its_cluster(subject: Subject, lowest: Combination, shown: Shown) -> bool:
    """Whether a nebula with its cluster shows at the lowest power: more would only reach fainter stars."""
    return subject.kind is Kind.CLUSTER_NEBULA and _is_easy(lowest, shown)


def _for_cluster(size_deg: float, framing: Sequence[Combination], shown: Shown) -> Chosen:
    """Return the combination for a cluster: with sky around an easy one, with most stars of a faint one."""
    roomy = [
        combination for combination in framing if combination.true_field_deg >= CLUSTER_ROOM * size_deg
    ] or framing[:1]
    ample = [
        combination
        for combination in roomy
        if combination.true_field_deg >= CLUSTER_AMPLE_ROOM * size_deg
        and combination.exit_pupil_mm >= CLUSTER_PUPIL_MM
    ] or roomy[:1]
    usual = ample[-1] if size_deg else ample[0]
    best = None if _is_easy(usual, shown) else _best_contrast(roomy, shown)
    if best is None or best == usual:
        return usual, Why.SKY_AROUND
    return best, Why.MORE_STARS if best.power > usual.power else Why.GATHERS


def _closer(
    subject: Subject, best: Combination, framing: Sequence[Combination], shown: Shown
) -> Chosen | None:
    """Return a combination with more power than contrast needs, where that shows detail at no cost."""
    if subject.kind is Kind.GLOBULAR_CLUSTER:
        return _resolving(best, framing, shown)
    if subject.kind is Kind.PLANETARY_NEBULA and (size_deg := width_deg(subject)):
        return _for_small_disc(subject, size_deg, best, framing, shown)
    return None


def _resolving(best: Combination, framing: Sequence[Combination], shown: Shown) -> Chosen | None:
    """Return what resolves a globular cluster into stars, where it stands out plainly and costs no word."""
    plain = [
        combination
        for combination in framing
        if combination.exit_pupil_mm >= LEAST_PUPIL_MM
        and _dex(combination, shown) >= PLAIN_DEX
        and _rank(combination, shown) <= _rank(best, shown)
    ]
    aperture_mm = best.power * best.exit_pupil_mm
    wanted = max(aperture_mm / RESOLVING_PUPIL_MM, min(RESOLVING_POWER, aperture_mm / SMALL_PUPIL_MM))
    chosen = _nearest_power(plain, wanted)
    return (chosen, Why.RESOLVES) if chosen and chosen.power > best.power else None


def _for_small_disc(
    subject: Subject, size_deg: float, best: Combination, framing: Sequence[Combination], shown: Shown
) -> Chosen | None:
    """Return what makes a planetary nebula look large, as long as it stays easy or loses no contrast."""
    most = _dex(best, shown)
    enough, told = min(PLAIN_DEX, most - EQUAL_DEX), _rank(best, shown)
    dim_mm = BRIGHT_LEAST_PUPIL_MM if is_bright_disc(subject) else LEAST_PUPIL_MM

    def is_as_good(combination: Combination) -> bool:
        dex = _dex(combination, shown)
        least_mm = dim_mm if dex >= PLAIN_DEX else LEAST_PUPIL_MM
        return combination.exit_pupil_mm >= least_mm and dex >= enough and _rank(combination, shown) <= told

    higher = [combination for combination in framing if combination.power > best.power]
    as_good, wanted = list(filter(is_as_good, higher)), DETAIL_APPARENT_DEG / size_deg
    if not as_good or best.power >= wanted:
        return None
    is_enough = as_good[-1].power >= wanted
    chosen = _nearest_power(as_good, wanted) if is_enough else _strongest(as_good)
    return (chosen, Why.SMALL) if chosen else None


def _nearest_power(choices: Sequence[Combination], wanted: float) -> Combination | None:
    """Return the combination nearest in power; without Barlow if that gives nearly the power wanted."""
    if not choices:
        return None
    simple = [combination for combination in choices if combination.barlow is None]
    near = [combination for combination in simple if combination.power >= NEARLY_POWER * wanted]
    return min(near or choices, key=lambda combination: abs(combination.power / wanted - 1.0))


def _strongest(choices: Sequence[Combination]) -> Combination:
    """Return the highest power without Barlow; with a Barlow if that gives clearly more power."""
    simple, strongest = without_barlow(choices)[-1], choices[-1]
    return simple if simple.power >= NEARLY_POWER * strongest.power else strongest


def _dex(combination: Combination, shown: Shown) -> float:
    return shown(combination).stands_out_dex


def _is_easy(combination: Combination, shown: Shown) -> bool:
    return _dex(combination, shown) >= PLAIN_DEX and _rank(combination, shown) == Word.EASY.rank


def _rank(combination: Combination, shown: Shown) -> int:
    """The rank of the word for what a combination shows; that of easy where it is not known."""
    margin_dex = shown(combination).margin_dex
    return Word.EASY.rank if margin_dex is None else word_of(margin_dex).rank


def width_deg(subject: Subject) -> float:
    """Return how wide a target is, in degrees; 0 for what has no size."""
    if subject.kind is Kind.MOON:
        return MOON_SIZE_ARCMIN / 60
    return (size_arcmin(subject) or 0.0) / 60


def alternatives(suggested: Suggestion, choices: Sequence[Combination]) -> list[Combination]:
    """Return the sensible combinations in the order of stepping, the suggested one first.

    After the highest power comes the lowest.
    """
    after = [combination for combination in choices if combination.power > suggested.combination.power]
    before = [
        combination
        for combination in choices
        if combination.power <= suggested.combination.power and combination != suggested.combination
    ]
    return [suggested.combination, *after, *before]
