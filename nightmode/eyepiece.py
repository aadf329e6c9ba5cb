"""Which eyepiece to find a target with, which to look at it with, and why."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import product

from nightmode import optics
from nightmode.model.kind import Kind
from nightmode.model.kit import Barlow, Eyepiece, Filter, Kit
from nightmode.model.target import Double, Subject, size_arcmin
from nightmode.visibility.verdict import EASY_DEX, word

#: A target is framed when the field is this much wider than it is (common practice, no published source).
ROOM = 1.5
#: Contrast margins closer than this, in dex, count as equal.
EQUAL_DEX = 0.05
#: The exit pupil that shows most on planets (common practice, no published source: 0.7 to 1 mm).
DETAIL_PUPIL_MM = 0.85
#: A companion so much fainter drowns in the glare of its star at the power that would split equal stars
#: (common practice, no published source).
GLARE_MAG, GLARE_POWER = 3.0, 2.5
#: The exit pupil tried for faint objects of unknown brightness (common practice, no published source).
FAINT_PUPIL_MM = 2.0
MOON_SIZE_ARCMIN = 31.0
#: Star clusters want dark sky round them: twice their size at least, three times where they are easy anyway,
#: and a wide beam (common practice, no published source).
CLUSTER_ROOM, CLUSTER_AMPLE_ROOM, CLUSTER_PUPIL_MM = 2.0, 3.0, 2.5
#: An easy planetary nebula is looked at for detail: it should look this wide, 1 mm of exit pupil being the
#: least (common practice, no published source).
DETAIL_APPARENT_DEG, LEAST_PUPIL_MM = 1.5, 1.0
#: The exit pupil that resolves an easy globular (common practice, no published source: 1.5 to 2.5 mm).
RESOLVING_PUPIL_MM = 2.0
#: A filter is worth screwing in for so much margin, or, where the target is easy without it, for so much
#: more of its extent (our own).
FILTER_GAIN_DEX, FILTER_GAIN_EXTENT = 0.1, 0.2


@dataclass(frozen=True)
class Sight:
    """What a combination shows of a target: contrast margin in dex, and the share of its extent."""

    margin_dex: float | None
    extent: float = 0.0


#: What a combination, with a filter or None, shows of the target.
Judge = Callable[["Combination", Filter | None], Sight]


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


@dataclass(frozen=True)
class Misfit:
    """A part whose barrel is too wide: into names the Barlow it does not go into, None the focuser."""

    part: str
    barrel_in: float
    into: str | None
    hole_in: float


def misfits(kit: Kit) -> list[Misfit]:
    """Return what cannot be put together: first what does not go into the focuser at all."""
    hole_in = kit.telescope.barrel_in
    parts: tuple[Eyepiece | Barlow, ...] = (*kit.eyepieces, *kit.barlows)
    found = [Misfit(part.name, part.barrel_in, None, hole_in) for part in parts if part.barrel_in > hole_in]
    return found + [
        Misfit(one.name, one.barrel_in, barlow.name, barlow.barrel_in)
        for barlow, one in product(kit.barlows, kit.eyepieces)
        if barlow.barrel_in < one.barrel_in <= hole_in
    ]


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
    elif isinstance(subject, Double) and subject.separation_arcsec:
        chosen, reason = _for_double(subject, subject.separation_arcsec, choices, bounds)
    else:
        chosen, reason = _for_extended(subject, choices, judge)
    return Look(chosen, _filter_for(subject, chosen, filters, judge), reason)


def _planned(name: str, made: Sequence[Combination]) -> Combination | None:
    return next((one for one in made if one.eyepiece.casefold() == name.casefold()), None)


def _for_detail(choices: Sequence[Combination]) -> tuple[Combination, str]:
    chosen = min(choices, key=lambda one: (abs(one.exit_pupil_mm - DETAIL_PUPIL_MM), one.barlow is not None))
    return chosen, "most detail the air allows"


def _for_double(
    subject: Double, separation_arcsec: float, choices: Sequence[Combination], bounds: Limits
) -> tuple[Combination, str]:
    glaring = subject.difference_mag >= GLARE_MAG
    needed = float(optics.power_to_show(separation_arcsec)) * (GLARE_POWER if glaring else 1.0)
    enough = [one for one in choices if one.power >= needed]
    if separation_arcsec < bounds.dawes_arcsec:
        return choices[-1], "closer than this aperture splits"
    if enough:
        return enough[0], "more power, out of the glare" if glaring else "lowest power that splits it"
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
    if subject.kind in (Kind.STAR, Kind.DOUBLE):
        return framing[0], "low power, wide field"
    if subject.kind in _STAR_FIELDS:
        return _for_cluster(size_deg, framing, judge)
    best = _best_contrast(framing, judge)
    if best is None:
        wide = [one for one in framing if one.exit_pupil_mm >= FAINT_PUPIL_MM] or framing[:1]
        return wide[-1], "frames it, still bright enough"
    return _closer(subject, best, framing, judge) or (best, "best contrast, framed with room")


def _best_contrast(choices: Sequence[Combination], judge: Judge) -> Combination | None:
    """Return the lowest power within reach of the best margin and as good in words; None without margins."""
    margins = [(one, judge(one, None).margin_dex) for one in choices]
    known = [(one, margin) for one, margin in margins if margin is not None]
    if not known:
        return None
    best = max(margin for _, margin in known)
    return next(one for one, dex in known if dex >= best - EQUAL_DEX and word(dex) == word(best))


_STAR_FIELDS = (Kind.OPEN_CLUSTER, Kind.ASTERISM)


def _for_cluster(size_deg: float, framing: Sequence[Combination], judge: Judge) -> tuple[Combination, str]:
    """Sky around an easy cluster; of a faint one, the power that shows most of its stars."""
    roomy = [one for one in framing if one.true_field_deg >= CLUSTER_ROOM * size_deg] or framing[:1]
    ample = [
        one
        for one in roomy
        if one.true_field_deg >= CLUSTER_AMPLE_ROOM * size_deg and one.exit_pupil_mm >= CLUSTER_PUPIL_MM
    ] or roomy[:1]
    usual = ample[-1] if size_deg else ample[0]
    best = None if _dex(usual, judge) >= EASY_DEX else _best_contrast(roomy, judge)
    if best is None or best == usual:
        return usual, "the cluster with sky around it"
    return best, "darker sky shows more stars" if best.power > usual.power else "low power gathers its glow"


def _closer(
    subject: Subject, best: Combination, framing: Sequence[Combination], judge: Judge
) -> tuple[Combination, str] | None:
    """Return more power than contrast asks for, where detail is to be seen and it costs nothing that matters.

    A globular that is easy wants its stars resolved. A planetary wants size, while it stays easy or, where
    it is not, while no contrast is lost.
    """
    bright = [one for one in framing if one.exit_pupil_mm >= LEAST_PUPIL_MM]
    easy = [one for one in bright if _dex(one, judge) >= EASY_DEX]
    if subject.kind is Kind.GLOBULAR_CLUSTER and easy:
        chosen = min(easy, key=lambda one: abs(one.exit_pupil_mm - RESOLVING_PUPIL_MM))
        return (chosen, "easy: power resolves its stars") if chosen.power > best.power else None
    if subject.kind is Kind.PLANETARY_NEBULA and size_arcmin(subject):
        most = _dex(best, judge)
        enough, told = min(EASY_DEX, most - EQUAL_DEX), word(most)
        worth = [
            one
            for one in bright
            if one.power > best.power and (dex := _dex(one, judge)) >= enough and word(dex) == told
        ]
        wide = [one for one in worth if one.power * _size_deg(subject) >= DETAIL_APPARENT_DEG]
        if worth and best.power * _size_deg(subject) < DETAIL_APPARENT_DEG:
            return wide[0] if wide else worth[-1], "small: power for detail"
    return None


def _dex(one: Combination, judge: Judge) -> float:
    margin_dex = judge(one, None).margin_dex
    return float("-inf") if margin_dex is None else margin_dex


def _size_deg(subject: Subject) -> float:
    if subject.kind is Kind.MOON:
        return MOON_SIZE_ARCMIN / 60
    return (size_arcmin(subject) or 0.0) / 60


#: Passbands that help, best first. Common practice, no published source; hydrogen-beta helps so few
#: objects that it is never suggested.
HELPFUL = {
    Kind.PLANETARY_NEBULA: ("oiii", "narrowband"),
    Kind.SUPERNOVA_REMNANT: ("oiii", "narrowband"),
    Kind.EMISSION_NEBULA: ("narrowband", "oiii"),
    Kind.CLUSTER_NEBULA: ("narrowband",),
    Kind.MOON: ("neutral",),
}


def _filter_for(subject: Subject, chosen: Combination, filters: Sequence[Filter], judge: Judge) -> str | None:
    """Return the name of the filter that helps, or None: rarely is the honest default.

    One that helps this kind, and by enough; where no brightness is published, its kind has to do.
    """
    bare = judge(chosen, None)
    for passband in HELPFUL.get(subject.kind, ()):
        for one in filters:
            if one.passband == passband and (bare.margin_dex is None or _gains(bare, judge(chosen, one))):
                return one.name
    return None


def _gains(bare: Sight, filtered: Sight) -> bool:
    if bare.margin_dex is None or filtered.margin_dex is None:
        return False
    if bare.margin_dex >= EASY_DEX:
        return filtered.extent >= bare.extent + FILTER_GAIN_EXTENT
    return filtered.margin_dex >= bare.margin_dex + FILTER_GAIN_DEX


def alternatives(look: Look, choices: Sequence[Combination]) -> list[Combination]:
    """Return the sensible combinations in the order the observer steps through: the look, then upward.

    From the highest power the steps go on at the lowest.
    """
    after = [one for one in choices if one.power > look.combination.power]
    before = [one for one in choices if one.power <= look.combination.power and one != look.combination]
    return [look.combination, *after, *before]
