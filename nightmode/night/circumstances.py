"""Who observes, when, from where and with what: taken from the plan, else from observer.toml."""

import datetime as dt
from collections.abc import Sequence
from itertools import chain

from nightmode.errors import NightmodeError
from nightmode.model.chosen import chosen_of, named_of
from nightmode.model.instruments import Instruments
from nightmode.model.kit import Binoculars, Eyepiece, Instrument, Kit, Zoom
from nightmode.model.observer import Observer, Person
from nightmode.model.plan import Plan
from nightmode.model.site import Site
from nightmode.model.target import Target
from nightmode.records import Record


class Circumstances(Record):
    """The night's date (that of its evening), the site, the kit and the observer.

    kit belongs to the main instrument, others to further instruments (see `Instruments`), if there are any.
    """

    date: dt.date
    site: Site
    kit: Kit
    person: Person
    others: tuple[Kit, ...] = ()
    shared: int = 1

    @property
    def instruments(self) -> Instruments:
        """All the kits of the night."""
        return Instruments((self.kit, *self.others), self.shared)


def circumstances_on(plan: Plan, observer: Observer, date: dt.date) -> Circumstances:
    """Put plan and observer together. NightmodeError if site or telescope is missing or its name unknown.

    Eyepieces, Barlows, filters and finders in the plan replace the observer's of the same sort.
    """
    person = observer.observer
    site = chosen_of("site", plan.site, person.site, observer.site)
    carried = instruments_of(plan, observer)
    return Circumstances(
        date=date,
        site=site,
        kit=carried.kits[0],
        person=person,
        others=carried.kits[1:],
        shared=carried.shared,
    )


def instruments_of(plan: Plan | None, observer: Observer) -> Instruments:
    """Return the instruments of a plan; those that only single targets name come last.

    NightmodeError if there is no instrument, or none of a name that is given.
    """
    known: tuple[Instrument, ...] = (*observer.telescope, *observer.binoculars)
    planned = plan.instruments if plan else ()
    chosen = [chosen_of("telescope", name, observer.observer.telescope, known) for name in planned or (None,)]
    shared = len(chosen)
    for number, target in enumerate(plan.target if plan else (), start=1):
        if target.telescope is not None and named_of(target.telescope, chosen) is None:
            chosen.append(_for_target(number, target, chosen, known))
    return Instruments(tuple(_kit(instrument, plan, observer) for instrument in chosen), shared)


def _for_target(
    number: int, target: Target, chosen: Sequence[Instrument], known: Sequence[Instrument]
) -> Instrument:
    """Return the instrument of observer.toml that only a target names. NightmodeError if it is not there."""
    assert target.telescope is not None
    found = named_of(target.telescope, known)
    if found is not None:
        return found
    names = ", ".join(dict.fromkeys(instrument.name for instrument in (*chosen, *known)))
    raise NightmodeError(
        f'target {number} ("{target.name}"), telescope',
        f"{target.telescope!r} is neither in the plan nor in observer.toml",
        f"known there: {names}",
    )


def _kit(instrument: Instrument, plan: Plan | None, observer: Observer) -> Kit:
    """Return an instrument with its eyepieces and the rest; binoculars have none of these."""
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
    """Return the eyepieces, with an eyepiece for each setting of a zoom."""
    settings = [given.settings if isinstance(given, Zoom) else (given,) for given in listed]
    return tuple(chain.from_iterable(settings))
