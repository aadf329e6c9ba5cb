"""What a draft chooses from, what has been seen already, and the lists of showpieces of the program."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path

from nightmode.catalog.columns import Columns, all_objects, columns_of, joined
from nightmode.catalog.elements import ElementsFile
from nightmode.catalog.lunar import lunar_features
from nightmode.catalog.resolve import lookup, resolve
from nightmode.catalog.variables import variable_stars
from nightmode.errors import NightmodeError
from nightmode.files.places import shipped
from nightmode.files.toml import read_toml
from nightmode.kinds import GROUPS, Kind
from nightmode.model.plan import Plan
from nightmode.model.session import Outcome
from nightmode.model.target import (
    Body,
    Comet,
    Double,
    Fixed,
    MinorPlanet,
    Orbiting,
    Subject,
    Target,
    variability,
)
from nightmode.model.variable import Course
from nightmode.night.loading import resolve_all
from nightmode.night.pairs import decimal_year
from nightmode.night.varying import as_tonight, variables_tonight
from nightmode.planning.moving import as_placed, bright_tonight
from nightmode.planning.score import IN_ECLIPSE, PASSING, WELL_KNOWN, change_score
from nightmode.session.journal import is_session, read
from nightmode.sky.binary import of_year
from nightmode.sky.bodies import BODIES
from nightmode.sky.moon import moon_at
from nightmode.sky.vantage import Vantage
from nightmode.sky.varying import VariableTonight
from nightmode.walk.state import fold, target_key

#: The lists of showpieces of the whole sky, and further lists that say what to look for.
_SHOWPIECES, _DESCRIBED = ("first-light", "southern"), ("dark-sky", "pairs", "town", "variables")

#: From this altitude on the Moon is looked at in detail; so far lit, even by those who did not ask for it
#: (our own rule).
FAIR_MOON_DEG, _FAIR_MOON_LIT = 25.0, 0.2

Listed = dict[str, Target]
#: Kinds that have no rows in the catalogue's columns.
_NOT_IN_COLUMNS = {*GROUPS["moon"], *GROUPS["planets"], *GROUPS["comets"], *GROUPS["variables"]}


@dataclass(frozen=True, eq=False)
class Candidates:
    """What a draft chooses from on a night.

    columns    one row for each object with a place among the stars; variable stars and comets as they are on
               the night
    bodies     the bodies of the Solar System, and features of the Moon
    listed     the targets of the list that the candidates come from, by key
    originals  by name, subjects that replace their row when a night is opened: those with orbit or change
    favour     by name, what to add to scores, such as for a star in eclipse
    """

    columns: Columns
    bodies: tuple[Body, ...]
    listed: Listed = field(default_factory=dict)
    originals: Mapping[str, Subject] = field(default_factory=dict)
    favour: Mapping[str, float] = field(default_factory=dict)


def everything(vantage: Vantage, kinds: frozenset[Kind] | None, elements: ElementsFile | None) -> Candidates:
    """Return the catalogue, the Solar System, and the bright bodies of a file of elements if there is one.

    Variable stars are included only if kinds asks for them, features of the Moon if it does or if it asks
    for nothing and the Moon stands high; only what is asked for is read. The instants of the vantage are in
    the hours of the draft. NightmodeError if kinds asks for comets and there is no file.
    """
    if kinds and Kind.COMET in kinds and elements is None:
        from nightmode.catalog.hints import BY_ELEMENTS

        raise NightmodeError(
            "--kinds", "asks for comets and minor planets, and no file has their orbits", BY_ELEMENTS
        )
    everybody = [resolve(Target(name=body.capitalize())) for body in BODIES]
    if _moon_is_worth_it(vantage) if kinds is None else Kind.LUNAR_FEATURE in kinds:
        everybody += {feature.name: feature for feature in lunar_features().values()}.values()
    bodies = tuple(body for body in everybody if isinstance(body, Body))
    asks = kinds is None or not kinds <= _NOT_IN_COLUMNS
    columns = all_objects(decimal_year(_middle_s(vantage))) if asks else columns_of([])
    stars = variable_stars() if kinds and Kind.VARIABLE in kinds else []
    known = _bundled("variables") if stars else {}
    well_known = {star.name: WELL_KNOWN for star in stars if known.keys() & keys_of(star.name, star)}
    wants_comets = kinds is None or kinds & set(GROUPS["comets"])
    moving = bright_tonight(vantage, elements) if elements is not None and wants_comets else []
    return _with(Candidates(columns, bodies, favour=well_known), vantage, stars, moving)


def _moon_is_worth_it(vantage: Vantage) -> bool:
    moon = moon_at(vantage)
    return bool(moon.altitude_deg.max() >= FAIR_MOON_DEG and moon.illuminated >= _FAIR_MOON_LIT)


def from_list(vantage: Vantage, path: Path, plan: Plan, elements: ElementsFile | None) -> Candidates:
    """Return the targets of a list. NightmodeError, with the list's file, for one that is not known."""
    subjects = resolve_all(plan, str(path), elements)
    year = decimal_year(_middle_s(vantage))
    fixed = [
        of_year(subject, year) if isinstance(subject, Double) else subject
        for subject in subjects
        if isinstance(subject, Fixed)
    ]
    stars = [subject for subject in fixed if variability(subject)]
    steady = [subject for subject in fixed if not variability(subject)]
    bodies = tuple(subject for subject in subjects if isinstance(subject, Body))
    listed = {target_key(target.name): target for target in plan.target}
    moving = as_placed(vantage, [subject for subject in subjects if isinstance(subject, Orbiting)])
    return _with(Candidates(columns_of(steady), bodies, listed), vantage, stars, moving)


def _with(
    found: Candidates,
    vantage: Vantage,
    stars: Sequence[Fixed],
    moving: Sequence[tuple[Orbiting, Comet | MinorPlanet]],
) -> Candidates:
    """Return the candidates with variable stars and moving bodies, as they are in the middle of the hours."""
    at_s = _middle_s(vantage)
    tonight = variables_tonight(vantage, stars)
    here = [as_tonight(star, tonight[row], at_s) for row, star in enumerate(stars)]
    first_s, last_s = float(vantage.time_s[0]), float(vantage.time_s[-1])
    added = dict.fromkeys((body.name for body, _ in moving), PASSING)
    added |= {star.name: _change_score(tonight[row], first_s, last_s) for row, star in enumerate(stars)}
    moved: dict[str, Subject] = {body.name: body for body, _ in moving}
    return replace(
        found,
        columns=joined(found.columns, columns_of([*here, *(body for _, body in moving)])),
        originals=moved | {star.name: star for star in stars},
        favour={name: found.favour.get(name, 0.0) + value for name, value in added.items()},
    )


def _change_score(tonight: VariableTonight, first_s: float, last_s: float) -> float:
    """Return what is added to a variable star's score for its range, and for an eclipse in the hours."""
    star = tonight.star
    found = change_score(star.faintest_mag - star.brightest_mag)
    if star.course is Course.ECLIPSES:
        deepest = tonight.instants(first_s, last_s)
        found += IN_ECLIPSE * any(tonight.is_foreseen(at_s) for at_s in deepest)
    return found


def _middle_s(vantage: Vantage) -> float:
    return float(vantage.time_s[len(vantage.time_s) // 2])


def seen_keys(path: Path) -> set[str]:
    """Return the keys of the targets of a list, or of what was seen in a session."""
    if is_session(path):
        ticks = fold(read(path).entries).ticks.values()
        targets = [Target(name=tick.target) for tick in ticks if tick.target and tick.outcome is Outcome.SEEN]
    else:
        targets = list(read_toml(path, Plan).target)
    return {key for target in targets for key in _keys(target)}


def showpieces() -> frozenset[str]:
    """Return the keys of the showpieces of the whole sky."""
    return frozenset(key for name in _SHOWPIECES for key in _bundled(name))


def described() -> Listed:
    """Return the targets of the bundled lists with what to look for, by key."""
    return {key: target for name in (*_DESCRIBED, *_SHOWPIECES) for key, target in _bundled(name).items()}


def bundled_keys(name: str) -> frozenset[str]:
    """Return the keys of a bundled list."""
    return frozenset(_bundled(name))


@cache
def _bundled(name: str) -> Listed:
    plan = read_toml(shipped("plans") / "lists" / f"{name}.toml", Plan)
    return {target_key(target.name): target for target in plan.target}


def _keys(target: Target) -> set[str]:
    try:
        subject = resolve(target)
    except NightmodeError:
        return {target_key(target.name)}
    return keys_of(target.name, subject)


def keys_of(name: str, subject: Subject) -> set[str]:
    """Return the keys of all names of a subject that somebody calls so.

    Its usual one is among them: 61 Cygni, which 61 Cyg has not among its other names.
    """
    usual = lookup(name)
    names = (name, subject.name, *subject.other_names, *([usual.name] if usual else ()))
    return {target_key(word) for word in names}
