"""What was chosen, as a plan file with a remark on each target, and why something was not."""

from nightmode.catalog.elements import ElementsFile
from nightmode.catalog.resolve import resolve
from nightmode.model.instruments import Instruments
from nightmode.model.kit import Binoculars, Telescope
from nightmode.model.plan import Plan
from nightmode.model.problem import OldElements, Problem
from nightmode.model.target import Comet, MinorPlanet, Subject, Target
from nightmode.night.circumstances import Circumstances
from nightmode.planning.choice import Pick
from nightmode.planning.draft import Draft
from nightmode.planning.plan_file import plan_text
from nightmode.planning.request import Wishes
from nightmode.planning.sources import Listed, described
from nightmode.walk.state import target_key
from nightmode.wording.figures import compass_point, power, time_of_day
from nightmode.wording.kit import instrument_and
from nightmode.wording.moving import moving_text
from nightmode.wording.objections import objection_text
from nightmode.wording.problems import problem_text
from nightmode.wording.variables import tonight_text


def drafted_text(
    drafted: Draft,
    circumstances: Circumstances,
    wishes: Wishes,
    listed: Listed,
    elements: str | None = None,
) -> str:
    """Return the plan file of what was chosen; at least one target was.

    elements names the file of comets and minor planets where observer.toml does not.
    """
    zone, night, kits = circumstances.site.zone, drafted.night, circumstances.instruments.kits
    instruments = [kit.telescope for kit in kits]
    full = next((kit for kit in kits if kit.eyepieces), kits[0])
    known = described() | listed
    carried = circumstances.instruments
    targets = tuple(_target(night.targets[pick.row].subject, known, carried) for pick in drafted.picks)
    plan = Plan(
        title=f"Draft for {circumstances.site.name}"[:80],
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
    asked = f"; {wishes.query.words}" if wishes.query.words else ""
    heading = (
        f"Drafted for {time_of_day(wishes.start_s, zone)} to {time_of_day(wishes.end_s, zone)}, "
        f"{wishes.pace_s / 60:.0f} minutes a target, nothing harder than {wishes.hardest}{asked}. "
        "Plain text, to be edited: add and strike targets as you like. Their order here does not matter; "
        "walk, check and sheet sort by setting time."
    )
    remarks = {plan.target[index].name: _remark(drafted, pick) for index, pick in enumerate(drafted.picks)}
    return plan_text(plan, remarks, heading)


def why(drafted: Draft, name: str, elements: ElementsFile | None = None) -> str:
    """Return in a line what became of a name. NightmodeError if nobody knows it."""
    subject = resolve(Target(name=name), elements)
    keys = [target_key(word) for word in (name, subject.name, *subject.other_names)]
    found = drafted.why(keys)
    told = objection_text(found, drafted.night.site.zone) if found else "was not among what could be chosen"
    return f"{name}: {told}."


def _target(subject: Subject, known: Listed, carried: Instruments) -> Target:
    """Return the target for the plan: by name, with what a list says to look for."""
    keys = (target_key(name) for name in (subject.name, *subject.other_names))
    target = next((known[key] for key in keys if key in known), None) or Target(name=subject.name)
    named = target.telescope if target.telescope and carried.place(target.telescope) is not None else None
    lowest_deg = target.min_altitude_deg or subject.min_altitude_deg
    return target.model_copy(update={"min_altitude_deg": lowest_deg, "telescope": named})


def _is_of(problem: Problem, subject: Subject) -> bool:
    """Whether a problem is that a body's elements are old."""
    return isinstance(problem, OldElements) and problem.name == subject.name


def _remark(drafted: Draft, pick: Pick) -> str:
    """Return in a line what the target is, when its turn comes, and with what."""
    night, target = drafted.night, drafted.night.targets[pick.row]
    zone, subject = night.site.zone, target.subject
    height, azimuth = night.altitude_at(pick.row, pick.at_s), night.azimuth_at(pick.row, pick.at_s)
    spans = ", ".join(
        f"{time_of_day(stretch.start, zone)}-{time_of_day(stretch.end, zone)}" for stretch in target.usable
    )
    parts = [
        f"{subject.kind}" + (f" in {subject.constellation}" if subject.constellation else ""),
        pick.word,
        f"about {time_of_day(pick.at_s, zone)} at {height:.0f}° {compass_point(azimuth)}",
        f"up {spans}",
    ]
    if target.look:
        combination = target.look.combination
        name = target.kit.telescope.name if night.has_several else ""
        parts.append(f"{instrument_and(name, combination.eyepiece, 100)} {power(combination.power)}")
    if isinstance(subject, Comet | MinorPlanet):
        parts.append(moving_text(subject))
    parts += [problem_text(problem) for problem in night.problems if _is_of(problem, subject)]
    if target.variable:
        parts.append(tonight_text(target.variable, target.moments, pick.at_s, zone))
    return "; ".join(parts)
