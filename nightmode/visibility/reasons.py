"""A verdict, and the reasons it can give: figures only; `wording.reasons` makes sentences of them.

Instants are Unix seconds.
"""

from dataclasses import dataclass

from nightmode.visibility.words import Cause, Word


@dataclass(frozen=True)
class Reason:
    """Why a target got its word, or what would change it."""


@dataclass(frozen=True)
class Verdict:
    """How a target does.

    margin_dex is log10 of what there is over what the eye needs; None where altitude alone decides.
    """

    word: Word
    margin_dex: float | None
    cause: Cause
    reason: Reason


# What is not known.


@dataclass(frozen=True)
class Missing(Reason):
    """A figure that nobody has published, or that the kit lacks."""

    what: Cause


@dataclass(frozen=True)
class NoLight(Reason):
    """A dark nebula: it has no brightness of its own."""


# Where it stands.


@dataclass(frozen=True)
class AltitudeAt:
    """An altitude at an instant."""

    altitude_deg: float
    at_s: float


@dataclass(frozen=True)
class Low(Reason):
    """It stands low; later is where it stands highest after this, None where that is no gain."""

    altitude_deg: float
    later: AltitudeAt | None


@dataclass(frozen=True)
class High(Reason):
    """It stands high enough, and the sky's glow does not touch it."""

    altitude_deg: float


@dataclass(frozen=True)
class NeverUp(Reason):
    """In the dark it gets no higher than this; floor_deg is the least it should have."""

    highest_deg: float
    floor_deg: float


@dataclass(frozen=True)
class NeverDark(Reason):
    """The sky does not get dark enough for it tonight."""


@dataclass(frozen=True)
class Gone(Reason):
    """It was last to be seen then."""

    since_s: float


@dataclass(frozen=True)
class NotUpYet(Reason):
    """It stands behind the horizon until then."""

    until_s: float


@dataclass(frozen=True)
class OutsideHours(Reason):
    """It is up outside the observer's hours alone: until an instant before them, or from one after them."""

    at_s: float
    before: bool


@dataclass(frozen=True)
class Daylight(Reason):
    """The Sun is up; from then on it can be seen, None for not tonight."""

    until_s: float | None


# Planets.


@dataclass(frozen=True)
class DiscShows(Reason):
    """A planet's disc shows, at a good height."""

    diameter_arcsec: float
    altitude_deg: float


@dataclass(frozen=True)
class DiscNeeds(Reason):
    """The power in use shows a planet as a star; needed would show a disc."""

    diameter_arcsec: float
    power: float
    needed: float


@dataclass(frozen=True)
class RingNeeds(Reason):
    """The power in use does not show Saturn's ring; needed would."""

    power: float
    needed: float


@dataclass(frozen=True)
class PointOnly(Reason):
    """The aperture shows a planet as a star at any power."""

    diameter_arcsec: float


# What shows, where it is easy.


@dataclass(frozen=True)
class Overflows(Reason):
    """It is easy and larger than the field."""


@dataclass(frozen=True)
class StarsShow(Reason):
    """About how many stars of a cluster show; 100 stands for 100 and more."""

    count: float


@dataclass(frozen=True)
class ExtentShows(Reason):
    """The share of its extent that shows."""

    fraction: float


@dataclass(frozen=True)
class WithinReach(Reason):
    """A star well within reach of the aperture."""

    aperture_mm: float


@dataclass(frozen=True)
class GoodLight(Reason):
    """A feature of the Moon under its light: the Sun's height, whether a high Sun is what it asks for.

    peaks_only where the Sun reaches its peaks alone. detail is what else there is to see, from an aperture
    on; empty where nothing is named.
    """

    sun_deg: float
    high: bool
    peaks_only: bool
    detail: str = ""
    detail_mm: float = 0.0


# What limits it, and what would do better.


@dataclass(frozen=True)
class MoonNear(Reason):
    """The Moon: its lit share, its distance, and from when on it is down (None for not while it counts)."""

    lit: float
    separation_deg: float
    down_from_s: float | None


@dataclass(frozen=True)
class Twilight(Reason):
    """Twilight: dark from or until an instant, both None where it lasts all night."""

    dark_from_s: float | None = None
    dark_until_s: float | None = None


@dataclass(frozen=True)
class Spills(Reason):
    """It is larger than the field can show against the sky."""

    field_deg: float


@dataclass(frozen=True)
class SkyNeeded(Reason):
    """The next better word needs a moonless zenith of so many mag/arcsec2, perhaps without the Moon."""

    zenith_mag: float
    without_moon: bool


@dataclass(frozen=True)
class ApertureNeeded(Reason):
    """The next better word needs so much aperture; companion_mag where it is a double's fainter star."""

    aperture_mm: float
    companion_mag: float | None = None


@dataclass(frozen=True)
class FarAway(Reason):
    """Neither a darker sky alone nor any aperture of usual size gives the next better word."""


@dataclass(frozen=True)
class WrongLight(Reason):
    """A feature of the Moon without its light: dark ground, or the Sun too high or too low for it.

    coming_s is when it can be looked at later tonight, None for not tonight; night_s lies in the next night
    that has its light with the Moon up, None for none in the next month.
    """

    sun_deg: float
    coming_s: float | None
    night_s: float | None


@dataclass(frozen=True)
class TurnedAway(Reason):
    """A feature of the Moon that the libration has carried to the edge, and the next night it is not."""

    night_s: float | None


@dataclass(frozen=True)
class FeatureNeeds(Reason):
    """What aperture shows a feature of the Moon that this one hardly shows or does not."""

    aperture_mm: float


@dataclass(frozen=True)
class LitButLow(Reason):
    """A feature of the Moon under its light, standing low."""

    sun_deg: float
    low: Low


@dataclass(frozen=True)
class Split(Reason):
    """A double's separation beside the closest equal pair that the aperture splits."""

    separation_arcsec: float
    limit_arcsec: float


@dataclass(frozen=True)
class MorePower(Reason):
    """The power in use does not part the pair; needed would."""

    separation_arcsec: float
    power: float
    needed: float


@dataclass(frozen=True)
class Blurred(Reason):
    """The air blurs the pair: how wide at this height, and down to what it shrinks in still moments."""

    separation_arcsec: float
    blur_arcsec: float
    still_arcsec: float


@dataclass(frozen=True)
class Glare(Reason):
    """The companion stands in the light of a star so much brighter."""

    separation_arcsec: float
    difference_mag: float


@dataclass(frozen=True)
class BetterAt(Reason):
    """The suggested power shows it better than the one in use."""

    power: float
