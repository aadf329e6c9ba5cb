"""The star to set a finder on under a night's sky, and what lies between the eye and the stars."""

from collections.abc import Sequence, Set

import numpy as np

from nightmode.aim.align import AlignStar, align_on
from nightmode.aim.frame import direction
from nightmode.aim.shows import SUN_DEG, Air, IcrsStars, stars_here
from nightmode.arrays import Indices
from nightmode.catalog.field import FieldStars, field_stars
from nightmode.night.table import Night
from nightmode.walk.order import in_octants, walk_order
from nightmode.walk.state import OCTANTS


def align_star(
    night: Night, now_s: float, first_row: int | None, clear: Set[str] = frozenset(OCTANTS)
) -> AlignStar | None:
    """Return the star to align a finder on, with its place at now_s; None if no star will do.

    first_row is the target that comes first, None for none; clear holds the compass points without clouds.
    None while the Sun is above -6 degrees.
    """
    if night.sun_altitude_at(now_s) > SUN_DEG + 0.05:  # civil dusk itself is dark enough
        return None
    field, rotation = field_stars(faintest_mag=5.0), night.rotation_at(now_s)
    known = some_of(field, np.arange(len(field)))
    stars = stars_here(known, rotation, air_at(night, now_s), night.site.horizon)
    first = None
    if first_row is not None:
        first = direction(night.altitude_at(first_row, now_s), night.azimuth_at(first_row, now_s))
    star = align_on(
        stars.direction,
        stars.altitude_deg,
        stars.magnitude,
        stars.is_clear & stars.is_steady & stars.has_name & in_octants(stars.azimuth_deg, clear),
        first,
    )
    if star is None:
        return None
    figures = (stars.magnitude[star], stars.altitude_deg[star], stars.azimuth_deg[star])
    return AlignStar(field.name[star], *map(float, figures))


def align_at_dusk(night: Night) -> AlignStar | None:
    """Return the star to align on at civil dusk, chosen near the target that comes first."""
    dusk_s = night.twilights.civil_dusk_s
    if dusk_s is None:
        return None
    return align_star(night, dusk_s, first_up(night, dusk_s, walk_order(night.chances, dusk_s)))


def first_up(night: Night, now_s: float, order: Sequence[int]) -> int | None:
    """Return the first row of an order whose target is up or still comes up, or None."""
    return next(
        (row for row in order if any(stretch.end_s > now_s for stretch in night.targets[row].usable)), None
    )


def air_at(night: Night, now_s: float) -> Air:
    """Return what decides how faint a star shows at an instant: the sky's light, the air, Sun and Moon."""
    column, moon = night.column(now_s), night.moon
    return Air(
        zenith_mag=night.zenith_mag,
        mag_per_airmass=night.site.extinction,
        sun_altitude_deg=night.sun_altitude_at(now_s),
        moon=direction(moon.altitude_deg[column], moon.azimuth_deg[column]),
        moon_altitude_deg=float(moon.altitude_deg[column]),
        moon_phase_angle_deg=float(moon.light_phase_deg[column]),
    )


def some_of(field: FieldStars, places: Indices) -> IcrsStars:
    """Return some of the stars, by their places in the table."""
    return IcrsStars(
        direction=field.direction[places],
        magnitude=field.magnitude[places],
        has_name=field.has_name[places],
        has_word=field.has_word[places],
        is_steady=field.is_steady[places],
        is_fixed=np.ones(len(places), bool),
    )
