"""The chart on paper as inline SVG: black on white, without script or link."""

from collections.abc import Iterator, Sequence
from html import escape

import numpy as np

from nightmode.aim.frame import altitude_azimuth, bearing_deg, direction, frame
from nightmode.aim.lens import Lens, in_picture, shows_wide, sizes, sky_lens, to_name
from nightmode.aim.pointing import Pointing
from nightmode.arrays import Array, Indices
from nightmode.walk.usable import horizon_altitude_deg

#: The side of the chart in millimetres, and the margin in it that is kept for names.
SIDE_MM, FOR_NAMES_MM = 40.0, (12.0, 4.0)
#: The width of a star of each size, mm.
STAR_MM = (0.45, 0.7, 1.0, 1.4, 2.0)
#: Height of letters; their width, as most letters are; the length of an hour's tick, mm.
LETTER_MM, LETTER_WIDTH_MM, TICK_MM = 2.4, 1.25, 2.2
_STYLE = 'fill="none" stroke="#000" stroke-linecap="round"'
Box = tuple[float, float, float, float]


def aim_svg(pointing: Pointing, zenith: Sequence[tuple[str, Array]]) -> str:
    """Return the chart of the way to a target as inline SVG.

    zenith holds a label and a direction (3,) for each of some other times: where the zenith is then among the
    stars of this chart. Each gets a tick on the frame; turn the paper until that tick is up.
    """
    size = (SIDE_MM, SIDE_MM)
    lens = sky_lens(pointing, size, FOR_NAMES_MM)
    places = lens.places(pointing.stars.direction)
    inside = np.flatnonzero(in_picture(places, size) & shows_wide(pointing))
    ticks, taken = _ticks(lens, zenith)
    parts = [
        f'<rect x=".1" y=".1" width="{SIDE_MM - 0.2:g}" height="{SIDE_MM - 0.2:g}" fill="#fff" stroke="#000" '
        'stroke-width=".2"/>',
        f'<g {_STYLE} stroke-width=".18">{"".join(_circles(pointing, lens))}{_horizon(pointing, lens)}</g>',
        f"<g {_STYLE}>{''.join(_stars(places, inside, sizes(pointing)))}</g>",
        *_target(pointing, lens),
        f'<g font-size="{LETTER_MM}" font-family="sans-serif">'
        f"{''.join(ticks)}{''.join(_names(pointing, places, inside, taken))}</g>",
    ]
    return (
        f'<svg width="{SIDE_MM:g}mm" height="{SIDE_MM:g}mm" viewBox="0 0 {SIDE_MM:g} {SIDE_MM:g}" role="img">'
        f"<title>{escape(pointing.name)}</title>{''.join(parts)}</svg>"
    )


def _circles(pointing: Pointing, lens: Lens) -> Iterator[str]:
    """Yield the bullseye's circles: circles of the sky stay circles here."""
    for ring in pointing.rings_deg:
        middle, radius = _round(lens.circle(frame(pointing.guide.target), ring / 2.0, 0.5))
        yield f'<circle cx="{middle[0]:.1f}" cy="{middle[1]:.1f}" r="{radius:.2f}"/>'


def _round(places: Array) -> tuple[Array, float]:
    """Return the centre and the radius of the circle through these places."""
    middle = (places.min(axis=0) + places.max(axis=0)) / 2.0
    return middle, float(np.hypot(*(places - middle).T).mean())


def _horizon(pointing: Pointing, lens: Lens) -> str:
    azimuth = float(altitude_azimuth(lens.home[2])[1]) + np.arange(-90.0, 90.5, 1.0)
    height = np.maximum(horizon_altitude_deg(pointing.horizon, azimuth % 360.0), 0.0)
    places = lens.places(direction(height, azimuth))
    near = in_picture(places, (SIDE_MM, SIDE_MM))
    if near.sum() < 2:
        return ""
    points = " ".join(f"{x:.1f},{y:.1f}" for x, y in places[near])
    return f'<polyline points="{points}" stroke-dasharray=".8 .8"/>'


def _stars(places: Array, inside: Indices, size: Indices) -> Iterator[str]:
    """Yield one SVG path for the stars of each size, drawn as lines of length zero with round ends."""
    for step, width in enumerate(STAR_MM):
        some = [star for star in inside.tolist() if size[star] == step]
        if some:
            dots = "".join(f"M{places[star, 0]:.1f} {places[star, 1]:.1f}h0" for star in some)
            yield f'<path d="{dots}" stroke-width="{width}"/>'


def _target(pointing: Pointing, lens: Lens) -> Iterator[str]:
    x, y = lens.at(pointing.guide.target)
    yield f'<path d="M{x - 0.8:.1f} {y:.1f}h1.6M{x:.1f} {y - 0.8:.1f}v1.6" {_STYLE} stroke-width=".25"/>'


def _names(pointing: Pointing, places: Array, inside: Indices, written: Sequence[Box]) -> Iterator[str]:
    """Yield the names that cover neither each other, nor a named star, nor earlier labels."""
    named = to_name(pointing, inside)
    taken = [*written]
    taken += [_box(places[star, 0] - 0.8, places[star, 1] + 0.8, 1.6, 1.6) for star in named]
    for star in named:
        text = pointing.called[star] or f"{pointing.stars.magnitude[star]:.1f}"
        x, y = float(places[star, 0]), float(places[star, 1])
        width = len(text) * LETTER_WIDTH_MM
        for left, base in (
            (x + 1.4, y + 0.8),
            (x - 1.4 - width, y + 0.8),
            (x - width / 2.0, y - 1.4),
            (x - width / 2.0, y + 3.2),
        ):
            box = _box(left, base, width, LETTER_MM)
            if _fits(box) and not any(_meets(box, other) for other in taken):
                taken.append(box)
                yield f'<text x="{left:.1f}" y="{base:.1f}">{escape(text)}</text>'
                break


def _box(left: float, base: float, width: float, height: float) -> Box:
    return left, base - height, left + width, base


def _fits(box: Box) -> bool:
    return box[0] >= 0.3 and box[1] >= 0.3 and box[2] <= SIDE_MM - 0.3 and box[3] <= SIDE_MM - 0.3


def _meets(first: Box, second: Box) -> bool:
    return first[0] < second[2] and second[0] < first[2] and first[1] < second[3] and second[1] < first[3]


def _ticks(lens: Lens, zenith: Sequence[tuple[str, Array]]) -> tuple[list[str], list[Box]]:
    """Return the ticks on the frame and the places of their labels; one of two close ones is moved in."""
    half = SIDE_MM / 2.0
    parts: list[str] = []
    taken: list[Box] = []
    for label, zenith_then in zenith:
        bearing = np.radians(float(bearing_deg(lens.home, zenith_then)))
        right, up = np.sin(bearing), np.cos(bearing)
        reach = half / max(abs(right), abs(up))
        x, y = half + right * reach, half - up * reach
        inner_x, inner_y = x - right * TICK_MM, y + up * TICK_MM
        width = len(label) * LETTER_WIDTH_MM
        middle, base = x - right * (TICK_MM + 2.6), y + up * (TICK_MM + 1.6) + 0.8
        box = _box(middle - width / 2.0, base, width, LETTER_MM)
        if any(_meets(box, other) for other in taken):
            middle, base = middle - right * 6.0, base + up * LETTER_MM
            box = _box(middle - width / 2.0, base, width, LETTER_MM)
        taken.append(box)
        parts.append(
            f'<path d="M{x:.1f} {y:.1f}L{inner_x:.1f} {inner_y:.1f}" stroke="#000" stroke-width=".4"/>'
        )
        parts.append(f'<text x="{middle:.1f}" y="{base:.1f}" text-anchor="middle">{escape(label)}</text>')
    return parts, taken
