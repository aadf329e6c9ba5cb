"""What is not as one would wish on a night: figures only; `wording.problems` makes sentences of them."""

from dataclasses import dataclass


@dataclass(frozen=True)
class NoDarkness:
    """The Sun gets no lower than this; no part of the night is dark."""

    sun_lowest_deg: float


@dataclass(frozen=True)
class NoAstronomicalNight:
    """The Sun gets no lower than this, and the darkest part of the night must do."""

    sun_lowest_deg: float


@dataclass(frozen=True)
class NoEyepieces:
    """The kit has nothing to look with."""


@dataclass(frozen=True)
class SkyAssumed:
    """The site says nothing of its sky; this zenith in mag/arcsec2 is taken."""

    zenith_mag: float


@dataclass(frozen=True)
class OldElements:
    """A comet or minor planet whose elements are of another time."""

    name: str
    age_days: float


@dataclass(frozen=True)
class NeverUsable:
    """A target that never stands above its floor while it is dark enough."""

    name: str


Problem = NoDarkness | NoAstronomicalNight | NoEyepieces | SkyAssumed | OldElements | NeverUsable
