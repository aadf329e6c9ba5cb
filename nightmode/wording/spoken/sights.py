"""For the ear: what there is to see of a double or variable star, a planet, a feature of the Moon."""

from zoneinfo import ZoneInfo

import numpy as np

from nightmode.model.sight import Pair
from nightmode.model.target import Double, FeatureSort, LunarFeature
from nightmode.model.variable import Course
from nightmode.records import Record
from nightmode.sky.globes import PlanetTonight
from nightmode.sky.varying import VariableTonight
from nightmode.wording.figures import hour_text
from nightmode.wording.moon import shadows, size_text, sort_text, where_on_it
from nightmode.wording.pairs import IN_ITS_GLARE, separation
from nightmode.wording.spoken.sentences import said
from nightmode.wording.variables import class_words, expected_text, instant_label, instant_text, range_text


class OnTheMoon(Record):
    """A feature of the Moon at one instant, in degrees.

    How high the Earth and the Sun stand above its horizon, and by how much the Sun climbs in an hour.
    """

    seen_deg: float
    sun_deg: float
    sun_change_deg: float


def pair_said(double: Double, pair: Pair) -> tuple[str, ...]:
    """Return the magnitudes of both stars, their separation, and the direction of the companion."""
    both = (double.magnitude, double.companion_magnitude)
    magnitudes = [magnitude for magnitude in both if magnitude is not None]
    label = "magnitude" if len(magnitudes) == 1 else "magnitudes"
    stars = f"{label} {' and '.join(f'{magnitude:.1f}' for magnitude in magnitudes)}, " if magnitudes else ""
    told = [f"{stars}{separation(pair.separation_arcsec)} apart"]
    if pair.companion_clock is not None:
        near = hour_text(pair.companion_clock, halves=True)
        told.append(f"with stars leaving at 3 o'clock, the companion is near {near}")
    if pair.in_glare:
        told.append(IN_ITS_GLARE)
    return said(*told)


def planet_said(tonight: PlanetTonight, now_s: float) -> tuple[str, ...]:
    """Return what the disc is like: "Disc forty-four arcseconds, magnitude minus two point six."."""
    diameter = tonight.at(tonight.diameter_arcsec, now_s)
    parts = [f"disc {diameter:.0f}″" if diameter >= 10 else f"disc {diameter:.1f}″"]
    if tonight.planet == "saturn":
        length, width = (tonight.at(values, now_s) for values in tonight.ring_arcsec)
        parts.append(f"ring {length:.0f} x {width:.0f}″")
    lit = tonight.at(tonight.illuminated, now_s)
    if tonight.planet in ("mercury", "venus", "mars") and lit < 0.95:
        parts.append(f"{lit * 100:.0f} % lit")
    magnitude = tonight.at(tonight.magnitude, now_s)
    if np.isfinite(magnitude):
        parts.append(f"{magnitude:.1f} mag")
    return said(", ".join(parts))


def variable_said(tonight: VariableTonight, now_s: float, zone: ZoneInfo) -> tuple[str, ...]:
    """Return type and range, the magnitude to expect now, and when it is next faintest or brightest."""
    star = tonight.star
    light = f"{class_words(star) or 'variable'}, magnitudes {range_text(star)}"
    expected, coming = expected_text(tonight, now_s), instant_text(tonight, now_s, zone)
    label = "its" if star.course is Course.LOOSE else f"next {instant_label(star)}:"
    return said(light, f"now {expected}" if expected else "", f"{label} {coming}")


def feature_kind(feature: LunarFeature, now: OnTheMoon) -> tuple[str, ...]:
    """Return its kind and size: "Crater on the Moon, fifty-five kilometres."."""
    sort, size = sort_text(feature), size_text(feature, now.seen_deg)
    on_it = sort if feature.sort is FeatureSort.FEATURE else f"{sort} on the Moon"
    return said(f"{on_it}, {size}" if size else on_it)


def feature_said(feature: LunarFeature, now: OnTheMoon) -> tuple[str, ...]:
    """Return its place on the disc, and how high the Sun stands over it."""
    way = "rising" if now.sun_change_deg > 0 else "sinking"
    height = f"{abs(now.sun_deg):.0f}° {'over it' if now.sun_deg > 0 else 'below its horizon'}"
    return said(where_on_it(feature, now.sun_deg), f"Sun {height}, {way}: {shadows(now.sun_deg)}")
