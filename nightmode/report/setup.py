"""What `setup` says at its end: what was written, what looks odd in it, and what to do next."""

import datetime as dt
from collections.abc import Sequence
from typing import TypeVar

from nightmode.eyepiece import combinations, misfits
from nightmode.model.kit import Instrument, Kit
from nightmode.model.observer import Observer
from nightmode.model.site import Site
from nightmode.night.circumstances import eyepieces_of
from nightmode.sky.window import clock_off_sun_h, has_summer_of_its_half, has_zone_of_its_place
from nightmode.wording.kit import instrument_text, misfit_text

#: A zone is held against the Sun by its standard time, and that is the same all year.
SOME_DAY = dt.date(2027, 1, 1)
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
    if not has_zone_of_its_place(site, SOME_DAY):
        off_h = abs(clock_off_sun_h(site, SOME_DAY))
        asked = "is longitude east positive, and the zone right?"
        lines.append(f"  {site.timezone} is {off_h:.0f} h off the Sun there: {asked}")
    if not has_summer_of_its_half(site, SOME_DAY.year):
        half = "south" if site.latitude_deg > 0 else "north"
        asked = "is latitude north positive, and the zone right?"
        lines.append(f"  {site.timezone} has the summer of the {half}: {asked}")
    kit = Kit(telescope=instrument, eyepieces=eyepieces_of(observer.eyepiece), barlows=observer.barlow)
    lines += [
        f"  {misfit_text(misfit)}; a wider one is told by --barrel 2"
        for misfit in misfits(kit)
        if misfit.into is None
    ]
    if not combinations(kit):
        lines.append("  No eyepieces yet: nightmode setup --eyepieces 25/50,10/50")
    return "\n".join([*lines, "Next: nightmode nights"])


def _usual(known: Sequence[_SiteOrInstrument], name: str | None) -> _SiteOrInstrument:
    return next(item for item in known if item.name == name)


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" + ("" if number == 1 else "s")
