"""What `setup` says at its end: what was written, what looks odd in it, and what to do next."""

from collections.abc import Sequence
from typing import TypeVar

from nightmode.eyepiece import combinations, misfits
from nightmode.model.kit import Instrument, Kit
from nightmode.model.observer import Observer
from nightmode.model.site import Site
from nightmode.night.circumstances import eyepieces_of
from nightmode.wording.kit import instrument_text, misfit_text
from nightmode.wording.zones import odd_zone

#: What an observer may have several of, one of them the usual one.
_SiteOrInstrument = TypeVar("_SiteOrInstrument", Site, Instrument)


def setup_text(observer: Observer, path: str, kept: str) -> str:
    """Return the report; path is the file written, kept the copy of the old one, "" for none."""
    site = _usual(observer.site, observer.observer.site)
    instruments: tuple[Instrument, ...] = (*observer.telescope, *observer.binoculars)
    instrument = _usual(instruments, observer.observer.telescope)
    parts = ((observer.eyepiece, "eyepiece"), (observer.barlow, "Barlow"), (observer.filter, "filter"))
    lines = [
        f"Wrote {path}" + (f" (the old one is {kept})" if kept else ""),
        f"  {site.name}: {site.latitude_deg:+.3f}, {site.longitude_deg:+.3f}, {site.timezone}",
        *(
            f"  {instrument_text(one)}" + ("; the usual one" if one is instrument and instruments[1:] else "")
            for one in instruments
        ),
    ]
    if observer.telescope:
        shown = [_count(len(rows), noun) for rows, noun in parts if rows or noun != "Barlow"]
        lines.append(f"  {', '.join(shown)}")
    lines += [f"  {words}" for words in odd_zone(site)]
    kit = Kit(telescope=instrument, eyepieces=eyepieces_of(observer.eyepiece), barlows=observer.barlow)
    lines += [
        f"  {misfit_text(misfit)}; a wider one is told by --barrel 2"
        for misfit in misfits(kit)
        if misfit.into is None
    ]
    if not combinations(kit) and not observer.eyepiece:  # of those there are, it has said what does not fit
        lines.append("  No eyepieces yet: nightmode setup --eyepieces 25/50,10/50")
    return "\n".join([*lines, "Next: nightmode nights"])


def _usual(known: Sequence[_SiteOrInstrument], name: str | None) -> _SiteOrInstrument:
    return next(item for item in known if item.name == name)


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" + ("" if number == 1 else "s")
