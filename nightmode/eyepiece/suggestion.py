"""Suggests the combination to look at a target with, and says why: a rule of practice for each kind."""

from collections.abc import Sequence

import numpy as np

from nightmode.eyepiece import FINDING_SPILL, Combination, Limits, sensible
from nightmode.eyepiece.choices import wide_enough, widest, without_barlow
from nightmode.eyepiece.clusters import CLUSTER_ROOM, for_cluster
from nightmode.eyepiece.dim import for_stars
from nightmode.eyepiece.filters import filter_for, helpful
from nightmode.eyepiece.glows import for_glow, room
from nightmode.eyepiece.pairs import for_double
from nightmode.eyepiece.shown import Judge, Shown, as_filtered, is_easy
from nightmode.eyepiece.why import Chosen, Why
from nightmode.kinds import SINGLE, STARS, Kind
from nightmode.model.kit import Filter
from nightmode.model.target import Double, Fixed, LunarFeature, Subject, size_arcmin
from nightmode.records import Record

#: The exit pupil that shows most on planets, and how far off a plain eyepiece may be before a Barlow does
#: better (common practice, no published source: 0.7 to 1 mm).
DETAIL_PUPIL_MM, DETAIL_TOLERANCE = 0.85, 1.4
MOON_SIZE_ARCMIN = 31.0
#: What is looked at together wants so much room (common practice, no published source).
VIEW_ROOM = 1.2


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
    chosen, why = _chosen(subject, made, choices, bounds, as_filtered(subject, judge, helping), view_arcmin)
    filter_ = filter_for(subject, helping, lambda tried: judge(chosen, tried))
    return Suggestion(chosen, filter_.name if filter_ else None, why)


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
        return for_double(subject, subject.separation_arcsec, choices, bounds)
    if view_arcmin is not None and (together := _together(choices, view_arcmin / 60.0)):
        return together, Why.TOGETHER
    return _for_extended(subject, choices, shown, _wider(made, bounds), bounds)


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


def _for_detail(choices: Sequence[Combination]) -> Chosen:
    """Return the combination nearest to the best exit pupil for detail, without Barlow if near enough."""
    simple = min(without_barlow(choices), key=_off_detail)
    chosen = simple if _off_detail(simple) <= DETAIL_TOLERANCE else min(choices, key=_off_detail)
    return chosen, Why.DETAIL


def _off_detail(combination: Combination) -> float:
    ratio = combination.exit_pupil_mm / DETAIL_PUPIL_MM
    return max(ratio, 1.0 / ratio)


def _together(choices: Sequence[Combination], view_deg: float) -> Combination | None:
    """Return the highest power whose field holds what belongs together, with room if any has, or None."""
    simple = wide_enough(choices, view_deg)
    holding = [combination for combination in simple if combination.true_field_deg >= view_deg]
    roomy = [combination for combination in holding if combination.true_field_deg >= VIEW_ROOM * view_deg]
    best = roomy or holding[:1]
    return best[-1] if best else None


def _for_star(subject: Subject, choices: Sequence[Combination], bounds: Limits) -> Chosen:
    """Return the lowest power, or for a dim star as much as darkens the sky behind it."""
    if isinstance(subject, Double):  # of an unknown separation: its fainter star counts
        magnitude = subject.companion_magnitude
    else:
        magnitude = subject.magnitude if isinstance(subject, Fixed) else None
    chosen = choices[int(for_stars(np.nan if magnitude is None else magnitude, choices, bounds))]
    return chosen, Why.LOW_POWER if chosen == choices[0] else Why.MORE_STARS


def _for_extended(
    subject: Subject,
    choices: Sequence[Combination],
    shown: Shown,
    wider: Sequence[Combination],
    bounds: Limits,
) -> Chosen:
    size_deg = width_deg(subject)
    wanted_deg = room(subject.kind) * size_deg
    is_field = subject.kind.is_star_field
    simple = wide_enough(choices, CLUSTER_ROOM * size_deg if is_field else wanted_deg)
    framing = [combination for combination in simple if combination.true_field_deg >= wanted_deg]
    if not framing:  # a third of the light is a fair price for a view that holds the target
        return widest([*wider, *simple], wanted_deg), Why.WIDEST
    if subject.kind is Kind.MOON:
        return framing[-1], Why.WHOLE_DISC
    if subject.kind in STARS or subject.kind in SINGLE:
        return _for_star(subject, framing, bounds)
    if is_field or _is_easy_with_its_cluster(subject, framing[0], shown):
        return for_cluster(size_deg, framing, shown)
    every = [
        combination
        for combination in choices
        if combination.true_field_deg >= wanted_deg and (not combination.widens or combination in simple)
    ]
    return for_glow(subject, size_deg, framing, every, shown)


def _is_easy_with_its_cluster(subject: Subject, lowest: Combination, shown: Shown) -> bool:
    """Whether a nebula with its cluster shows at the lowest power: more would only reach fainter stars."""
    return subject.kind is Kind.CLUSTER_NEBULA and is_easy(shown(lowest))


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
