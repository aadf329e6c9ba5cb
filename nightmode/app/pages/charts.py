"""The pictures that lead to a target: the sky, closer, in the finder, in the eyepiece."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from nightmode.aim.frame import (
    altitude_azimuth,
    direction,
    frame,
    point_at,
    rolled,
    separation_deg,
    stereographic,
)
from nightmode.aim.pointing import Instrument, Pointing
from nightmode.app.pages.dots import ACROSS, DOWN, Picture, Style
from nightmode.app.pages.line import Line, width
from nightmode.arrays import Array, Flags, Indices
from nightmode.walk.usable import horizon_altitude_deg
from nightmode.wording.aim import plainly

#: How many degrees the wide picture spans at least and at most, and the closer one.
WIDE_DEG, CLOSER_DEG = (13.0, 55.0), 9.0
#: Dots between the dots of a circle, and of a rim.
STEP, RIM_STEP = 2.4, 2.8
#: A star is as large as the brighter of two scales makes it: V as it looks, and magnitudes above the limit.
BY_LIGHT_MAG, BY_MARGIN_MAG = (4.7, 3.7, 2.7, 1.5), (0.7, 1.5, 2.5, 3.9)
#: The wide picture shows stars so far above the limit, and in a very full sky only those so far.
WIDE_MARGIN_MAG, FULL_MARGIN_MAG, FULL_COUNT = 0.3, 0.6, 90
#: In an instrument's field the table's last magnitude is as faint as it shows.
BY_LIGHT_IN_FIELD_MAG = (6.6, 5.8, 4.8, 3.5)
MOST_NAMES = 3


@dataclass(frozen=True, eq=False)
class Lens:
    """Where directions come to stand in a picture: a frame, and how many dots a degree takes."""

    home: Array
    dots_per_deg: float
    middle: Array
    shown: Instrument | None = None

    def places(self, directions: Array) -> Array:
        """Return dots from the left and from the top (..., 2) of directions (..., 3)."""
        degrees = stereographic(self.home, directions)
        if self.shown is not None:
            degrees = self.shown.shown(degrees)
        return self.middle + degrees * np.array([1.0, -1.0]) * self.dots_per_deg

    def at(self, direction: Array) -> tuple[float, float]:
        """Return dots from the left and from the top of one direction (3,)."""
        x, y = self.places(direction).tolist()
        return x, y


def sky_chart(one: Pointing, columns: int, rows: int, style: Style) -> list[Line]:
    """Return the way to a target in one picture: the star to begin with, the target, the figure's stars."""
    picture = Picture(columns, rows, style)
    guide = one.guide
    wanted = [guide.target]
    wanted += [one.stars.direction[guide.begin.star]] if guide.begin else []
    if guide.figure:
        wanted += [one.stars.direction[star] for star in (guide.figure.first, guide.figure.second)]
    lens = _fitting(guide.sky, np.array(wanted), _largest_deg(one) / 2.0, columns, rows)
    lens = _settled(lens, guide.target)
    shows = one.is_bright_enough & (one.stars.margin_mag >= WIDE_MARGIN_MAG)
    _draw_sky(picture, one, lens, shows)
    return picture.lines()


def closer_chart(one: Pointing, columns: int, rows: int, style: Style) -> list[Line]:
    """Return the neighbourhood of a target, with the sight's circles and every star this sky shows."""
    picture = Picture(columns, rows, style)
    across = max(CLOSER_DEG, 1.3 * _largest_deg(one))
    lens = _centred(one.guide.closer, across, columns, rows)
    _draw_sky(picture, one, _settled(lens, one.guide.target), one.is_bright_enough)
    return picture.lines()


def finder_chart(one: Pointing, find_deg: float | None, columns: int, rows: int, style: Style) -> list[Line]:
    """Return the field of the optical finder as it shows it, the find eyepiece's field inside."""
    finder, margin = one.finder, one.finder_margin_mag
    assert finder is not None
    assert margin is not None
    picture = Picture(columns, rows, style)
    lens = _field(picture, one, finder)
    if find_deg is not None:
        _circle(picture, lens, one.guide.target, find_deg / 2.0, STEP)
    names = {star: _name(one, star, style) for star in _told_stars(one)}
    _field_stars(picture, one, lens, finder, one.stars.is_clear & (margin > 0.0))
    _finish(picture, lens, one, names, style)
    return picture.lines()


def eyepiece_chart(one: Pointing, shown: Instrument, columns: int, rows: int, style: Style) -> list[Line]:
    """Return the field of the telescope as it shows it, with the target's size, or a double's companion."""
    picture = Picture(columns, rows, style)
    lens = _field(picture, one, shown)
    extent, target = one.extent, one.guide.target
    if extent.major_deg is not None and extent.major_deg < shown.field_deg:
        _circle(picture, lens, target, extent.major_deg / 2.0, STEP)
    if extent.companion_deg is not None and extent.position_angle_deg is not None:
        # Position angles run from north through east, which is to the left on the sky.
        bearing = one.north_deg - extent.position_angle_deg
        home = frame(target)
        apart = point_at(home, max(extent.companion_deg, 2.5 * ACROSS / lens.dots_per_deg), bearing)
        picture.star(lens.at(target), 3)
        picture.star(lens.at(apart), 1)
    _field_stars(picture, one, lens, shown, one.stars.altitude_deg > 0.0)
    _finish(picture, lens, one, {}, style)
    return picture.lines()


# -- the sky ------------------------------------------------------------------


def _draw_sky(picture: Picture, one: Pointing, lens: Lens, shows: Flags) -> None:
    target = one.guide.target
    places = lens.places(one.stars.direction)
    inside = np.array([picture.holds(x, y) for x, y in np.nan_to_num(places, nan=-1.0)]) & shows
    if inside.sum() > FULL_COUNT:
        near = separation_deg(one.stars.direction, target) <= _largest_deg(one) / 2.0
        inside &= near | (one.stars.margin_mag >= FULL_MARGIN_MAG)
    for ring in one.rings_deg:
        _circle(picture, lens, target, ring / 2.0, STEP)
    _horizon(picture, one, lens)
    stars = np.flatnonzero(inside)
    sizes = np.maximum(
        _size(-one.stars.dimmed_mag, [-limit for limit in BY_LIGHT_MAG]),
        _size(one.stars.margin_mag, BY_MARGIN_MAG),
    )
    for star in stars[np.argsort(one.stars.dimmed_mag[stars], kind="stable")].tolist():
        picture.star((places[star, 0], places[star, 1]), int(sizes[star]))
    _finish(picture, lens, one, _names(one, stars, picture.style), picture.style)


def _names(one: Pointing, inside: Indices, style: Style) -> dict[int, str]:
    """Return what to write, the most needed first: begin, figure, circles, the four brightest, bodies."""
    guide, here = one.guide, set(inside.tolist())
    wanted = [guide.begin.star] if guide.begin else []
    wanted += [guide.figure.first, guide.figure.second] if guide.figure else []
    wanted += [star.star for star in guide.sight]
    by_light = inside[np.argsort(one.stars.dimmed_mag[inside], kind="stable")].tolist()
    wanted += [star for star in by_light if one.called[star]][:MOST_NAMES]
    return {star: name for star in wanted if star in here and (name := _name(one, star, style))}


def _name(one: Pointing, star: int, style: Style) -> str:
    name = one.called[star] or f"{one.stars.magnitude[star]:.1f}"
    return name if style.has_letters else plainly(name)


def _finish(picture: Picture, lens: Lens, one: Pointing, names: dict[int, str], style: Style) -> None:
    """Mark the target, unless a star stands there, and write the names round it."""
    picture.mark(lens.at(one.guide.target), "+" if style.has_dots else "x", "text")
    for star, name in names.items():
        is_begin = one.guide.begin is not None and star == one.guide.begin.star
        picture.label(lens.at(one.stars.direction[star]), name, "text" if is_begin else "faint")


def _horizon(picture: Picture, one: Pointing, lens: Lens) -> None:
    """Draw the horizon line where it runs through the picture."""
    middle_azimuth = float(altitude_azimuth(lens.home[2])[1])
    azimuth = middle_azimuth + np.arange(-90.0, 90.0, STEP / lens.dots_per_deg)
    height = np.maximum(horizon_altitude_deg(one.horizon, azimuth % 360.0), 0.0)
    for x, y in np.nan_to_num(lens.places(direction(height, azimuth)), nan=-1.0):
        picture.dot(x, y)


# -- fields -------------------------------------------------------------------


def _field(picture: Picture, one: Pointing, shown: Instrument) -> Lens:
    """Draw the rim of a field, with north and west on it, and return where things stand in it."""
    lens = _centred(frame(one.guide.target), shown.field_deg * 1.02, picture.columns, picture.rows, shown)
    lens = _settled(lens, one.guide.target)
    _circle(picture, lens, one.guide.target, shown.field_deg / 2.0, RIM_STEP)
    home = rolled(frame(one.guide.target), one.north_deg)
    for letter, bearing in (("N", 0.0), ("W", 90.0)):
        x, y = lens.at(point_at(home, shown.field_deg / 2.0, bearing))
        x = min(max(x, 0.0), picture.columns * ACROSS - 1.0)
        picture.mark((x, min(max(y, 0.0), picture.rows * DOWN - 1.0)), letter, "text")
    return lens


def _field_stars(picture: Picture, one: Pointing, lens: Lens, shown: Instrument, shows: Flags) -> None:
    away = separation_deg(one.stars.direction, one.guide.target)
    inside = np.flatnonzero(shows & (away < shown.field_deg / 2.0))
    sizes = _size(-one.stars.magnitude, [-limit for limit in BY_LIGHT_IN_FIELD_MAG])
    for star in inside[np.argsort(one.stars.magnitude[inside], kind="stable")].tolist():
        picture.star(lens.at(one.stars.direction[star]), int(sizes[star]))


def _told_stars(one: Pointing) -> list[int]:
    """Return the stars of chain and figure that stand in the finder's field."""
    told = list(one.chain.stars) if one.chain else []
    told += [one.guide.figure.first, one.guide.figure.second] if one.guide.figure else []
    away = separation_deg(one.stars.direction, one.guide.target)
    return [star for star in told if one.finder and away[star] < one.finder.field_deg / 2.0]


# -- where things stand ---------------------------------------------------------


def _largest_deg(one: Pointing) -> float:
    return one.rings_deg[-1] if one.rings_deg else 3.0


def _size(value: Array, steps: Iterable[float]) -> Array:
    """Return how many of the rising steps each value reaches."""
    return np.sum([value >= step for step in steps], axis=0)


def _centred(
    home: Array, across_deg: float, columns: int, rows: int, shown: Instrument | None = None
) -> Lens:
    dots = np.array([columns * ACROSS, rows * DOWN], float)
    return Lens(home, float(dots.min()) / across_deg, dots / 2.0, shown)


def _fitting(home: Array, wanted: Array, room_deg: float, columns: int, rows: int) -> Lens:
    """Return the lens that holds some directions (N, 3), with room round them for circles and names."""
    places = stereographic(home, wanted)
    low, high = places.min(axis=0), places.max(axis=0)
    dots = np.array([columns * ACROSS, rows * DOWN], float)
    span = np.maximum(high - low + 2.0 * room_deg, WIDE_DEG[0])
    names = np.array([2.0 * ACROSS * width("Vega") * 2.0, 2.0 * DOWN])
    per_deg = float(((dots - names) / span).min())
    per_deg = max(per_deg, float(dots.min()) / WIDE_DEG[1])
    middle = (low + high) / 2.0
    return Lens(home, per_deg, dots / 2.0 - middle * np.array([1.0, -1.0]) * per_deg)


def _settled(lens: Lens, target: Array) -> Lens:
    """Return the lens moved by less than a cell, so that the target stands in the middle of one."""
    x, y = lens.places(target)
    inside = np.array([x // ACROSS * ACROSS + ACROSS / 2.0, y // DOWN * DOWN + DOWN / 2.0])
    return Lens(lens.home, lens.dots_per_deg, lens.middle + inside - np.array([x, y]), lens.shown)


def _circle(picture: Picture, lens: Lens, middle: Array, radius_deg: float, step: float) -> None:
    """Draw a circle of the sky, dot by dot."""
    round_it = 2.0 * np.pi * radius_deg * lens.dots_per_deg
    count = max(8, int(round_it / step))
    ring = point_at(frame(middle), radius_deg, np.arange(count) * 360.0 / count)
    for x, y in np.nan_to_num(lens.places(ring), nan=-1.0):
        picture.dot(x, y)
