"""What the candidates for a plan are and how near each other they stand, whatever each of them is worth."""

from collections.abc import Hashable, Iterable, Sequence

import numpy as np

from nightmode.arrays import Array, Flags, Indices
from nightmode.catalog.fame import well_known
from nightmode.eyepiece import Combination
from nightmode.kinds import GROUP_OF, Kind
from nightmode.model.target import Body, Fixed, Subject
from nightmode.night.table import NightTarget
from nightmode.planning.score import shines_as
from nightmode.planning.sources import showpieces
from nightmode.records import Record
from nightmode.sky.vectors import separation_deg

#: Closer than half of the field of its finding eyepiece to a chosen target, another is seen with it; but half
#: a field counts as no less and no more than this in degrees.
_SAME_VIEW_DEG, _SAME_VIEW_MOST_DEG = 0.7, 1.2
#: The magnitude of what nobody has measured.
_FAINT_MAG = 99.0


class Traits(Record, eq=False):
    """What N targets are, (N,) each.

    kind, group    numbers, the same for the same kind and the same group of kinds
    is_nebula      whether it is of the group of nebulae
    is_known       whether it has a name in words or a place in a famous list
    is_showpiece   whether it is one of the showpieces of the whole sky
    is_on_moon     whether it is the Moon or a feature of it: all of these are in one view
    magnitude      V; 99 if nobody has measured it
    view_deg       nearer than this, another is in one view with it
    apart_deg      how far each stands from each, (N, N)
    """

    kind: Indices
    group: Indices
    is_nebula: Flags
    is_known: Flags
    is_showpiece: Flags
    is_on_moon: Flags
    magnitude: Array
    view_deg: Array
    apart_deg: Array


def traits_of(targets: Sequence[NightTarget]) -> Traits:
    """Return what targets are."""
    kinds = [_kind(target.subject) for target in targets]
    groups = [GROUP_OF[kind] for kind in kinds]
    keys = [target.chance.key for target in targets]
    ra_deg, dec_deg = np.array([(target.ra_deg, target.dec_deg) for target in targets]).reshape(-1, 2).T
    return Traits(
        kind=_numbered(kinds),
        group=_numbered(groups),
        is_nebula=_flags(group == "nebulae" for group in groups),
        is_known=_flags(key in well_known() for key in keys),
        is_showpiece=_flags(key in showpieces() for key in keys),
        is_on_moon=_flags(_is_on_moon(target.subject) for target in targets),
        magnitude=np.array([_magnitude(target.subject) for target in targets]),
        view_deg=np.array([_view_deg(target.find) for target in targets]),
        apart_deg=separation_deg(ra_deg[:, None], dec_deg[:, None], ra_deg, dec_deg),
    )


def _flags(values: Iterable[bool]) -> Flags:
    return np.fromiter(values, dtype=bool)


def _numbered(values: Sequence[Hashable]) -> Indices:
    """Return values as whole numbers, the same for the same, which arrays compare at once."""
    numbers: dict[Hashable, int] = {}
    return np.array([numbers.setdefault(value, len(numbers)) for value in values], dtype=np.intp)


def _kind(subject: Subject) -> Kind:
    known = (getattr(subject, name, None) for name in ("tenth_star_magnitude", "surface_brightness_mag"))
    return shines_as(subject.kind, *(np.nan if mag is None else mag for mag in known))


def _is_on_moon(subject: Subject) -> bool:
    return isinstance(subject, Body) and subject.body == "moon"


def _magnitude(subject: Subject) -> float:
    known = subject.magnitude if isinstance(subject, Fixed) else None
    return _FAINT_MAG if known is None else known


def _view_deg(find: Combination | None) -> float:
    """Return below which distance from a target another is in one view with it."""
    half = find.true_field_deg / 2.0 if find else 0.0
    return min(max(half, _SAME_VIEW_DEG), _SAME_VIEW_MOST_DEG)
