"""Puts a kit under the sky of a night: what to find each target with, and what to look with."""

from collections.abc import Iterator, Sequence

from nightmode import eyepiece
from nightmode.catalog.one_view import view_arcmin
from nightmode.eyepiece import Combination
from nightmode.eyepiece.suggestion import Suggestion, alternatives, suggest
from nightmode.eyepiece.why import Why
from nightmode.model.instruments import Instruments
from nightmode.model.kit import Binoculars, Kit
from nightmode.model.problem import (
    NeverUsable,
    NoAstronomicalNight,
    NoDarkness,
    NoEyepieces,
    OldElements,
    Problem,
    SkyAssumed,
)
from nightmode.model.target import Comet, MinorPlanet
from nightmode.night.judges import Judges
from nightmode.night.table import Night, NightTarget, Placed, SkyTable
from nightmode.records import made_from

#: From this lit share on the Moon dazzles in the eyepiece, and a grey filter helps (common practice, no
#: published source).
DAZZLING_MOON = 0.4
#: In days: older elements may be wrong by more than a low-power field (our own rule).
OLD_ELEMENTS_DAYS = 120.0


def equip(sky: SkyTable, kit: Kit) -> Night:
    """Return the night with a kit; it shares the tracks of the sky, so a second instrument costs little."""
    targets, problems = tuple(_equipped(sky, kit)), tuple(_problems(sky, kit))
    return made_from(Night, sky, targets=targets, instruments=Instruments((kit,)), problems=problems)


def _equipped(sky: SkyTable, kit: Kit) -> Iterator[NightTarget]:
    """Yield each target with the combination that suits it and all other sensible ones."""
    made = eyepiece.combinations(kit)
    bounds = eyepiece.limits(kit, sky.person.pupil_mm, sky.person.seeing_arcsec)
    find, choices = eyepiece.find_with(made, bounds), eyepiece.sensible(made, bounds)
    dazzles = sky.moon.illuminated >= DAZZLING_MOON
    filters = [filter_ for filter_ in kit.filters if dazzles or filter_.passband != "neutral"]
    judges = Judges(sky, kit.telescope)
    for row, target in enumerate(sky.targets):
        if isinstance(kit.telescope, Binoculars) and kit.telescope.has_one_power:
            yield _under(target, kit, find, Suggestion(made[0], None, Why.FIXED), made)
            continue
        view = view_arcmin(target.subject.name)
        look = suggest(target.subject, made, bounds, filters, judges.judge(row), view)
        yield _under(target, kit, find, look, alternatives(look, choices) if look else ())


def _under(
    target: Placed,
    kit: Kit,
    find: Combination | None,
    look: Suggestion | None,
    choices: Sequence[Combination],
) -> NightTarget:
    return made_from(NightTarget, target, kit=kit, find=find, look=look, choices=tuple(choices))


def _problems(sky: SkyTable, kit: Kit) -> Iterator[Problem]:
    twilight, site = sky.twilights, sky.site
    if twilight.dark_s is None:
        yield NoDarkness(twilight.sun_lowest_deg)
    elif not twilight.is_astronomical:
        yield NoAstronomicalNight(twilight.sun_lowest_deg)
    if not kit.eyepieces and not isinstance(kit.telescope, Binoculars):
        yield NoEyepieces()
    if (site.sky_brightness, site.naked_eye_limit_mag, site.bortle) == (None, None, None):
        yield SkyAssumed(sky.zenith_mag)
    moving = [target.subject for target in sky.targets if isinstance(target.subject, Comet | MinorPlanet)]
    old = [subject for subject in moving if subject.elements_age_days > OLD_ELEMENTS_DAYS]
    yield from (OldElements(subject.name, subject.elements_age_days) for subject in old)
    yield from (NeverUsable(target.subject.name) for target in sky.targets if not target.usable)
