"""The score of a candidate for a place in a plan. The weights are our own: taste has no published source.

The score grows with what this instrument shows here tonight: how well the target stands out, how large it
looks at the power that suits its kind, how bright it is for its kind, and above all how near it is to its
greatest altitude. Small telescopes and binoculars favour clusters and pairs. A bright sky, be it by Moon,
town or twilight, spoils galaxies and nebulae, and hardly stars. How well known the target is counts apart
from it (`renown.py`).
"""

from collections.abc import Sequence

import numpy as np

from nightmode.arrays import Array, Flags
from nightmode.kinds import Kind
from nightmode.model.target import Body, LunarFeature
from nightmode.night.table import Placed
from nightmode.optics import dawes_limit_arcsec
from nightmode.records import Record, replace
from nightmode.visibility.splitting import EASY_SPLIT_DEX

#: The scores of the bodies of the Solar System, without altitude; in binoculars they are points, except the
#: Moon, and Jupiter with its four moons.
BODY_WORTH = {
    "jupiter": 5.2,
    "saturn": 5.2,
    "moon": 5.2,
    "mars": 3.4,
    "venus": 2.9,
    "uranus": 2.6,
    "neptune": 2.2,
    "mercury": 1.7,
}
#: The score of a feature of the Moon in the right light; more if few such nights are left in this lunation,
#: and more if it has a detail to look for.
_FEATURE, _SCARCE, _DETAILED = 2.7, 0.8, 0.6
#: Planets whose size changes much: the diameter in arcsec for the score above, and what each arcsec more
#: adds.
_BY_SIZE = {"mars": (12.0, 0.12), "venus": (25.0, 0.02)}
LOW_POWER, AT_LOW_POWER = 40.0, {"moon": 4.6, "jupiter": 3.8}
LOW_POWER_WORTH = 1.4
#: Added to a variable star that is in the bundled list.
WELL_KNOWN = 0.45
#: What a foreseen eclipse in the hours adds to a star; and what a comet gets, as it is there only for weeks.
IN_ECLIPSE, PASSING = 1.2, 2.5
#: The score of a single star that is plainly seen, without altitude.
_STAR = 1.4
#: What a range of so many magnitudes, or more, adds.
_CHANGE, _PLENTY_MAG = 0.4, 2.0
#: Of a single star, a margin beyond this adds nothing more.
_PLENTY_DEX = 0.7
_SHOWS, _LOOKS, _NEAR, _HIGH = 0.6, 0.7, 2.0, 0.8
#: Subtracted for each 15 degrees below this altitude.
_FREE_OF_HAZE_DEG, _LOW = 30.0, 0.8
#: What never gets as high as this is for other latitudes: to be near its best height is worth less,
#: and nothing below the lower of these two.
_EVER_HIGH_DEG, _NEVER_HIGH_DEG = 45.0, 15.0
#: Light is worth having whatever the contrast: what each magnitude brighter than usual for the kind adds,
#: up to so many; a fainter one loses as much. What nobody has measured passes for so much fainter.
_LIGHT, _LIGHT_MOST_MAG, _UNMEASURED_MAG = 0.3, 2.0, 1.0
#: Subtracted for what looks no larger than a star.
_LIKE_A_STAR = 1.5
#: Subtracted for galaxies without arms or dust, by their type: no telescope shows more than a glow.
_FEATURELESS, _FEATURELESS_TYPES = 0.3, ("E", "S0", "SA0", "SAB0", "SB0", "cE", "cD", "dE")
#: Behind a sky darker than this, in mag/arcsec2, nothing is spoilt.
_DARK_SKY_MAG = 20.5
#: Nor is what stands out so far in spite of the light, as M 42; over so many dex below it more and more is.
_SPARED_DEX, _SPARED_OVER_DEX = 1.3, 0.4
#: The most attractive pair: so many times as wide as the limit of the aperture, but not closer than this in
#: usual air, and with this apparent separation at the highest power.
_PAIR_LIMITS, _PAIR_IN_AIR_ARCSEC, _PAIR_APPARENT_ARCSEC = 7.0, 3.0, 450.0
#: Where a pair starts from; what each doubling of the aperture adds, from this one on; what is subtracted in
#: binoculars, where only the widest pairs are attractive; and what a second pair in the same view adds.
_PAIR, _PAIR_BY_APERTURE, _PAIR_LEAST_MM, _AT_LOW_POWER, _TWO_PAIRS = 0.3, -0.5, 100.0, 0.6, 0.5
#: The aperture in mm at which no kind is favoured.
_EVEN_MM = 150.0


class Ideal(Record):
    """The view that suits a kind: its exit pupil in mm, and the apparent width, in degrees, that scores best.

    An apparent width from `low` to `high` scores 1, below `least` or above `most` 0. A margin beyond
    plenty_dex adds nothing more. by_aperture is added for each doubling of the aperture; spoilt is subtracted
    times the square of the magnitudes by which Moon, town or twilight make the sky brighter than a dark one:
    a little light does little harm. usual_mag is how bright one is that is worth a look, base is the start.
    """

    pupil_mm: float
    least: float
    low: float
    high: float
    most: float
    plenty_dex: float
    by_aperture: float
    spoilt: float
    usual_mag: float
    base: float = 0.0


_GALAXY = Ideal(2.5, 1.5, 24.0, 150.0, 1000.0, 1.0, 0.0, 0.6, 9.5)
_NEBULA = Ideal(4.0, 2.0, 12.0, 120.0, 500.0, 0.6, 0.0, 0.12, 8.0)
_IDEALS = {
    Kind.DARK_NEBULA: replace(_NEBULA, base=-0.8),
    Kind.GALAXY: _GALAXY,
    Kind.GALAXY_GROUP: _GALAXY,
    Kind.GLOBULAR_CLUSTER: Ideal(2.0, 2.0, 14.0, 80.0, 200.0, 1.2, 0.0, 0.01, 7.0, 0.2),
    Kind.PLANETARY_NEBULA: Ideal(1.0, 0.3, 2.5, 30.0, 80.0, 1.2, 0.0, 0.02, 9.5, -0.3),
    Kind.OPEN_CLUSTER: Ideal(3.5, 2.0, 9.0, 40.0, 95.0, 1.2, -0.5, 0.01, 6.0, -0.2),
    Kind.ASTERISM: Ideal(4.0, 5.0, 15.0, 45.0, 70.0, 1.2, -0.5, 0.01, 5.0, -0.6),
}


class Powers(Record):
    """What an instrument has to offer: its aperture in mm and its lowest and highest power."""

    aperture_mm: float
    lowest: float
    highest: float


class Showing(Record, eq=False):
    """N candidates as an instrument shows them in the hours asked for, (N,) each; NaN for what is not known.

    kind           as what each is scored (`shines_as`)
    magnitude      V; of a double that of its brighter star
    dex            how far each stands out (`Survey.contrast_dex`)
    is_in_two_pairs   whether it is a pair with another one in the same view, as Epsilon Lyrae
    sky_mag        how bright the sky is behind it, in mag/arcsec2
    highest_deg    its greatest altitude in the hours
    best_deg       its greatest altitude ever at this site
    """

    kind: Sequence[Kind]
    hubble_type: Sequence[str]
    magnitude: Array
    companion_mag: Array
    separation_arcsec: Array
    size_arcmin: Array
    dex: Array
    is_in_two_pairs: Flags
    sky_mag: Array
    highest_deg: Array
    best_deg: Array


def glow_scores(shown: Showing, powers: Powers) -> Array:
    """Return the scores of candidates as glows, (N,), about 0 to 6."""
    ideals = [_IDEALS.get(kind, _NEBULA) for kind in shown.kind]
    by_aperture, spoilt, base, plenty_dex, usual_mag = (
        np.array([getattr(ideal, name) for ideal in ideals])
        for name in ("by_aperture", "spoilt", "base", "plenty_dex", "usual_mag")
    )
    looks = looks_well(ideals, np.nan_to_num(shown.size_arcmin, nan=1.0), powers)
    seen = _SHOWS * shown_well(shown.dex, plenty_dex) + _LOOKS * looks
    bright_mag = np.nan_to_num(usual_mag - shown.magnitude, nan=-_UNMEASURED_MAG)
    seen += _LIGHT * np.clip(bright_mag, -_LIGHT_MOST_MAG, _LIGHT_MOST_MAG)
    too_bright = np.clip(_DARK_SKY_MAG - np.nan_to_num(shown.sky_mag, nan=_DARK_SKY_MAG), 0.0, None)
    lost = spoilt * too_bright**2 * needs_dark(shown.dex) + _LIKE_A_STAR * (looks <= 0.0)
    lost += _FEATURELESS * np.array([type_.startswith(_FEATURELESS_TYPES) for type_ in shown.hubble_type])
    suits = base + by_aperture * float(np.log2(powers.aperture_mm / _EVEN_MM))
    return seen + suits - lost + height_scores(shown)


def shines_as(kind: Kind, tenth_star_mag: float, nebula_mag_arcsec2: float) -> Kind:
    """Return as what a kind is scored; NaN stands for what is not known.

    The light of a cluster with nebula is the cluster's where its stars have been counted or the nebula has a
    brightness of its own, else the nebula's.
    """
    if kind is not Kind.CLUSTER_NEBULA:
        return kind
    is_nebula = np.isnan(tenth_star_mag) and np.isnan(nebula_mag_arcsec2)
    return Kind.EMISSION_NEBULA if is_nebula else Kind.OPEN_CLUSTER


def needs_dark(dex: Array) -> Array:
    """Return from 0 to 1 how much targets with these margins in dex suffer from a bright sky."""
    return np.clip((_SPARED_DEX - np.nan_to_num(dex)) / _SPARED_OVER_DEX, 0.0, 1.0)


def shown_well(dex: Array, plenty_dex: Array) -> Array:
    """Return from 0 to 1 how well targets with these margins in dex can be seen; 0 if not known."""
    return np.clip((np.nan_to_num(dex, nan=-1.0) + 0.1) / (plenty_dex + 0.1), 0.0, 1.0)


def looks_well(ideals: Sequence[Ideal], size_arcmin: Array, powers: Powers) -> Array:
    """Return from 0 to 1 how well sizes suit the view of an instrument."""
    pupil_mm = np.array([ideal.pupil_mm for ideal in ideals])
    least, low, high, most = (
        np.log([getattr(ideal, name) for ideal in ideals]) for name in ("least", "low", "high", "most")
    )
    size_deg = np.maximum(size_arcmin / 60.0, 1e-6)
    usual = np.log(size_deg * np.clip(powers.aperture_mm / pupil_mm, powers.lowest, powers.highest))
    # What is too large at that power is looked at with the lowest one.
    small, large = (usual - least) / (low - least), (most - np.log(size_deg * powers.lowest)) / (most - high)
    return np.clip(np.minimum(small, large), 0.0, 1.0)


def pair_scores(shown: Showing, powers: Powers) -> Array:
    """Return the scores of candidates as doubles, (N,).

    Best are those that are surely split, neither wide nor difficult, with both stars bright, because bright
    stars show their colours. What only tests the aperture is no sight. Larger telescopes score less: they can
    show fainter things.
    """
    ideal_arcsec = max(
        _PAIR_LIMITS * float(dawes_limit_arcsec(powers.aperture_mm)),
        _PAIR_IN_AIR_ARCSEC,
        _PAIR_APPARENT_ARCSEC / powers.highest,
    )
    separation_arcsec = np.nan_to_num(shown.separation_arcsec, nan=1.0)
    apt = np.clip(1.0 - np.abs(np.log10(separation_arcsec / ideal_arcsec)) / 0.9, 0.0, 1.0)
    sure = np.clip(np.nan_to_num(shown.dex) / EASY_SPLIT_DEX, 0.0, 1.0)
    bright = np.clip((6.0 - np.nan_to_num(shown.magnitude, nan=6.0)) / 3.0, 0.0, 1.0)
    companion = np.clip((9.0 - np.nan_to_num(shown.companion_mag, nan=9.0)) / 4.0, 0.0, 1.0)
    seen = 0.35 * sure + 0.5 * apt + 0.3 * bright + 0.5 * companion
    suits = _PAIR_BY_APERTURE * float(np.log2(max(powers.aperture_mm, _PAIR_LEAST_MM) / _EVEN_MM))
    few = _AT_LOW_POWER * (powers.highest < LOW_POWER)
    return _PAIR + seen + suits - few + _TWO_PAIRS * shown.is_in_two_pairs + height_scores(shown)


def star_scores(shown: Showing) -> Array:
    """Return the scores of candidates as single stars, (N,): low, for only a change of light is a sight."""
    return _STAR * np.clip(shown.dex / _PLENTY_DEX, 0.0, 1.0) + height_scores(shown)


def change_score(amplitude_mag: float) -> float:
    """Return what a range of so many magnitudes adds to the score of a variable star."""
    return _CHANGE * min(amplitude_mag / _PLENTY_MAG, 1.0)


def height_scores(shown: Showing) -> Array:
    """Return the scores for altitude, (N,): best when high, and near the greatest altitude ever reached."""
    highest_deg, best_deg = shown.highest_deg, shown.best_deg
    now, best = (np.sin(np.radians(np.clip(angle, 0.0, 90.0))) for angle in (highest_deg, best_deg))
    near = np.clip((now / np.maximum(best, 0.05) - 0.6) / 0.35, 0.0, 1.0)
    near *= np.clip((best_deg - _NEVER_HIGH_DEG) / (_EVER_HIGH_DEG - _NEVER_HIGH_DEG), 0.0, 1.0)
    low = np.clip((_FREE_OF_HAZE_DEG - highest_deg) / 15.0, 0.0, 1.0)
    return _NEAR * near + _HIGH * now - _LOW * low


def body_score(target: Placed, *, low_power: bool = False) -> float:
    """Return the score of a body, or of a feature of the Moon, without the score for altitude.

    low_power is for binoculars, which show planets as points.
    """
    subject, feature = target.subject, target.feature
    if isinstance(subject, LunarFeature) and feature is not None:
        scarce = _SCARCE / max(feature.nights_left, 1)
        return LOW_POWER_WORTH if low_power else _FEATURE + scarce + _DETAILED * bool(subject.detail)
    if not isinstance(subject, Body):
        return 0.0
    if low_power:
        return AT_LOW_POWER.get(subject.body, LOW_POWER_WORTH)
    value = BODY_WORTH.get(subject.body, 0.0)
    if target.planet is not None and subject.body in _BY_SIZE:
        usual_arcsec, gain = _BY_SIZE[subject.body]
        size = float(target.planet.diameter_arcsec.mean())
        value += float(np.clip(gain * (size - usual_arcsec), -1.2, 1.2))
    return value
