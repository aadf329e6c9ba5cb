"""Reads a plan and observer.toml and opens the night: how walk, check and the sheet begin."""

import datetime as dt
import hashlib
from collections.abc import Sequence
from pathlib import Path

from nightmode.catalog.elements import ElementsFile
from nightmode.errors import NightmodeError
from nightmode.files.observer import load_observer
from nightmode.files.places import observer_file
from nightmode.files.text import decode, path_text, read_bytes
from nightmode.files.toml import LIMIT_BYTES, as_model, read_toml
from nightmode.model.observer import Observer
from nightmode.model.plan import Plan
from nightmode.model.session import Head
from nightmode.model.target import Subject, Target
from nightmode.night.circumstances import Circumstances, circumstances_on
from nightmode.night.table import Night
from nightmode.records import Record, replace

#: A file of all comets with known elements is a tenth of this.
ELEMENTS_LIMIT_BYTES = 5_000_000
#: So many further targets that are not known are named beside the first.
MOST_NAMED = 5
#: A plan for a night so far off, asked for tonight, may speak of a clock that is wrong.
_CLOCK_OFF = dt.timedelta(days=300)


class Loaded(Record):
    """A plan, the file it came from, its night, and what else the night was opened with.

    The last `added` targets are not in the file.
    """

    path: Path
    plan: Plan
    night: Night
    circumstances: Circumstances
    elements: ElementsFile | None
    added: int = 0

    def with_targets(self, names: Sequence[str]) -> "Loaded":
        """Return this opened again with more targets, in the last rows; the plan's file stays as it is.

        NightmodeError for a name that no catalogue knows, and for the Sun.
        """
        for name in names:
            self.meant_by(name)
        return self._with((*self.plan.target, *map(_target, names)), self.added + len(names))

    def without_added(self, row: int) -> "Loaded":
        """Return this opened again without a target; one that the plan's file has stays."""
        targets = self.plan.target
        if row < len(targets) - self.added:
            return self
        return self._with((*targets[:row], *targets[row + 1 :]), self.added - 1)

    def _with(self, targets: tuple[Target, ...], added: int) -> "Loaded":
        plan = self.plan.model_copy(update={"target": targets})
        night = open_plan(plan, str(self.path), self.circumstances, self.elements)
        return replace(self, plan=plan, night=night, added=added)

    def meant_by(self, name: str) -> Subject:
        """Return what a name means that the plan does not have; NightmodeError as for `with_targets`."""
        from nightmode.catalog.resolve import resolve

        return resolve(_target(name), self.elements, in_a_plan=False)


def _target(name: str) -> Target:
    return as_model("", {"name": name}, Target)


def load_night(
    plan_path: Path,
    observer_path: Path | None,
    date: dt.date | None,
    now_s: float,
    *,
    is_planned: bool = False,
) -> Loaded:
    """Read a plan and open its night: the date given, else the plan's, else that of now_s (Unix seconds).

    With is_planned an instant after sunrise means the coming evening; else a morning belongs to the night
    before. NightmodeError for whatever is wrong with a file, a flag or a target.
    """
    plan, observer = read_toml(plan_path, Plan), load_observer(observer_path)
    circumstances = find_circumstances(plan, observer, date, now_s, is_planned=is_planned)
    elements = load_elements(plan, plan_path, observer, observer_path)
    night = open_plan(plan, str(plan_path), circumstances, elements)
    return Loaded(plan_path, plan, night, circumstances, elements)


def load_elements(
    plan: Plan | None, plan_path: Path | None, observer: Observer, observer_path: Path | None
) -> ElementsFile | None:
    """Read the file of `elements_file`; None for none. NightmodeError if it cannot be read."""
    path = elements_file(plan, plan_path, observer, observer_path)
    if path is None:
        return None
    return ElementsFile(path_text(path), decode(path, read_bytes(path, ELEMENTS_LIMIT_BYTES)))


def elements_file(
    plan: Plan | None, plan_path: Path | None, observer: Observer, observer_path: Path | None
) -> Path | None:
    """Return the path of the file of comets and minor planets that the plan names, else observer.toml.

    A name without a folder is looked for in the folder of the file that gives it. None if neither names one.
    """
    if plan is not None and plan_path is not None and plan.elements:
        return plan_path.parent / Path(plan.elements).expanduser()
    if observer.observer.elements:
        return (observer_path or observer_file()).parent / Path(observer.observer.elements).expanduser()
    return None


def find_circumstances(
    plan: Plan, observer: Observer, date: dt.date | None, now_s: float, *, is_planned: bool = False
) -> Circumstances:
    """Return who observes, when, where and with what; date, else the plan's date, else tonight."""
    from nightmode.sky.kernel import open_sky
    from nightmode.sky.window import coming_night, night_of

    placed = circumstances_on(plan, observer, date or plan.night or dt.date.min)
    if placed.date != dt.date.min:
        return placed
    tonight = coming_night(open_sky(), placed.site, now_s) if is_planned else night_of(placed.site, now_s)
    return replace(placed, date=tonight)


def open_plan(
    plan: Plan, name: str, circumstances: Circumstances, elements: ElementsFile | None = None
) -> Night:
    """Open the night of a plan that has been read; name stands for its file in errors."""
    from nightmode.night.opening import open_night
    from nightmode.sky.kernel import open_sky

    return open_night(open_sky(), circumstances, resolve_all(plan, name, elements))


def resolve_all(plan: Plan, name: str, elements: ElementsFile | None = None) -> list[Subject]:
    """Return the plan's subjects.

    NightmodeError for one that is not known, with its place in the plan, and the places of others like it.
    """
    from nightmode.catalog.resolve import resolve

    subjects: list[Subject] = []
    wrong: list[tuple[int, NightmodeError]] = []
    for number, target in enumerate(plan.target, start=1):
        try:
            subjects.append(resolve(target, elements))
        except NightmodeError as error:
            wrong.append((number, error))
    if wrong:
        raise _first_of(wrong, name)
    return subjects


def _first_of(wrong: Sequence[tuple[int, NightmodeError]], name: str) -> NightmodeError:
    """Return the first error about a target, by number, of the plan `name`; the others are only named."""
    (number, error), *others = wrong
    instead = error.instead
    if others:
        named = ", ".join(f"target {number} ({other.where})" for number, other in others[:MOST_NAMED])
        more = f" and {len(others) - MOST_NAMED} more" if len(others) > MOST_NAMED else ""
        instead += f" (and see {named}{more})"
    return NightmodeError(f"{name}, target {number}, {error.where}", error.what, instead)


def new_head(loaded: Loaded, *, rehearsal: bool) -> Head:
    """Return the head of a session of this plan and night."""
    night = loaded.night
    try:
        digest = hashlib.sha256(read_bytes(loaded.path, LIMIT_BYTES)).hexdigest()[:16]
    except NightmodeError:
        digest = "0" * 16
    return Head(
        plan=loaded.plan.title,
        digest=digest,
        plan_file=str(loaded.path.absolute()),
        night=night.date,
        site=night.site.name,
        latitude_deg=night.site.latitude_deg,
        longitude_deg=night.site.longitude_deg,
        timezone=night.site.timezone,
        telescope=night.kit.telescope.name,
        rehearsal=rehearsal,
    )


def check_tonight(plan: Path, night: Night, now_s: float) -> None:
    """Raise NightmodeError if the plan's night is not now: nothing could be observed."""
    from nightmode.sky.window import night_of, night_window

    start_s, end_s = night_window(night.site, night.date)
    if not start_s <= now_s < end_s:
        tonight = night_of(night.site, now_s)
        raise NightmodeError(
            f"{plan}, night",
            f"is the night of {night.date}, and now is that of {tonight}",
            f"walk it tonight with --night {tonight}, or rehearse it with --at 21:00"
            + ("" if abs(night.date - tonight) < _CLOCK_OFF else "; or set the computer's clock right"),
        )
