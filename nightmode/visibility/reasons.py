"""A verdict, and the reasons it can give: figures only; `wording.reasons` makes sentences of them.

Instants are Unix seconds.
"""

from nightmode.records import Record
from nightmode.words import Cause, Word


class Reason(Record):
    """Why a target got its word, or what would change it."""


class Verdict(Record):
    """The verdict on a target.

    margin_dex is log10 of what there is, divided by what the eye needs; None if only altitude decides.
    contrast_dex is the part of it, of a glow, that a more experienced eye has more of (`margin.Margin`).
    """

    word: Word
    margin_dex: float | None
    cause: Cause
    reason: Reason
    contrast_dex: float | None = None


# What is not known.


class Missing(Reason):
    """A figure that nobody has published, or that the kit lacks."""

    what: Cause


class NoLight(Reason):
    """A dark nebula: it has no brightness of its own."""


# Where it stands.


class AltitudeAt(Record):
    """An altitude at an instant."""

    altitude_deg: float
    at_s: float


class Low(Reason):
    """It is low; later is its greatest altitude after this, None if that is not clearly more."""

    altitude_deg: float
    later: AltitudeAt | None


class LowOnceMoonless(Reason):
    """It is low, and comes no higher; while it stood clearly higher, the Moon was up."""

    altitude_deg: float


class High(Reason):
    """It is high enough, and sky glow makes no difference to it."""

    altitude_deg: float


class NeverUp(Reason):
    """In the dark it gets no higher than this; floor_deg is the least it should have."""

    highest_deg: float
    floor_deg: float


class NeverDark(Reason):
    """The sky does not get dark enough for it tonight."""


class Gone(Reason):
    """It could last be seen at this instant."""

    since_s: float


class NotUpYet(Reason):
    """It is behind the horizon until this instant."""

    until_s: float


class OutsideHours(Reason):
    """It is usable only outside the observer's hours: until an instant before them, or from one after them.

    by_light says that it is the light on a feature of the Moon that ends or begins then.
    """

    at_s: float
    before: bool
    by_light: bool = False


class Daylight(Reason):
    """The Sun is up; the target can be seen from an instant on, None for not tonight."""

    until_s: float | None


# Planets.


class DiscShows(Reason):
    """A planet is seen as a disc, at a good altitude."""

    diameter_arcsec: float
    altitude_deg: float


class DiscInAir(Reason):
    """A planet's disc is small compared with the blur of a star at its altitude."""

    diameter_arcsec: float
    blur_arcsec: float


class DiscInAperture(Reason):
    """A planet's disc is small compared with the smallest that the aperture tells from a star."""

    diameter_arcsec: float
    limit_arcsec: float


class RingNeeds(Reason):
    """The power in use does not show Saturn's ring; needed would."""

    power: float
    needed: float


class PointOnly(Reason):
    """The aperture shows a planet as a star at any power."""

    diameter_arcsec: float


# What looks like a star.


class DiscNeeds(Reason):
    """The power in use shows a planet or a planetary nebula as a star; needed would show it as a disc."""

    power: float
    needed: float


class GlowNeeds(Reason):
    """The power in use shows a small galaxy, nebula or globular as a star; needed would show it as a glow."""

    power: float
    needed: float


class PlainDiscNeeds(Reason):
    """The power in use shows a planet as a tiny disc; needed would show a plain one."""

    power: float
    needed: float


# What shows, where it is easy.


class Overflows(Reason):
    """It is easy and larger than the field."""


class StarsShow(Reason):
    """About how many stars of a cluster show; 100 stands for 100 and more.

    An asterism is a figure of few stars: the field that shines through it is not counted.
    """

    count: float
    is_figure: bool = False


class ExtentShows(Reason):
    """The share of its extent that can be seen."""

    fraction: float


class WithinReach(Reason):
    """A star well within reach of the aperture."""

    aperture_mm: float


class GoodLight(Reason):
    """A feature of the Moon in the right light: the Sun's height, and whether it is a feature for a high Sun.

    peaks_only says that only its peaks are lit. detail is what else can be seen with a certain aperture, ""
    for nothing.
    """

    sun_deg: float
    high: bool
    peaks_only: bool
    detail: str = ""
    detail_mm: float = 0.0


# What limits it, and what would do better.


class MoonNear(Reason):
    """The Moon: its lit share, its distance, and from when on it is down (None for not while it counts).

    without is the word that the target would have at this moment without the Moon.
    """

    lit: float
    separation_deg: float
    down_from_s: float | None
    without: Word


class Twilight(Reason):
    """Twilight: dark from or until an instant, both None where it lasts all night."""

    dark_from_s: float | None = None
    dark_until_s: float | None = None


class Spills(Reason):
    """It is so large that the field shows no sky around it."""

    field_deg: float


class SkyNeeded(Reason):
    """The next better word needs a moonless zenith of so many mag/arcsec2, perhaps without the Moon."""

    zenith_mag: float
    without_moon: bool


class ApertureNeeded(Reason):
    """The next better word needs this aperture; companion_mag is that of a double's fainter star, or None."""

    aperture_mm: float
    companion_mag: float | None = None


class FilterNeeded(Reason):
    """The next better word needs a filter of this kind, and nothing else."""

    passband: str


class SkyAndApertureNeeded(Reason):
    """The next better word needs both a zenith of so many mag/arcsec2 and this aperture, without a Moon.

    is_moon_up says whether there is one now.
    """

    zenith_mag: float
    aperture_mm: float
    is_moon_up: bool


class Faint(Reason):
    """No sky and no aperture give the next better word: too faint for its size, or hardly a dark nebula."""

    is_dark: bool


class WrongLight(Reason):
    """A feature of the Moon in the wrong light: unlit, or with the Sun too high or too low for it.

    coming_s is when it can be looked at later tonight, None for not tonight; night_s lies in the next night
    that has its light with the Moon up, None for none in the next month. is_too_low tells of one that is
    lit, but shows under a higher Sun alone.
    """

    sun_deg: float
    coming_s: float | None
    night_s: float | None
    is_too_low: bool = False


class TurnedAway(Reason):
    """A feature of the Moon that libration has turned to the edge, and the next night it has not."""

    night_s: float | None


class FeatureNeeds(Reason):
    """The aperture that would show a feature of the Moon better than this one does."""

    aperture_mm: float


class LitButLow(Reason):
    """A feature of the Moon in the right light, but low."""

    sun_deg: float
    low: Low


class Split(Reason):
    """A double's separation, and that of the closest equal pair that the aperture splits.

    easy_arcsec is what the pair would have to be apart to be easy in this aperture and air; None if it is.
    """

    separation_arcsec: float
    limit_arcsec: float
    easy_arcsec: float | None = None


class MorePower(Reason):
    """The power in use shows the pair badly, or as one star; needed would give the word `then`."""

    separation_arcsec: float
    power: float
    needed: float
    then: Word


class Blurred(Reason):
    """The air blurs the pair: by how much at this altitude, and by how much in still moments."""

    separation_arcsec: float
    blur_arcsec: float
    still_arcsec: float


class Glare(Reason):
    """The companion is in the glare of a star so many magnitudes brighter, which itself may be easy."""

    separation_arcsec: float
    difference_mag: float
    is_star_easy: bool = False


class BetterAt(Reason):
    """The suggested power shows it better than the one in use."""

    power: float
