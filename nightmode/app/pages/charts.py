"""The pictures that lead to a target: the sky, closer, in the finder, in the eyepiece."""

from collections.abc import Iterable

import numpy as np

from nightmode.aim.frame import altitude_azimuth, direction, frame, point_at, rolled
from nightmode.aim.lens import Lens, in_picture, largest_deg, reached, shows_wide, sizes, sky_lens, to_name
from nightmode.aim.pointing import FieldOfView, Pointing
from nightmode.app.pages.dots import ACROSS, DOWN, Picture, Style
from nightmode.app.pages.line import Line
from nightmode.arrays import Array, Flags
from nightmode.sky.vectors import angle_between_deg
from nightmode.walk.usable import horizon_altitude_deg
from nightmode.wording.aim import plainly

#: How many degrees the closer picture spans.
CLOSER_DEG = 9.0
#: The margin of the wide picture that is kept free for names, in dots.
FOR_NAMES = (16.0, 8.0)
#: How far apart the dots of a circle stand, and those of a rim, in dots.
STEP, RIM_STEP = 2.4, 2.8
#: In a very full sky, stars outside the circles are shown only if so many magnitudes brighter than the limit.
FULL_MARGIN_MAG, FULL_COUNT = 0.6, 90
#: In the field of an instrument a star is drawn one size larger for each of these magnitudes that it reaches.
BY_LIGHT_IN_FIELD_MAG = (6.6, 5.8, 4.8, 3.5)


def sky_chart(pointing: Pointing, columns: int, rows: int, style: Style) -> list[Line]:
    """Return a picture of the way to a target: the star to begin with, the target, the figure's stars."""
    picture = Picture(columns, rows, style)
    lens = sky_lens(pointing, (columns * ACROSS, rows * DOWN), FOR_NAMES)
    _draw_sky(picture, pointing, _settled(lens, pointing.guide.target), shows_wide(pointing))
    return picture.lines()


def closer_chart(pointing: Pointing, columns: int, rows: int, style: Style) -> list[Line]:
    """Return the surroundings of a target, with the circles of the bullseye and every star this sky shows."""
    picture = Picture(columns, rows, style)
    lens = _centred(pointing.guide.closer, max(CLOSER_DEG, 1.3 * largest_deg(pointing)), picture)
    _draw_sky(picture, pointing, _settled(lens, pointing.guide.target), pointing.is_bright_enough)
    return picture.lines()


def finder_chart(
    pointing: Pointing, find_deg: float | None, columns: int, rows: int, style: Style
) -> list[Line]:
    """Return the field of the optical finder, turned as it shows it, with the find eyepiece's field in it."""
    finder, margin = pointing.finder, pointing.finder_margin_mag
    assert finder is not None
    assert margin is not None
    picture = Picture(columns, rows, style)
    lens = _field(picture, pointing, finder)
    if find_deg is not None:
        _dotted(picture, lens.circle(frame(pointing.guide.target), find_deg / 2.0, STEP))
    _field_stars(picture, pointing, lens, finder, pointing.stars.is_clear & (margin > 0.0))
    _finish(picture, lens, pointing, _told_stars(pointing))
    return picture.lines()


def eyepiece_chart(pointing: Pointing, fov: FieldOfView, columns: int, rows: int, style: Style) -> list[Line]:
    """Return the field of the telescope, turned as it shows it, with the target's size or the companion."""
    picture = Picture(columns, rows, style)
    lens = _field(picture, pointing, fov)
    extent, home = pointing.extent, frame(pointing.guide.target)
    if extent.major_deg is not None and extent.major_deg < fov.field_deg:
        _dotted(picture, lens.circle(home, extent.major_deg / 2.0, STEP))
    if extent.companion_deg is not None and extent.position_angle_deg is not None:
        # Position angles run from north through east, which is to the left on the sky. A pair closer than a
        # cell is drawn a cell apart: the picture tells the side, the facts the distance.
        apart_deg = max(extent.companion_deg, 2.5 * ACROSS / lens.per_deg)
        companion = point_at(home, apart_deg, pointing.north_deg - extent.position_angle_deg)
        picture.star(lens.at(pointing.guide.target), 3)
        picture.star(lens.at(companion), 1)
    _field_stars(picture, pointing, lens, fov, pointing.stars.altitude_deg > 0.0)
    _finish(picture, lens, pointing, [])
    return picture.lines()


# -- the sky ------------------------------------------------------------------


def _draw_sky(picture: Picture, pointing: Pointing, lens: Lens, shows: Flags) -> None:
    target = pointing.guide.target
    places = lens.places(pointing.stars.direction)
    inside = in_picture(places, (picture.columns * ACROSS, picture.rows * DOWN)) & shows
    if inside.sum() > FULL_COUNT:
        near = angle_between_deg(pointing.stars.direction, target) <= largest_deg(pointing) / 2.0
        inside &= near | (pointing.stars.margin_mag >= FULL_MARGIN_MAG)
    for ring in pointing.rings_deg:
        _dotted(picture, lens.circle(frame(target), ring / 2.0, STEP))
    _horizon(picture, pointing, lens)
    stars, size = np.flatnonzero(inside), sizes(pointing)
    for star in stars[np.argsort(pointing.stars.dimmed_mag[stars], kind="stable")].tolist():
        picture.star((places[star, 0], places[star, 1]), int(size[star]))
    _finish(picture, lens, pointing, to_name(pointing, stars))


def _finish(picture: Picture, lens: Lens, pointing: Pointing, names: Iterable[int]) -> None:
    """Mark the target, unless a star stands there, and write the names round it."""
    has_letters = picture.style.has_letters
    picture.mark(lens.at(pointing.guide.target), "+" if picture.style.has_dots else "x", "text")
    for star in names:
        name = pointing.called[star] or f"{pointing.stars.magnitude[star]:.1f}"
        is_begin = pointing.guide.begin is not None and star == pointing.guide.begin.star
        place = lens.at(pointing.stars.direction[star])
        picture.label(place, name if has_letters else plainly(name), "text" if is_begin else "faint")


def _horizon(picture: Picture, pointing: Pointing, lens: Lens) -> None:
    """Draw the horizon line where it runs through the picture."""
    middle_azimuth = float(altitude_azimuth(lens.home[2])[1])
    azimuth = middle_azimuth + np.arange(-90.0, 90.0, STEP / lens.per_deg)
    height = np.maximum(horizon_altitude_deg(pointing.horizon, azimuth % 360.0), 0.0)
    _dotted(picture, lens.places(direction(height, azimuth)))


# -- fields -------------------------------------------------------------------


def _field(picture: Picture, pointing: Pointing, fov: FieldOfView) -> Lens:
    """Draw the rim of a field with its north and west, and return the lens that places things in it."""
    home = frame(pointing.guide.target)
    lens = _settled(_centred(home, fov.field_deg, picture, fov), pointing.guide.target)
    _dotted(picture, lens.circle(home, fov.field_deg / 2.0, RIM_STEP))
    north = rolled(home, pointing.north_deg)
    for letter, bearing in (("N", 0.0), ("W", 90.0)):
        x, y = lens.at(point_at(north, fov.field_deg / 2.0, bearing))
        x = min(max(x, 0.0), picture.columns * ACROSS - 1.0)
        picture.mark((x, min(max(y, 0.0), picture.rows * DOWN - 1.0)), letter, "text")
    return lens


def _field_stars(picture: Picture, pointing: Pointing, lens: Lens, fov: FieldOfView, shows: Flags) -> None:
    away = angle_between_deg(pointing.stars.direction, pointing.guide.target)
    inside = np.flatnonzero(shows & (away < fov.field_deg / 2.0))
    size = reached(-pointing.stars.magnitude, (-limit for limit in BY_LIGHT_IN_FIELD_MAG))
    for star in inside[np.argsort(pointing.stars.magnitude[inside], kind="stable")].tolist():
        picture.star(lens.at(pointing.stars.direction[star]), int(size[star]))


def _told_stars(pointing: Pointing) -> list[int]:
    """Return the stars of chain and figure that stand in the finder's field."""
    told = list(pointing.chain.stars) if pointing.chain else []
    told += [pointing.guide.figure.first, pointing.guide.figure.second] if pointing.guide.figure else []
    away = angle_between_deg(pointing.stars.direction, pointing.guide.target)
    return [
        star
        for star in dict.fromkeys(told)
        if pointing.finder and away[star] < pointing.finder.field_deg / 2.0
    ]


# -- where things stand ---------------------------------------------------------


def _centred(home: Array, across_deg: float, picture: Picture, fov: FieldOfView | None = None) -> Lens:
    dots = np.array([picture.columns * ACROSS, picture.rows * DOWN], float)
    # A cell is left free: the lens is moved by up to half of one, and a rim must not be cut.
    per_deg = float((dots - np.array([ACROSS, DOWN])).min()) / across_deg
    return Lens(home, per_deg, dots / 2.0, fov)


def _settled(lens: Lens, target: Array) -> Lens:
    """Return the lens moved by less than a cell, so that the target is in the middle of a cell."""
    x, y = lens.at(target)
    return lens.moved(ACROSS / 2.0 - x % ACROSS, DOWN / 2.0 - y % DOWN)


def _dotted(picture: Picture, places: Array) -> None:
    for x, y in np.nan_to_num(places, nan=-1.0):
        picture.dot(x, y)
