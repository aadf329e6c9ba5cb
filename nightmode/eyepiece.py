"""Which eyepiece to find a target with, which to look at it with, and why."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import product

from nightmode import optics
from nightmode.model.kind import Kind
from nightmode.model.kit import Barlow, Eyepiece, Filter, Kit
from nightmode.model.target import Subject

#: A target is framed when the field is this much wider than it is (common practice, no published source).
ROOM = 1.5
#: Contrast margins closer than this, in dex, count as equal.
EQUAL_DEX = 0.05
#: The exit pupil that shows most on planets (common practice, no published source: 0.7 to 1 mm).
DETAIL_PUPIL_MM = 0.85
#: The exit pupil tried for faint objects of unknown brightness (common practice, no published source).
FAINT_PUPIL_MM = 2.0
MOON_SIZE_ARCMIN = 31.0
#: Star clusters want dark sky round them (common practice, no published source).
CLUSTER_ROOM = 3.0

#: Contrast margin in dex that a combination gives on a target, or None where it can't be known.
Judge = Callable[["Combination"], float | None]


@dataclass(frozen=True)
class Combination:
    """An eyepiece, with or without a Barlow, in the telescope, and what the two give."""

    eyepiece: str
    barlow: str | None
    power: float
    true_field_deg: float
    exit_pupil_mm: float


@dataclass(frozen=True)
class Look:
    """A suggestion: the combination, a filter where one helps, and the reason in a few words."""

    combination: Combination
    filter: str | None
    reason: str


@dataclass(frozen=True)
class Limits:
    """What bounds a sensible power: the eye's pupil and the aperture or the air, whichever is less."""

    lowest_power: float
    highest_power: float
    dawes_arcsec: float
    seeing_arcsec: float


def limits(kit: Kit, pupil_mm: float, seeing_arcsec: float) -> Limits:
    """Return the limits for a telescope, an eye and the steadiness of the air."""
    aperture_mm = kit.telescope.aperture_mm
    return Limits(
        lowest_power=float(optics.lowest_useful_magnification(aperture_mm, pupil_mm)),
        highest_power=float(optics.highest_useful_magnification(aperture_mm, seeing_arcsec)),
        dawes_arcsec=float(optics.dawes_limit_arcsec(aperture_mm)),
        seeing_arcsec=seeing_arcsec,
    )


def combinations(kit: Kit) -> list[Combination]:
    """Return every combination that can be put together, lowest power first, without Barlow first.

    A wider barrel never goes into a narrower hole: eyepiece into Barlow into focuser. The other way
    an adapter is taken for granted.
    """
    barlows: list[Barlow | None] = [None, *kit.barlows]
    made = [
        _combine(kit, eyepiece, barlow)
        for eyepiece, barlow in product(kit.eyepieces, barlows)
        if _fits(kit, eyepiece, barlow)
    ]
    return sorted(made, key=lambda made: (made.power, made.barlow is not None, -made.true_field_deg))


def _fits(kit: Kit, eyepiece: Eyepiece, barlow: Barlow | None) -> bool:
    hole = kit.telescope.barrel_in
    if barlow is None:
        return eyepiece.barrel_in <= hole
    return eyepiece.barrel_in <= barlow.barrel_in <= hole


def _combine(kit: Kit, eyepiece: Eyepiece, barlow: Barlow | None) -> Combination:
    telescope, factor = kit.telescope, barlow.factor if barlow else 1.0
    power = float(optics.magnification(telescope.focal_length_mm, eyepiece.focal_length_mm, factor))
    field_deg = optics.true_field_deg(
        telescope.focal_length_mm,
        eyepiece.focal_length_mm,
        eyepiece.apparent_field_deg,
        field_stop_mm=eyepiece.field_stop_mm,
        barlow_factor=factor,
    )
    return Combination(
        eyepiece=eyepiece.name,
        barlow=barlow.name if barlow else None,
        power=power,
        true_field_deg=float(field_deg),
        exit_pupil_mm=float(optics.exit_pupil_mm(telescope.aperture_mm, power)),
    )


def find_with(made: Sequence[Combination], bounds: Limits) -> Combination | None:
    """Return the combination to find with: the widest field that the eye's pupil takes in whole.

    Without one, the widest field there is. Never a Barlow; None only without eyepieces that fit.
    """
    plain = [one for one in made if one.barlow is None]
    within = [one for one in plain if one.power >= bounds.lowest_power]
    return max(within or plain, key=lambda one: (one.true_field_deg, -one.power), default=None)


def sensible(made: Sequence[Combination], bounds: Limits) -> list[Combination]:
    """Return the combinations within the limits of eye, aperture and seeing; lowest power first.

    If none is, the one of lowest power, so that there is always something to look with.
    """
    within = [one for one in made if bounds.lowest_power <= one.power <= bounds.highest_power]
    return within or list(made[:1])


def look_with(
    subject: Subject, made: Sequence[Combination], bounds: Limits, filters: Sequence[Filter], judge: Judge
) -> Look | None:
    """Return the combination to look with, by the rule for the target's kind; None without eyepieces."""
    choices = sensible(made, bounds)
    if not choices:
        return None
    if subject.eyepiece and (planned := _planned(subject.eyepiece, made)):
        chosen, reason = planned, "as the plan says"
    elif subject.kind in (Kind.PLANET, Kind.LUNAR_FEATURE):
        chosen, reason = _for_detail(choices)
    elif subject.kind is Kind.DOUBLE and subject.separation_arcsec:
        chosen, reason = _for_double(subject.separation_arcsec, choices, bounds)
    else:
        chosen, reason = _for_extended(subject, choices, judge)
    return Look(chosen, filter_for(subject, filters), reason)


def _planned(name: str, made: Sequence[Combination]) -> Combination | None:
    return next((one for one in made if one.eyepiece.casefold() == name.casefold()), None)


def _for_detail(choices: Sequence[Combination]) -> tuple[Combination, str]:
    chosen = min(choices, key=lambda one: (abs(one.exit_pupil_mm - DETAIL_PUPIL_MM), one.barlow is not None))
    return chosen, "most detail the air allows"


def _for_double(
    separation_arcsec: float, choices: Sequence[Combination], bounds: Limits
) -> tuple[Combination, str]:
    needed = float(optics.power_to_show(separation_arcsec))
    enough = [one for one in choices if one.power >= needed]
    if separation_arcsec < bounds.dawes_arcsec:
        return choices[-1], "closer than this aperture splits"
    if enough:
        return enough[0], "lowest power that splits it"
    if separation_arcsec < bounds.seeing_arcsec:
        return choices[-1], "needs steadier air to split"
    return choices[-1], "highest power there is"


def _for_extended(subject: Subject, choices: Sequence[Combination], judge: Judge) -> tuple[Combination, str]:
    plain = [one for one in choices if one.barlow is None] or list(choices)
    size_deg = _size_deg(subject)
    framing = [one for one in plain if one.true_field_deg >= ROOM * size_deg]
    if not framing:
        return max(plain, key=lambda one: one.true_field_deg), "widest field, larger than framed"
    if subject.kind is Kind.MOON:
        return framing[-1], "the whole disc with room"
    if subject.kind in (Kind.STAR, Kind.DOUBLE, Kind.ASTERISM):
        return framing[0], "low power, wide field"
    if subject.kind in (Kind.OPEN_CLUSTER, Kind.CLUSTER_NEBULA):
        roomy = [one for one in framing if one.true_field_deg >= CLUSTER_ROOM * size_deg] or framing[:1]
        return roomy[-1] if size_deg else framing[0], "the cluster with sky around it"
    margins = [judge(one) for one in framing]
    if all(margin is None for margin in margins):
        wide = [one for one in framing if one.exit_pupil_mm >= FAINT_PUPIL_MM] or framing[:1]
        return wide[-1], "frames it, still bright enough"
    best = max(margin for margin in margins if margin is not None)
    for one, margin in zip(framing, margins, strict=True):
        if margin is not None and margin >= best - EQUAL_DEX:
            return one, "best contrast, framed with room"
    raise AssertionError("the best margin is within itself")


def _size_deg(subject: Subject) -> float:
    if subject.kind is Kind.MOON:
        return MOON_SIZE_ARCMIN / 60
    return (subject.size_arcmin or 0.0) / 60


#: Passbands that help, best first. Common practice, no published source; hydrogen-beta helps so few
#: objects that it is never suggested.
_HELPFUL = {
    Kind.PLANETARY_NEBULA: ("oiii", "narrowband"),
    Kind.SUPERNOVA_REMNANT: ("oiii", "narrowband"),
    Kind.EMISSION_NEBULA: ("narrowband", "oiii"),
    Kind.CLUSTER_NEBULA: ("narrowband",),
    Kind.MOON: ("neutral",),
}


def filter_for(subject: Subject, filters: Sequence[Filter]) -> str | None:
    """Return the name of the filter that helps, or None: rarely is the honest default."""
    for passband in _HELPFUL.get(subject.kind, ()):
        for one in filters:
            if one.passband == passband:
                return one.name
    return None


def alternatives(look: Look, choices: Sequence[Combination]) -> list[Combination]:
    """Return the sensible combinations in the order the observer steps through: the look, then upward.

    From the highest power the steps go on at the lowest.
    """
    after = [one for one in choices if one.power > look.combination.power]
    before = [one for one in choices if one.power <= look.combination.power and one != look.combination]
    return [look.combination, *after, *before]
