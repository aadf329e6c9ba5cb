"""What is not as one would wish on a night: figures only; `wording.problems` makes sentences of them."""

from nightmode.records import Record


class NoDarkness(Record):
    """The Sun gets no lower than this; no part of the night is dark."""

    sun_lowest_deg: float


class NoAstronomicalNight(Record):
    """The Sun gets no lower than this, and the darkest part of the night must do."""

    sun_lowest_deg: float


class NoEyepieces(Record):
    """The kit has nothing to look with."""


class SkyAssumed(Record):
    """The site says nothing of its sky; this zenith in mag/arcsec2 is taken."""

    zenith_mag: float


class OldElements(Record):
    """A comet or minor planet whose elements are of another time."""

    name: str
    age_days: float


class NeverUsable(Record):
    """A target that never stands above its floor while it is dark enough."""

    name: str


Problem = NoDarkness | NoAstronomicalNight | NoEyepieces | SkyAssumed | OldElements | NeverUsable
