"""What `nightmode when` asks about: one object or a list, and from where and with what it is seen."""

import datetime as dt
from collections.abc import Sequence
from pathlib import Path

from nightmode.catalog.resolve import resolve
from nightmode.errors import NightmodeError
from nightmode.files.toml import read_toml
from nightmode.history.lists import list_file, list_names
from nightmode.history.objects import identify, names_in
from nightmode.model.observer import Observer
from nightmode.model.plan import Plan
from nightmode.model.target import LunarFeature, Subject, Target
from nightmode.night.circumstances import Circumstances
from nightmode.night.loading import find_circumstances, load_elements, resolve_all
from nightmode.planning.season import year_from
from nightmode.records import Record
from nightmode.setup.answers import make
from nightmode.sky.bodies import BODIES
from nightmode.sky.kernel import FIRST_YEAR, LAST_YEAR


class Inquiry(Record):
    """The subjects asked about, under their title. A list is an inquiry even if it has a single target."""

    title: str
    is_list: bool
    subjects: tuple[Subject, ...]
    circumstances: Circumstances


def inquiry(
    words: Sequence[str],
    observer: Observer,
    observer_path: Path | None,
    now_s: float,
    *,
    site: str | None = None,
    telescopes: Sequence[str] = (),
) -> Inquiry:
    """Return what words ask about: an object (M 31 without quotes), the file of a list, or a list's name.

    site and telescopes are flags, and go before those of the list. NightmodeError if nothing is called so, or
    if only features of the Moon are.
    """
    name = _one_name(words)
    path = _list_path(name)
    chosen: dict[str, object] = {"site": observer.site_called(site)} if site else {}
    if telescopes:
        tools = tuple(observer.instrument_called(telescope) for telescope in telescopes)
        chosen |= {"telescope": tools, "binoculars": None}
    if path is None:
        target = make(Target, "when", name=name)
        plan = make(Plan, "when", title=target.name, target=(target,), **chosen)
    else:
        plan = read_toml(path, Plan).model_copy(update=chosen)
    circumstances = find_circumstances(plan, observer, None, now_s, is_planned=True)
    elements = load_elements(plan, path, observer, observer_path)
    if path is None:
        subjects = [resolve(plan.target[0], elements, in_a_plan=False)]
    else:
        subjects = resolve_all(plan, name, elements)
    lasting = tuple(subject for subject in subjects if not isinstance(subject, LunarFeature))
    if not lasting:
        raise _only_on_the_moon(name, is_list=path is not None)
    return Inquiry(plan.title, path is not None, lasting, circumstances)


def nights_of_year(text: str | None, today: dt.date) -> tuple[dt.date, dt.date]:
    """Return the first and last night of a year as it was typed, or of twelve months from this one on."""
    if text is None:
        return year_from(today)
    if text.isascii() and text.isdecimal() and FIRST_YEAR <= int(text) <= LAST_YEAR:
        return year_from(dt.date(int(text), 1, 1))
    raise NightmodeError("--year", f"{text!r} is not a year", f"write one from {FIRST_YEAR} to {LAST_YEAR}")


def _one_name(words: Sequence[str]) -> str:
    """Return words as one name. NightmodeError if they are the names of several objects."""
    names = names_in(words)
    if len(names) > 1 and all(identify(name).kind for name in names):
        raise NightmodeError("when", f"{len(names)} objects at once", "ask for one, or put them into a list")
    return " ".join(words)


def _list_path(name: str) -> Path | None:
    """Return the file of the list that a name means, None for an object.

    The name of a bundled list means the list, unless a body of the Solar System has that name.
    """
    path = Path(name)
    if path.suffix == ".toml" or path.is_file():
        return path
    return list_file(name) if name in set(list_names()) - set(BODIES) else None


def _only_on_the_moon(name: str, *, is_list: bool) -> NightmodeError:
    what, whose = ("holds only features", "their") if is_list else ("is a feature", "its")
    return NightmodeError(
        name,
        f"{what} of the Moon: {whose} light comes and goes within days, not months",
        "see which have good light on a night with nightmode draft --kinds moon",
    )
