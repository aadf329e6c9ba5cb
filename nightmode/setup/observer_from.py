"""Makes the new observer from the old one and the answers of `setup`."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from nightmode.errors import NightmodeError
from nightmode.model.kit import Binoculars, Finder, Telescope, usual_view
from nightmode.model.observer import BEFORE_DARK, OF_A_TELESCOPE, PACKING_UP, Observer, Person
from nightmode.model.site import Site
from nightmode.setup import answers
from nightmode.setup.answers import M
from nightmode.setup.questions import BINOCULARS, Given, Question, asked_site, asked_telescope, has_telescope

_PERSON = {"pupil": "pupil_mm", "min_altitude": "min_altitude_deg", "hours": "hours"}
_SITE = {
    "site": "name",
    "latitude": "latitude_deg",
    "longitude": "longitude_deg",
    "elevation": "elevation_m",
    "timezone": "timezone",
    "horizon": "horizon",
}
_TELESCOPE = {
    "telescope": "name",
    "aperture": "aperture_mm",
    "focal_length": "focal_length_mm",
    "obstruction": "obstruction_mm",
    "barrel": "barrel_in",
}
_FINDERS = {"finder": "optical", "bullseye": "bullseye"}

#: What an unasked list adds and takes away.
NOTHING: tuple[tuple[Any, ...], tuple[Any, ...]] = ((), ())

ReadAnswers = Mapping[str, Any]


def observer_from(existing: Observer, given: Given, asked: tuple[Question, ...]) -> Observer:
    """Return the existing observer with the answers to all questions put in; all else is kept.

    A site or telescope of a new name is added beside the others and becomes the usual one.
    NightmodeError names the flag of an answer that does not fit.
    """
    read = {
        question.key: question.checked(given[question.key], question.flag, given)
        for question in asked
        if question.is_asked(given)
    }
    site = _site(existing, given, read)
    telescopes = [_telescope(existing, given, read)] if has_telescope(given) else []
    added, taken_away = read.get(BINOCULARS, NOTHING)
    pairs = answers.merged(existing.binoculars, added, taken_away, _pair)
    usual = (*telescopes, *added, *pairs)
    if not usual:
        raise NightmodeError("setup", "there is nothing to observe with", "add --binoculars 10x50/6.5")
    person = {"site": site.name, "telescope": usual[0].name if usual else None} | _fields(read, _PERSON)
    if not telescopes and not existing.telescope:
        person |= _lists_without_a_telescope(existing.observer)
    return answers.make(
        Observer,
        "setup",
        observer=existing.observer.model_copy(update=person),
        site=answers.merged(existing.site, [site], [], _name),
        telescope=answers.merged(existing.telescope, telescopes, [], _name),
        binoculars=pairs,
        eyepiece=_parts(
            existing.eyepiece, read.get("eyepieces", NOTHING), lambda eyepiece: eyepiece.focal_length_mm
        ),
        barlow=_parts(existing.barlow, read.get("barlows", NOTHING), lambda barlow: barlow.factor),
        filter=_parts(existing.filter, read.get("filters", NOTHING), lambda glass: glass.passband),
        finder=_finders(existing.finder, {kind: read[key] for key, kind in _FINDERS.items() if key in read}),
    )


def _lists_without_a_telescope(person: Person) -> dict[str, tuple[str, ...]]:
    """Return the usual checklists without what concerns telescopes; a list of the observer's own stays."""
    usual = {"before_dark": BEFORE_DARK, "packing_up": PACKING_UP}
    return {
        name: tuple(item for item in items if item not in OF_A_TELESCOPE)
        for name, items in usual.items()
        if getattr(person, name) == items
    }


def _parts(
    existing: Sequence[M],
    read: tuple[Sequence[M], Sequence[M] | None],
    same: Callable[[M], Any],
) -> tuple[M, ...]:
    add, away = read
    return answers.merged(existing, add, away, same)


def _pair(binoculars: Binoculars) -> tuple[tuple[float, ...], float]:
    return tuple(power for power, _ in binoculars.settings), binoculars.aperture_mm


def _fields(read: ReadAnswers, names: Mapping[str, str]) -> dict[str, Any]:
    return {field: read[key] for key, field in names.items()}


def _name(row: Site | Telescope) -> str:
    return row.name.casefold()


def _site(existing: Observer, given: Given, read: ReadAnswers) -> Site:
    known = asked_site(existing, given)
    values = known.model_dump() if known else {}
    values |= {"sky_brightness": None, "naked_eye_limit_mag": None, "bortle": None} | read["dark"]
    return answers.make(Site, "setup", **values | _fields(read, _SITE))


def _telescope(existing: Observer, given: Given, read: ReadAnswers) -> Telescope:
    known = asked_telescope(existing, given)
    values = known.model_dump() if known else {}
    values |= _fields(read, _TELESCOPE)
    # The usual view is not written: it follows from the obstruction.
    is_usual = values.get("view") is None and read["view"] == usual_view(read["obstruction"])
    return answers.make(Telescope, "setup", **values | {"view": None if is_usual else read["view"]})


def _finders(existing: tuple[Finder, ...], answered: dict[str, Finder | None]) -> tuple[Finder, ...]:
    """Return the finders, the first of each kind replaced by its answer if that is new."""
    left, kept = dict(answered), []
    for finder in existing:
        kept.append(_kept(finder, left.pop(finder.kind)) if finder.kind in left else finder)
    return tuple(finder for finder in (*kept, *left.values()) if finder is not None)


def _kept(existing: Finder, answer: Finder | None) -> Finder | None:
    if answer is None:
        return None
    same = answer.model_copy(
        update={
            "name": existing.name,
            "field_deg": answer.field_deg or existing.field_deg,
            "view": answer.view or existing.view,
        }
    )
    return existing if same == existing else answer
