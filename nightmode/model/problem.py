"""Problems of a night, as figures; `wording.problems` makes sentences of them."""

from nightmode.records import Record


class NoDarkness(Record):
    """The Sun gets no lower than this; no part of the night is dark."""

    sun_lowest_deg: float


class NoAstronomicalNight(Record):
    """The Sun gets no lower than this, so the darkest part of the night is used."""

    sun_lowest_deg: float


class NoEyepieces(Record):
    """The kit has nothing to look with."""


class SkyAssumed(Record):
    """The site gives no sky brightness; this one is assumed for the zenith, mag/arcsec²."""

    zenith_mag: float


class OldElements(Record):
    """A comet or minor planet whose elements are too old or too new for the night."""

    name: str
    age_days: float


class NeverUsable(Record):
    """A target that is never above its floor while it is dark enough."""

    name: str


Problem = NoDarkness | NoAstronomicalNight | NoEyepieces | SkyAssumed | OldElements | NeverUsable
