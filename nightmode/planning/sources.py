"""What a draft chooses from, what has been seen already, and the lists of showpieces that come along."""

from pathlib import Path

from nightmode.catalog.columns import Columns, all_objects, columns_of
from nightmode.catalog.lunar import lunar_features
from nightmode.catalog.resolve import resolve
from nightmode.errors import NightmodeError
from nightmode.files.places import shipped
from nightmode.files.toml import read_toml
from nightmode.model.kind import GROUPS, Kind
from nightmode.model.plan import Plan
from nightmode.model.session import Outcome
from nightmode.model.target import Body, Double, Fixed, Target
from nightmode.night.loading import resolve_all
from nightmode.session.journal import is_session, read
from nightmode.sky.binary import of_year
from nightmode.sky.bodies import BODIES
from nightmode.walk.state import fold, target_key

#: The lists of showpieces of the whole sky, and what has words for its targets besides.
_SHOWPIECES, _DESCRIBED = ("first-light", "southern"), ("dark-sky", "town")

Listed = dict[str, Target]


def sources(
    list_path: Path | None, year: float, kinds: frozenset[Kind] | None = None
) -> tuple[Columns, list[Body], Listed]:
    """Return what to choose from: the catalogue and the Solar System, or a list; and its targets by key.

    Doubles have the places of that year. Features of the Moon are among them only if kinds asks for them, and
    if it asks for nothing else, nothing else is read.
    """
    if list_path is None:
        everybody = [resolve(Target(name=body.capitalize())) for body in BODIES]
        if kinds and Kind.LUNAR_FEATURE in kinds:
            everybody += {feature.name: feature for feature in lunar_features().values()}.values()
        moon_alone = kinds is not None and kinds <= set(GROUPS["moon"])
        columns = columns_of([]) if moon_alone else all_objects(year)
        return columns, [body for body in everybody if isinstance(body, Body)], {}
    plan = read_toml(list_path, Plan)
    subjects = resolve_all(plan, str(list_path))
    listed = {target_key(target.name): target for target in plan.target}
    fixed = [
        of_year(subject, year) if isinstance(subject, Double) else subject
        for subject in subjects
        if isinstance(subject, Fixed)
    ]
    return columns_of(fixed), [subject for subject in subjects if isinstance(subject, Body)], listed


def seen_keys(path: Path) -> set[str]:
    """Return the names, as keys, of a list's targets or of what a session saw."""
    if is_session(path):
        ticks = fold(read(path).entries).ticks.values()
        targets = [Target(name=tick.target) for tick in ticks if tick.target and tick.outcome is Outcome.SEEN]
    else:
        targets = list(read_toml(path, Plan).target)
    return {key for target in targets for key in _keys(target)}


def showpieces() -> frozenset[str]:
    """Return the showpieces of the whole sky, by key."""
    return frozenset(key for name in _SHOWPIECES for key in _bundled(name))


def described() -> Listed:
    """Return the targets of the bundled lists with what to look for, by key."""
    return {key: target for name in (*_DESCRIBED, *_SHOWPIECES) for key, target in _bundled(name).items()}


def _bundled(name: str) -> Listed:
    plan = read_toml(shipped("plans") / "lists" / f"{name}.toml", Plan)
    return {target_key(target.name): target for target in plan.target}


def _keys(target: Target) -> set[str]:
    try:
        subject = resolve(target)
    except NightmodeError:
        return {target_key(target.name)}
    return {target_key(name) for name in (target.name, subject.name, *subject.other_names)}
