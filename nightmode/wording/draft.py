"""The words of a drafted plan: title, heading, a remark on each target, and what became of a name."""

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from nightmode.catalog.query import Query
from nightmode.eyepiece.suggestion import Suggestion
from nightmode.model.problem import Problem
from nightmode.model.sight import Moment
from nightmode.model.target import Comet, MinorPlanet, Subject
from nightmode.records import Record
from nightmode.sky.varying import VariableTonight
from nightmode.visibility.objections import Objection
from nightmode.walk.usable import Usable
from nightmode.wording.figures import compass_point, kind_and_place, power, span_text, time_of_day
from nightmode.wording.kit import instrument_and
from nightmode.wording.moving import moving_text
from nightmode.wording.objections import objection_text
from nightmode.wording.problems import problem_text
from nightmode.wording.suggestion import look_text
from nightmode.wording.variables import tonight_text
from nightmode.words import Word


class DraftedTarget(Record, eq=False):
    """A target of a draft at at_s, when its turn comes, as figures. Instants are in Unix seconds.

    look        what to look with, None without any eyepiece
    instrument  its name where there are several, else ""
    """

    subject: Subject
    word: Word
    at_s: float
    altitude_deg: float
    azimuth_deg: float
    usable: Sequence[Usable]
    look: Suggestion | None
    instrument: str = ""
    problems: Sequence[Problem] = ()
    variable: VariableTonight | None = None
    moments: tuple[Moment, ...] = ()


def title_text(site: str) -> str:
    """Return the title of a plan drafted for a site, in at most 80 characters."""
    return f"Draft for {site}"[:80]


def heading_text(
    start_s: float, end_s: float, pace_s: float, hardest: Word, query: Query, zone: ZoneInfo
) -> str:
    """Return what was asked for, from start_s to end_s with pace_s for each target, and how to go on."""
    asked = query_text(query)
    return (
        f"Drafted for {time_of_day(start_s, zone)} to {time_of_day(end_s, zone)}, "
        f"{pace_s / 60:.0f} minutes a target, nothing harder than {hardest}{f'; {asked}' if asked else ''}. "
        "Plain text, to be edited: add and strike targets as you like. Their order here does not matter; "
        "walk, check and sheet sort by setting time."
    )


def query_text(query: Query) -> str:
    """Return what is asked of the objects, "" for nothing: "in Com, Vir; brighter than 11"."""
    parts = []
    if query.constellations:
        parts.append(f"in {', '.join(sorted(query.constellations))}")
    if query.near is not None:
        parts.append(f"within {query.near.radius_deg:g}° of {query.near.name}")
    if query.brighter_mag is not None:
        parts.append(f"brighter than {query.brighter_mag:g}")
    if query.larger_arcmin is not None:
        parts.append(f"larger than {query.larger_arcmin:g}′")
    if query.not_below_deg is not None:
        parts.append(f"not below {query.not_below_deg:g}°")
    return "; ".join(parts)


def remark_text(target: DraftedTarget, zone: ZoneInfo) -> str:
    """Return in one line what the target is, when its turn comes, and what to look with."""
    subject = target.subject
    spans = ", ".join(span_text(stretch.start_s, stretch.end_s, zone) for stretch in target.usable)
    place = f"{target.altitude_deg:.0f}° {compass_point(target.azimuth_deg)}"
    parts = [
        kind_and_place(subject.kind, subject.constellation),
        target.word,
        f"about {time_of_day(target.at_s, zone)} at {place}",
        f"up {spans}",
    ]
    if look := target.look:
        with_ = instrument_and(target.instrument, look_text(look), 100)
        parts.append(f"{with_} {power(look.combination.power)}")
    if isinstance(subject, Comet | MinorPlanet):
        parts.append(moving_text(subject))
    parts += [problem_text(problem) for problem in target.problems]
    if target.variable:
        parts.append(tonight_text(target.variable, target.moments, target.at_s, zone))
    return "; ".join(parts)


def fate_text(name: str, objection: Objection | None, zone: ZoneInfo) -> str:
    """Return in one line what became of a name in a draft; None if it was never a candidate."""
    told = objection_text(objection, zone) if objection else "was not among what could be chosen"
    return f"{name}: {told}."
