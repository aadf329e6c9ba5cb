"""Which site or instrument is meant: what a plan names or carries, else the usual one of observer.toml."""

from collections.abc import Sequence
from typing import TypeVar

from nightmode.errors import NightmodeError
from nightmode.model.kit import Instrument
from nightmode.model.observer import Observer
from nightmode.model.plan import Plan
from nightmode.model.site import Site

SiteOrInstrument = TypeVar("SiteOrInstrument", Site, Instrument)


def site_of(plan: Plan | None, observer: Observer, name: str | None = None) -> Site | None:
    """Return the site of a name, else the plan's, else the usual; None if there is none.

    NightmodeError if no site is called so.
    """
    planned = name or (plan.site if plan else None)
    if planned is None and not observer.site:
        return None
    return chosen_of("site", planned, observer.observer.site, observer.site)


def chosen_of(
    what: str, planned: str | SiteOrInstrument | None, usual: str | None, known: Sequence[SiteOrInstrument]
) -> SiteOrInstrument:
    """Return what is planned, itself or by its name, else the usual one, else the first that is known.

    what is "site" or "telescope". NightmodeError if none is known, or none of that name.
    """
    if planned is not None and not isinstance(planned, str):
        return planned
    wanted = planned or usual
    if wanted is None:
        if known:
            return known[0]
        raise NightmodeError(
            what,
            "is given neither in the plan nor in observer.toml",
            f"run nightmode setup, or add a [{what}] table to the plan",
        )
    if (found := named_of(wanted, known)) is not None:
        return found
    names = ", ".join(item.name for item in known) or f"none: add a [[{what}]] table"
    raise NightmodeError(what, f"{wanted!r} is not in observer.toml", f"known there: {names}")


def named_of(name: str, known: Sequence[SiteOrInstrument]) -> SiteOrInstrument | None:
    """Return the item of a name, compared without case, or None."""
    return next((item for item in known if item.name.casefold() == name.casefold()), None)
