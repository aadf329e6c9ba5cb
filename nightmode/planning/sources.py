"""What a draft chooses from, what has been seen already, and the lists of showpieces that come along."""

from pathlib import Path

from nightmode.catalog.columns import Columns, columns_of, everything
from nightmode.catalog.lunar import lunar_features
from nightmode.catalog.resolve import resolve
from nightmode.errors import NightmodeError
from nightmode.files.places import shipped
from nightmode.files.toml import read_toml
from nightmode.model.plan import Plan
from nightmode.model.session import Outcome
from nightmode.model.target import Body, Fixed, Target
from nightmode.night.loading import resolve_all
from nightmode.session.journal import is_session, read
from nightmode.sky.bodies import BODIES
from nightmode.walk.state import fold, target_key

#: The lists of showpieces of the whole sky, and what has words for its targets besides.
_SHOWPIECES, _DESCRIBED = ("first-light", "southern"), ("dark-sky", "town")

Listed = dict[str, Target]


def sources(
    list_path: Path | None, *, moon: bool = False, moon_alone: bool = False
) -> tuple[Columns, list[Body], Listed]:
    """Return what to choose from: the catalogue and the Solar System, or a list; and its targets by key.

    moon adds the features of the Moon, for an evening on it; moon_alone leaves out all that stands still.
    """
    if list_path is None:
        everybody = [resolve(Target(name=body.capitalize())) for body in BODIES]
        everybody += {one.name: one for one in lunar_features().values()}.values() if moon else ()
        columns = columns_of([]) if moon_alone else everything()
        return columns, [body for body in everybody if isinstance(body, Body)], {}
    plan = read_toml(list_path, Plan)
    subjects = resolve_all(plan, str(list_path))
    listed = {target_key(target.name): target for target in plan.target}
    fixed = [subject for subject in subjects if isinstance(subject, Fixed)]
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
