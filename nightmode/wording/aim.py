"""How to find a target, in words: the same on the screen, on paper and in JSON.

Every function takes what `aim` has worked out. With plain the text has only characters that any terminal
shows.
"""

import re

import numpy as np

from nightmode.aim.figure import Figure, Form
from nightmode.aim.frame import HOUR_DEG, bearing_deg, frame
from nightmode.aim.guide import Begin
from nightmode.aim.pointing import FieldOfView, Pointing
from nightmode.aim.rings import Place, RingStar
from nightmode.aim.shows import Air
from nightmode.aim.start import ITSELF_DEG
from nightmode.model.kit import View
from nightmode.sky.vectors import angle_between_deg
from nightmode.visibility.sky import naked_eye_limit_of_mag
from nightmode.wording.figures import compass_point, hour_text
from nightmode.wording.place import fists, halves, place_words

#: Label and text of one direction.
Words = tuple[str, str]
#: A distance of so many fists or more is told in fists; one of so many widths of the large circle, in widths.
FISTS_FROM, CIRCLES_FROM = 0.85, 0.35
#: From this distance in degrees on, clock hours are told to the half hour.
HALF_HOURS_FROM_DEG = 4.0
#: The cause is twilight if the Sun is above this altitude, the Moon if it takes so many magnitudes.
TWILIGHT_SUN_DEG, MOONLIGHT_MAG = -12.0, 0.4

_WAYS = ("up", "up and right", "right", "down and right", "down", "down and left", "left", "up and left")
_SHARES = {1 / 3: "a third", 1 / 4: "a quarter", 2 / 5: "two fifths"}
_AGAIN = {
    1.0: "as far",
    0.5: "half as far",
    1 / 3: "a third as far",
    1.5: "1½ times as far",
    2.0: "twice as far",
}
_GREEK = {
    "α": "alp", "β": "bet", "γ": "gam", "δ": "del", "ε": "eps", "ζ": "zet", "η": "eta", "θ": "the",
    "ι": "iot", "κ": "kap", "λ": "lam", "μ": "mu", "ν": "nu", "ξ": "xi", "ο": "omi", "π": "pi", "ρ": "rho",
    "σ": "sig", "τ": "tau", "υ": "ups", "φ": "phi", "χ": "chi", "ψ": "psi", "ω": "ome",
}  # fmt: skip
_SHOWS = {
    View.UPRIGHT: "as the eye sees it",
    View.TURNED: "turned upside down",
    View.MIRRORED: "left and right swapped",
}


def sky_words(pointing: Pointing, plain: bool = False) -> list[Words]:
    """Return how to find a target by eye: its place, the star to begin with, the way, the figure of stars."""
    guide = pointing.guide
    words = [("stands", _stands(pointing))]
    if guide.begin is None:
        words.append(("begin", f"no star near it shows: {why_bright(pointing.air, guide.target)}"))
    else:
        words += [("begin", begin_words(pointing)), ("go", go_words(pointing, guide.begin))]
    if guide.figure is not None:
        words.append(("figure", figure_words(pointing, guide.figure)))
    elif guide.begin is not None and guide.begin.separation_deg >= ITSELF_DEG:
        words.append(("figure", f"none: {why_bright(pointing.air, guide.target)}"))
    words += [("sight", text) for text in bullseye_words(pointing)]
    return [(label, plainly(text) if plain else text) for label, text in words]


def plainly(text: str) -> str:
    """Return text with halves and Greek letters written out, for terminals that may not have them."""
    for letter, name in _GREEK.items():
        text = text.replace(letter, name)
    for mark, digits in (("¼", ".25"), ("½", ".5"), ("¾", ".75")):
        text = re.sub(rf"(?<!\d){mark}", f"0{digits}", text).replace(mark, digits)
    return text.replace("′", "'").replace("″", '"')


def called(pointing: Pointing, star: int) -> str:
    """Return what to call a star: its name, its letter, or its magnitude."""
    return pointing.called[star] or f"a star of {pointing.stars.magnitude[star]:.1f}"


def clock_words(bearing_deg: float, halves: bool = False) -> str:
    """Return a bearing on the face of a clock, 12 at the top."""
    return hour_text(bearing_deg / HOUR_DEG, halves)


def way_words(bearing_deg: float) -> str:
    """Return a bearing as one of eight directions: "up and left"."""
    return _WAYS[round(bearing_deg / 45.0) % 8]


def begin_words(pointing: Pointing) -> str:
    """Return the star to begin with and where it stands."""
    assert pointing.guide.begin is not None
    star = pointing.guide.begin.star
    place = place_words(
        float(pointing.stars.altitude_deg[star]), float(pointing.stars.azimuth_deg[star]), pointing.fist_deg
    )
    return f"{called(pointing, star)}, {place}"


def go_words(pointing: Pointing, begin: Begin) -> str:
    """Return the way from the star to begin with to the target."""
    away = begin.separation_deg
    if away < ITSELF_DEG:
        return "no farther: the target is there"
    clock = clock_words(begin.bearing_deg, away >= HALF_HOURS_FROM_DEG)
    way = way_words(begin.bearing_deg)
    large = pointing.rings_deg[-1] if pointing.rings_deg else None
    if away >= FISTS_FROM * pointing.fist_deg:
        length = fists(away, pointing.fist_deg)
    elif large is not None and away >= CIRCLES_FROM * large:
        length = halves(away / large, _ring(pointing, len(pointing.rings_deg) - 1))
    else:
        return f"{away:.1f}° {way} ({clock})"
    return f"{length} {way} ({away:.1f}°, {clock})"


def figure_words(pointing: Pointing, figure: Figure) -> str:
    """Return which two stars to use, and how; in words that hold however an instrument turns the sky."""
    first, second = called(pointing, figure.first), called(pointing, figure.second)
    if figure.form is Form.BETWEEN:
        if figure.share == 1 / 2:
            return f"halfway between {first} and {second}"
        return f"{_SHARES[figure.share]} of the way from {first} to {second}"
    if figure.form is Form.BEYOND:
        return f"from {first} through {second} and {_AGAIN[figure.share]} again"
    if figure.form is Form.TOWARDS:
        return f"{figure.share:.1f}° from {first} towards {second}"
    assert figure.side is not None
    star = called(pointing, figure.side)
    side = f"on the side away from {star}" if figure.is_away else f"on the side of {star}"
    if figure.form is Form.TRIANGLE:
        return f"third corner of an even triangle with {first} and {second}, {side}"
    length = "as long" if figure.share == 1.0 else "half as long"
    return f"from {first} to {second}, there a right angle and {length} again, {side}"


def bullseye_words(pointing: Pointing) -> list[str]:
    """Return which stars are in the circles of the bullseye when the target is in the middle."""
    if not pointing.rings_deg:
        return []
    return [_in_circle(pointing, star) for star in pointing.guide.ring_stars] or ["no star in the circles"]


def finder_words(pointing: Pointing, plain: bool = False) -> list[Words]:
    """Return how to reach a target with the optical finder, as (label, text)."""
    finder = pointing.finder
    assert finder is not None
    words = [("shows", _SHOWS[finder.view])]
    if pointing.chain is None:
        words.append(("begin", "no chain of stars leads there in this finder"))
    else:
        words += [("begin" if place == 0 else "", text) for place, text in enumerate(_hops(pointing, finder))]
    words.append(("to push", push_words(finder)))
    west = clock_words(finder.seen_deg((pointing.north_deg + 90.0) % 360.0))
    words.append(("drift", f"stars leave at {west}: west"))
    if pointing.guide.figure is not None:
        words.append(("figure", figure_words(pointing, pointing.guide.figure)))
    return [(label, plainly(text) if plain else text) for label, text in words]


def eyepiece_words(pointing: Pointing, fov: FieldOfView, plain: bool = False) -> list[Words]:
    """Return what the eyepiece shows, and where north and west are in it, as (label, text)."""
    west = (pointing.north_deg + 90.0) % 360.0
    if fov.is_rolled:
        turn = "counter-clockwise" if fov.view is not View.MIRRORED else "clockwise"
        drift = f"stars leave at west; north is a quarter turn {turn} from there"
    else:
        leave, north = (clock_words(fov.seen_deg(bearing)) for bearing in (west, pointing.north_deg))
        drift = f"stars leave at {leave}: west. North is at {north}"
    shows = "turned, how far depends on where you stand" if fov.is_rolled else _SHOWS[fov.view]
    words = [("shows", shows), ("drift", drift)]
    if pointing.extent.companion_deg is not None and pointing.extent.position_angle_deg is not None:
        words.append(("pair", _companion(pointing, fov, pointing.extent.position_angle_deg)))
    words.append(("to push", push_words(fov)))
    if (star := brightest_in(pointing, fov)) is not None:
        words.append(("guide", _guide_star(pointing, fov, star)))
    return [(label, plainly(text) if plain else text) for label, text in words]


def push_words(fov: FieldOfView) -> str:
    """Return in which direction to push the tube to bring an edge of the field to the middle."""
    if fov.is_rolled:
        return "a little, and see which way the field goes"
    up, right = {
        View.UPRIGHT: ("up", "right"),
        View.TURNED: ("down", "left"),
        View.MIRRORED: ("up", "left"),
    }[fov.view]
    return f"{up} brings in the top, {right} the right"


def brightest_in(pointing: Pointing, fov: FieldOfView) -> int | None:
    """Return the place of the brightest star in the field, other than the target; None for none."""
    distance = angle_between_deg(pointing.stars.direction, pointing.guide.target)
    inside = np.flatnonzero((distance < fov.field_deg / 2.0) & (distance > fov.field_deg / 20.0))
    return int(inside[np.argmin(pointing.stars.magnitude[inside])]) if inside.size else None


def why_bright(air: Air, target: np.ndarray) -> str:
    """Return why few stars show in a direction: twilight, moonlight, or the bright sky of the site."""
    if air.sun_altitude_deg > TWILIGHT_SUN_DEG:
        return "it is still twilight"
    limit, zenith = float(air.limit_mag(target)), float(naked_eye_limit_of_mag(air.zenith_mag))
    if air.moon_altitude_deg > 0.0 and zenith - limit > MOONLIGHT_MAG:
        return f"moonlight, stars show to {limit:.1f}"
    return f"this sky shows stars to {limit:.1f}"


def _stands(pointing: Pointing) -> str:
    if pointing.is_overhead:
        return (
            f"overhead: face {compass_point(pointing.azimuth_deg)}, head back ({pointing.altitude_deg:.0f}°)"
        )
    return place_words(pointing.altitude_deg, pointing.azimuth_deg, pointing.fist_deg)


def _ring(pointing: Pointing, ring: int) -> str:
    """Return what a circle of the bullseye is called."""
    count = len(pointing.rings_deg)
    names = {1: ("circle",), 2: ("small circle", "large circle")}
    names[3] = ("small circle", "middle circle", "large circle")
    return names[count][ring] if count in names else f"{pointing.rings_deg[ring]:g}° circle"


def _in_circle(pointing: Pointing, star: RingStar) -> str:
    side = {Place.ON: "on", Place.INSIDE: "inside", Place.OUTSIDE: "just outside"}[star.place]
    name, ring = called(pointing, star.star), _ring(pointing, star.ring)
    return f"{name} {side} the {ring} at {clock_words(star.bearing_deg)}"


def _hops(pointing: Pointing, finder: FieldOfView) -> list[str]:
    """Return the chain of stars in words, with directions as the finder shows them."""
    assert pointing.chain is not None
    stars = pointing.chain.stars
    first = called(pointing, stars[0])
    told = [f"{first} in the middle"]
    places = [pointing.stars.direction[star] for star in stars] + [pointing.guide.target]
    names = [called(pointing, star) for star in stars[1:]] + ["target"]
    for here, there, name in zip(places[:-1], places[1:], names, strict=True):
        away = float(angle_between_deg(here, there))
        if away < ITSELF_DEG:
            told.append(f"{name} is there")
            continue
        clock = clock_words(finder.seen_deg(float(bearing_deg(frame(here), there))))
        told.append(f"{name}: {_fields(away, finder.field_deg)}, {clock}")
    return told


def _fields(away_deg: float, field_deg: float) -> str:
    quarters = round(away_deg / field_deg * 4.0)
    shares = {1: "¼ field", 2: "½ field", 3: "¾ field"}
    return shares.get(quarters, f"{away_deg:.1f}°")


def _companion(pointing: Pointing, fov: FieldOfView, angle_deg: float) -> str:
    # Counted from north through east, which is to the left on the sky.
    seen_deg = fov.seen_deg((pointing.north_deg - angle_deg) % 360.0)
    clock = "" if fov.is_rolled else f", at {clock_words(seen_deg)}"
    return f"fainter star {compass_point(angle_deg)} of the other{clock}"


def _guide_star(pointing: Pointing, fov: FieldOfView, star: int) -> str:
    home = frame(pointing.guide.target)
    bearing = float(bearing_deg(home, pointing.stars.direction[star]))
    away = float(angle_between_deg(home[2], pointing.stars.direction[star])) / (fov.field_deg / 2.0)
    # Counted from north through east, which is to the left on the sky.
    side = compass_point((pointing.north_deg - bearing) % 360.0)
    clock = "" if fov.is_rolled else f" at {clock_words(fov.seen_deg(bearing))}"
    return f"{called(pointing, star)}{clock}, {side} of it, {away * 100:.0f} % of the way to the edge"
