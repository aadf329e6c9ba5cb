"""Features of the Moon: when the light on them is right, and what aperture shows them. Numbers in, numbers
out.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from nightmode.arrays import Array, Interval
from nightmode.records import Record

#: Heights of the Sun over a feature, in degrees, between which it shows (ours, common practice in kind):
#: low for what throws shadows, the lowest for what hardly stands up, high for rays, bright spots and
#: shades of grey.
LIGHT_DEG = {"low": (0.5, 15.0), "lowest": (0.5, 6.0), "high": (35.0, 90.0)}
#: Below this height of the observer over a feature it is seen so far edge-on (0.15 of its width) that it
#: counts as turned away (ours).
TURNED_AWAY_DEG = float(np.degrees(np.arcsin(0.15)))
MOON_RADIUS_KM = 1737.4
#: Aperture in mm that shows 1 km face on: 1.5 times the Dawes limit; a third of that for long lines (ours).
#: At the Moon's mean distance, 384,400 km, 1 arcsec is 1.864 km.
_APERTURE_MM_KM = 324.0
_LINE_APERTURE_MM_KM = 108.0


class Shape(Record, eq=False):
    """N features, (N,) each: light is what each asks for; spread_deg is half its width on the Moon's globe
    where its nearest edge counts, else 0; early_deg is how far beyond the terminator its peaks catch the Sun.
    """

    light: Sequence[tuple[str, ...]]
    spread_deg: Array
    early_deg: Array


class FeatureTonight(Record, eq=False):
    """A feature of the Moon on one night; the tracks are (T,), instants in Unix seconds.

    sun_deg, seen_deg  the Sun's and the observer's height over its middle; 90 of the observer's is face on
    good       stretches in which the light on it is right, weeks before and after the night
    sunlit     stretches in which the Sun stands over its middle, or on its peaks
    nights     until the new Moon, those on which the light is right while the Moon is up: 0 is this one, 1
               the next, and so on
    next_night_s  noon before the first night after this one that has such a time; None for none found
    """

    sun_deg: Array
    seen_deg: Array
    good: tuple[Interval, ...]
    sunlit: tuple[Interval, ...]
    nights: tuple[int, ...]
    next_night_s: float | None

    @property
    def nights_left(self) -> int:
        """How many nights until the new Moon show it in its light."""
        return len(self.nights)

    def light_at(self, now_s: float) -> Interval | None:
        """Return the stretch of good light that holds now, else the next one, else None."""
        return next((stretch for stretch in self.good if stretch[1] > now_s), None)

    def sun_at(self, now_s: float) -> Interval | None:
        """Return the stretch of sunlight that holds now, else the next one, else None."""
        return next((stretch for stretch in self.sunlit if stretch[1] > now_s), None)


def early_deg(rise_km: ArrayLike | None) -> Array:
    """Return how far below a smooth ground's horizon the Sun may stand and still light a peak of that height.

    sqrt(2 h / R): 1.9 degrees for 1 km, 3.4 for 3 km. Source: geometry of a sphere of 1737.4 km.
    """
    height = np.nan_to_num(np.asarray(rise_km, dtype=float))
    return np.degrees(np.sqrt(2.0 * height / MOON_RADIUS_KM))


def light_margin_deg(shape: Shape, sun_deg: Array) -> Array:
    """Return (N, T): positive, in degrees of the Sun's height, where the light on N features is right."""
    margin = np.full(sun_deg.shape, -np.inf)
    for name, (lowest, highest) in LIGHT_DEG.items():
        asks = np.array([name in light for light in shape.light])
        if not asks.any():
            continue
        early = shape.early_deg[asks] if name != "high" else np.zeros(int(asks.sum()))
        floor = np.where(early > 0, -early, lowest) - shape.spread_deg[asks]
        inside = np.minimum(
            sun_deg[asks] - floor[:, None], highest + shape.spread_deg[asks][:, None] - sun_deg[asks]
        )
        margin[asks] = np.maximum(margin[asks], inside)
    return margin


def sun_margin_deg(shape: Shape, sun_deg: Array) -> Array:
    """Return (N, T): positive where the Sun stands over the middle of N features or on their peaks."""
    return sun_deg + shape.early_deg[:, None]


def facing_margin_deg(shape: Shape, seen_deg: Array) -> Array:
    """Return (N, T): positive where N features are turned to the observer far enough; seen_deg as (N, T)."""
    return seen_deg + shape.spread_deg[:, None] - TURNED_AWAY_DEG


def squeeze(seen_deg: ArrayLike) -> Array:
    """Return how a circle on the Moon looks, width over length: 1 in the middle of the disc, 0 on its edge.

    seen_deg is the observer's height over the circle, in degrees.
    """
    return np.maximum(np.sin(np.radians(seen_deg)), 0.0)


def aperture_for_detail_mm(detail_km: ArrayLike, squeezed: ArrayLike) -> Array:
    """Return the least aperture, in mm, that shows a detail of this size: 324 over its width in km (ours).

    squeezed is what `squeeze` gives: how much narrower it looks than face on. Linné, 2.2 km wide, takes
    147 mm where it is seen face on.
    """
    return _APERTURE_MM_KM / np.maximum(np.asarray(detail_km, float) * squeezed, 1e-6)


def aperture_for_line_mm(width_km: ArrayLike, squeezed: ArrayLike) -> Array:
    """Return the least aperture, in mm, that shows a long line of this width (ours).

    It is a third of what a detail as wide would take: the eye follows a line. squeezed is what `squeeze`
    gives. Rima Hadley, 1.2 km wide, takes 90 mm where it is seen face on.
    """
    return _LINE_APERTURE_MM_KM / np.maximum(np.asarray(width_km, float) * squeezed, 1e-6)
