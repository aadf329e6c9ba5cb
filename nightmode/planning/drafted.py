"""Writes what was chosen as a plan file with a remark on each target, and tells why a name was not."""

from collections.abc import Sequence

from nightmode.catalog.elements import ElementsFile
from nightmode.catalog.resolve import resolve
from nightmode.errors import NightmodeError
from nightmode.model.instruments import Instruments
from nightmode.model.kit import Binoculars, Telescope
from nightmode.model.plan import Plan
from nightmode.model.problem import OldElements, Problem
from nightmode.model.target import LunarFeature, Subject, Target
from nightmode.night.circumstances import Circumstances
from nightmode.night.each_target import equip_each
from nightmode.night.opening import night_sky
from nightmode.night.verdict import verdicts
from nightmode.planning.choice import Pick
from nightmode.planning.draft import Draft
from nightmode.planning.plan_file import plan_text
from nightmode.planning.request import Wishes
from nightmode.planning.sources import Listed, described, keys_of
from nightmode.records import replace
from nightmode.setup.answers import make
from nightmode.sky.kernel import open_sky
from nightmode.visibility.objections import HIGH_DEG, NotUp, NotUsable, Objection, TooHard, TooHardThen
from nightmode.visibility.reasons import Verdict, WrongLight
from nightmode.walk.state import target_key
from nightmode.wording.draft import DraftedTarget, fate_text, heading_text, remark_text, title_text
from nightmode.words import Word


def drafted_text(
    drafted: Draft,
    circumstances: Circumstances,
    wishes: Wishes,
    listed: Listed,
    elements: str | None = None,
) -> str:
    """Return the text of a plan file with the targets chosen, at least one.

    elements names the file of comets and minor planets where observer.toml does not.
    """
    night, kits = drafted.night, circumstances.instruments.kits
    instruments = [kit.telescope for kit in kits]
    full = next((kit for kit in kits if kit.eyepieces), kits[0])
    known = described() | listed
    carried = circumstances.instruments
    targets = tuple(_target(night.targets[pick.row].subject, known, carried) for pick in drafted.picks)
    plan = Plan(
        title=title_text(circumstances.site.name),
        night=circumstances.date,
        elements=elements,
        site=circumstances.site,
        telescope=tuple(glass for glass in instruments if isinstance(glass, Telescope)) or None,
        binoculars=tuple(glass for glass in instruments if isinstance(glass, Binoculars)) or None,
        eyepiece=full.eyepieces,
        barlow=full.barlows,
        filter=full.filters,
        finder=full.finders,
        target=targets,
    )
    heading = heading_text(
        wishes.start_s, wishes.end_s, wishes.pace_s, wishes.hardest, wishes.query, circumstances.site.zone
    )
    remarks = {plan.target[index].name: _remark(drafted, pick) for index, pick in enumerate(drafted.picks)}
    return plan_text(plan, remarks, heading)


def subjects_called(
    names: Sequence[str], elements: ElementsFile | None = None
) -> list[Subject | NightmodeError]:
    """Return what names mean, the error for one that nobody knows. NightmodeError if nobody knows any."""
    called: list[Subject | NightmodeError] = []
    for name in names:
        try:
            called.append(resolve(make(Target, "--why", name=name), elements, in_a_plan=False))
        except NightmodeError as unknown:
            called.append(unknown)
    wrong = [error for error in called if isinstance(error, NightmodeError)]
    if wrong and len(wrong) == len(names):
        first, *others = wrong
        more = f" (and see {', '.join(other.where for other in others)})" if others else ""
        raise NightmodeError(first.where, first.what, first.instead + more)
    return called


def why(drafted: Draft, circumstances: Circumstances, name: str, subject: Subject | NightmodeError) -> str:
    """Return in one line what became of the subject that a name means, or that nobody knows the name."""
    if isinstance(subject, NightmodeError):
        return str(subject)
    objection = drafted.why(keys_of(name, subject))
    if isinstance(objection, TooHard):
        objection = _with_its_reason(objection, circumstances, drafted.wishes, subject)
    elif isinstance(objection, NotUp):
        objection = _what_is_in_the_way(objection, circumstances, drafted.wishes, subject)
    return fate_text(name, objection, drafted.night.site.zone)


def _with_its_reason(
    objection: TooHard, circumstances: Circumstances, wishes: Wishes, subject: Subject
) -> Objection:
    """Return the verdict that `check` gives within the hours, if it finds the target too hard as well."""
    verdict = _verdict_within(circumstances, wishes, subject)
    return objection if wishes.welcomes(verdict.word) else TooHardThen(verdict)


def _what_is_in_the_way(
    objection: NotUp, circumstances: Circumstances, wishes: Wishes, subject: Subject
) -> Objection:
    """Return what keeps a target from being seen, where it is not just low: horizon, twilight, its light."""
    if objection.highest_deg <= HIGH_DEG and not isinstance(subject, LunarFeature):
        return objection
    verdict = _verdict_within(circumstances, wishes, subject)
    is_refused = verdict.word is Word.OUT or isinstance(verdict.reason, WrongLight)
    return NotUsable(verdict) if is_refused else objection


def _verdict_within(circumstances: Circumstances, wishes: Wishes, subject: Subject) -> Verdict:
    placed = night_sky(open_sky(), circumstances, [subject])
    within = replace(placed, hours_s=(wishes.start_s, wishes.end_s))
    (verdict,) = verdicts(equip_each(within, circumstances.instruments))
    return verdict


def _target(subject: Subject, known: Listed, carried: Instruments) -> Target:
    """Return a subject as a target of the plan: its name, and what a list says of it."""
    keys = (target_key(name) for name in (subject.name, *subject.other_names))
    target = next((known[key] for key in keys if key in known), None) or Target(name=subject.name)
    named = target.telescope if target.telescope and carried.place(target.telescope) is not None else None
    lowest_deg = target.min_altitude_deg or subject.min_altitude_deg
    return target.model_copy(update={"min_altitude_deg": lowest_deg, "telescope": named})


def _is_of(problem: Problem, subject: Subject) -> bool:
    """Return whether a problem is that the orbital elements of this subject are old."""
    return isinstance(problem, OldElements) and problem.name == subject.name


def _remark(drafted: Draft, pick: Pick) -> str:
    """Return in one line what the target is, when its turn comes, and what to look with."""
    night, target = drafted.night, drafted.night.targets[pick.row]
    shown = DraftedTarget(
        subject=target.subject,
        word=pick.word,
        at_s=pick.at_s,
        altitude_deg=night.altitude_at(pick.row, pick.at_s),
        azimuth_deg=night.azimuth_at(pick.row, pick.at_s),
        usable=target.usable,
        look=target.look,
        instrument=target.kit.telescope.name if night.has_several else "",
        problems=[problem for problem in night.problems if _is_of(problem, target.subject)],
        variable=target.variable,
        moments=target.moments,
    )
    return remark_text(shown, night.site.zone)
