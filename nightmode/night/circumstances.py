"""Who observes, when, from where and with what: the plan's word first, then observer.toml's."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

from nightmode.errors import NightmodeError
from nightmode.model.kit import Binoculars, Eyepiece, Instrument, Kit, Zoom
from nightmode.model.observer import Observer, Person
from nightmode.model.plan import Plan
from nightmode.model.site import Site

Named = TypeVar("Named", Site, Instrument)


@dataclass(frozen=True)
class Circumstances:
    """The night's date (that of its evening), the site, the kit and the observer."""

    date: dt.date
    site: Site
    kit: Kit
    person: Person


def circumstances_on(plan: Plan, observer: Observer, date: dt.date) -> Circumstances:
    """Bring plan and observer together. NightmodeError if there is no site or telescope or no such name.

    Eyepieces, Barlows, filters and finders in the plan replace the observer's of the same sort.
    """
    person = observer.observer
    return Circumstances(
        date=date,
        site=_choose("site", plan.site, person.site, observer.site),
        kit=kit_of(plan, observer),
        person=person,
    )


def kit_of(plan: Plan | None, observer: Observer) -> Kit:
    """Return the instrument and what goes with it; NightmodeError if there is none or none of that name."""
    planned = (plan.binoculars or plan.telescope) if plan else None
    known: tuple[Instrument, ...] = (*observer.telescope, *observer.binoculars)
    instrument = _choose("telescope", planned, observer.observer.telescope, known)
    if isinstance(instrument, Binoculars):
        return Kit(telescope=instrument)
    return Kit(
        telescope=instrument,
        eyepieces=eyepieces_of((plan and plan.eyepiece) or observer.eyepiece),
        barlows=(plan and plan.barlow) or observer.barlow,
        filters=(plan and plan.filter) or observer.filter,
        finders=(plan and plan.finder) or observer.finder,
    )


def eyepieces_of(listed: Sequence[Eyepiece | Zoom]) -> tuple[Eyepiece, ...]:
    """Return the eyepieces with each zoom as the settings it stands for."""
    return tuple(one for given in listed for one in (given.settings if isinstance(given, Zoom) else (given,)))


def site_of(plan: Plan | None, observer: Observer) -> Site | None:
    """Return the site, or None where neither plan nor observer.toml has one; NightmodeError as above."""
    if (plan is None or plan.site is None) and not observer.site:
        return None
    return _choose("site", plan.site if plan else None, observer.observer.site, observer.site)


def _choose(what: str, planned: str | Named | None, usual: str | None, known: Sequence[Named]) -> Named:
    if planned is not None and not isinstance(planned, str):
        return planned
    wanted = planned or usual
    if wanted is None:
        if known:
            return known[0]
        raise NightmodeError(
            what, "is given neither in the plan nor in observer.toml", f"add a [{what}] table to the plan"
        )
    for one in known:
        if one.name.casefold() == wanted.casefold():
            return one
    names = ", ".join(one.name for one in known) or f"none: add a [[{what}]] table"
    raise NightmodeError(what, f"{wanted!r} is not in observer.toml", f"known there: {names}")
