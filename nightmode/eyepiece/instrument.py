"""Chooses among several instruments for a target: by field, by verdict, then by aperture."""

import math
from collections.abc import Sequence

from nightmode.eyepiece.clusters import CLUSTER_ROOM
from nightmode.eyepiece.suggestion import width_deg
from nightmode.model.target import Subject
from nightmode.records import Record
from nightmode.words import Word

#: Apertures, and fields that do not hold the target, count as equal up to this ratio (our own rule).
AS_LARGE = 1.25


class Offer(Record):
    """What one instrument offers for a target: the verdict, the widest sensible field, the aperture.

    field_deg is 0 where there is no eyepiece to look with.
    """

    word: Word
    field_deg: float
    aperture_mm: float


def suited(subject: Subject, offers: Sequence[Offer], view_arcmin: float | None = None) -> tuple[int, ...]:
    """Return the places, in offers, of the instruments that suit a target equally well; at least one.

    Instruments with nothing to look with come last. First come those whose field holds the target (with sky
    around it, for a star cluster) and whose verdict is at least fair. Then the better verdict word counts,
    then the wider field where no field holds the target, then the larger aperture (common practice, no
    published source: large things in binoculars, everything else in what gathers more light). view_arcmin is
    the width of the view that holds a target with what belongs to it, None for the target alone.
    """
    wanted_deg = _wanted_deg(subject, view_arcmin)
    left = [place for place, offer in enumerate(offers) if offer.field_deg > 0.0] or [*range(len(offers))]
    holding = [place for place in left if offers[place].field_deg >= wanted_deg]
    left = [place for place in holding if offers[place].word.rank <= Word.FAIR.rank] or left
    best = min(offers[place].word.rank for place in left)
    left = [place for place in left if offers[place].word.rank == best]
    fields = [offer.field_deg if place not in holding else math.inf for place, offer in enumerate(offers)]
    return tuple(_largest(_largest(left, fields), [offer.aperture_mm for offer in offers]))


def least_changes(suited_places: Sequence[Sequence[int]]) -> list[int]:
    """Return one instrument for each target, in order, so that the instrument changes as seldom as possible.

    suited_places holds for each target the places of the instruments that suit it, at least one. Where
    several serve a run of targets equally, the first is taken.
    """
    chosen: list[int] = []
    serves: set[int] = set()
    run = 0
    for places in suited_places:
        still = serves.intersection(places)
        if not still:
            chosen += [min(serves, default=0)] * run
            run = 0
        serves = still or set(places)
        run += 1
    return chosen + [min(serves, default=0)] * run


def _wanted_deg(subject: Subject, view_arcmin: float | None) -> float:
    """Return the width of field that holds a target, in degrees."""
    if view_arcmin is not None:
        return view_arcmin / 60.0
    return width_deg(subject) * (CLUSTER_ROOM if subject.kind.is_star_field else 1.0)


def _largest(places: Sequence[int], sizes: Sequence[float]) -> list[int]:
    most = max(sizes[place] for place in places)
    return [place for place in places if sizes[place] * AS_LARGE >= most]
