"""One session read back: each look at each target with its notes, and what happened during the night."""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from zoneinfo import ZoneInfo

from nightmode.model.session import Dew, Entry, Event, Head, Outcome, Seeing
from nightmode.model.site import zone_of
from nightmode.walk.state import fold, target_key
from nightmode.words import Word

#: What two copies of one session have in common: night, plan, site and telescope.
SessionKey = tuple[dt.date, str, str, str]


# Dataclasses, because the cache has pydantic read and write them.
@dataclass(frozen=True)
class Look:
    """One look at one target: a tick and the notes that go with it; outcome is None without a tick.

    at has its offset from UTC; angles are those of the target then. telescope is given if there were several
    instruments. verdict, margin_dex, contrast_dex and experience are what the program had predicted, None if
    nothing.
    """

    name: str
    at: dt.datetime
    outcome: Outcome | None = None
    altitude_deg: float | None = None
    azimuth_deg: float | None = None
    telescope: str = ""
    eyepiece: str = ""
    filter: str = ""
    verdict: Word | None = None
    margin_dex: float | None = None
    contrast_dex: float | None = None
    experience: float | None = None
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Happening:
    """What concerns the night and not one target: clouds, a reading of the sky, the seeing, a remark."""

    at: dt.datetime
    event: Event
    words: str = ""
    sky_brightness: float | None = None
    seeing: Seeing | None = None
    transparency: int | None = None
    dew: Dew | None = None


@dataclass(frozen=True)
class Sitting:
    """One session read back, without entries that were undone; looks are in the order of writing.

    file is the journal's name, trouble one line on what is torn or damaged in it, else "".
    """

    file: str
    night: dt.date
    plan: str
    site: str
    latitude_deg: float | None
    longitude_deg: float | None
    timezone: str
    telescope: str
    rehearsal: bool
    looks: tuple[Look, ...]
    happenings: tuple[Happening, ...]
    trouble: str = ""

    @property
    def zone(self) -> ZoneInfo:
        """The site's time zone; UTC where this machine does not know it."""
        return zone_of(self.timezone) or ZoneInfo("UTC")

    @property
    def telescopes(self) -> tuple[str, ...]:
        """The names of the main instrument and of others that were looked through."""
        others = (look.telescope for look in self.looks if look.telescope)
        return tuple(dict.fromkeys((self.telescope, *others)))

    @property
    def identity(self) -> SessionKey:
        """What all copies of this session have in common, whether they are complete or not."""
        return self.night, self.plan, self.site, self.telescope

    @property
    def by_time(self) -> tuple[Look, ...]:
        """Every look, in the order of their times."""
        return tuple(sorted(self.looks, key=lambda look: look.at))

    @property
    def last_looks(self) -> tuple[Look, ...]:
        """The look that counts for each target: its last tick, else its notes."""
        last: dict[str, Look] = {}
        for look in self.looks:
            key = target_key(look.name)
            if look.outcome is not None or key not in last:
                last[key] = look
        return tuple(last.values())

    @property
    def span(self) -> tuple[dt.datetime, dt.datetime] | None:
        """The first and the last instant noted, or None."""
        instants = [look.at for look in self.looks] + [happening.at for happening in self.happenings]
        return (min(instants), max(instants)) if instants else None


def sitting_of(file: str, head: Head, entries: Iterable[Entry], trouble: str = "") -> Sitting:
    """Return the session that a journal's head and entries make."""
    live = fold(entries).live
    return Sitting(
        file=file,
        night=head.night,
        plan=head.plan,
        site=head.site,
        latitude_deg=head.latitude_deg,
        longitude_deg=head.longitude_deg,
        timezone=head.timezone,
        telescope=head.telescope,
        rehearsal=head.rehearsal,
        looks=tuple(_looks(live)),
        happenings=tuple(_happening(entry) for entry in live if _befell_the_night(entry)),
        trouble=trouble,
    )


def _looks(live: Sequence[Entry]) -> list[Look]:
    """Return a look for each tick; a note goes with the last tick of its target before it, else the first."""
    looks: dict[str, list[Look]] = {}
    for entry in live:
        if entry.target is None or entry.event not in (Event.TICK, Event.NOTE):
            continue
        mine = looks.setdefault(target_key(entry.target), [])
        if entry.event is Event.TICK:
            before = mine.pop().notes if mine and mine[-1].outcome is None else ()
            mine.append(_ticked(entry, before))
        elif mine:
            mine[-1] = replace(mine[-1], notes=(*mine[-1].notes, entry.note))
        else:
            mine.append(replace(_ticked(entry, ()), outcome=None))
    return [look for mine in looks.values() for look in mine]


def _ticked(entry: Entry, before: tuple[str, ...]) -> Look:
    return Look(
        name=entry.target or "",
        at=entry.at,
        outcome=entry.outcome,
        altitude_deg=entry.altitude_deg,
        azimuth_deg=entry.azimuth_deg,
        telescope=entry.telescope or "",
        eyepiece=entry.eyepiece or "",
        filter=entry.filter or "",
        verdict=entry.verdict,
        margin_dex=entry.margin_dex,
        contrast_dex=entry.contrast_dex,
        experience=entry.experience,
        notes=(*before, *([entry.note] if entry.note else [])),
    )


def _befell_the_night(entry: Entry) -> bool:
    if entry.event is Event.NOTE:
        return entry.target is None
    return entry.event not in (Event.TICK, Event.PAUSE, Event.RESUME, Event.ADD)


def _happening(entry: Entry) -> Happening:
    return Happening(
        at=entry.at,
        event=entry.event,
        words=entry.note,
        sky_brightness=entry.sky_brightness,
        seeing=entry.seeing,
        transparency=entry.transparency,
        dew=entry.dew,
    )
