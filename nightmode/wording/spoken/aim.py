"""Where a target is, for somebody who looks up and listens: briefly with the target, in full when asked."""

from nightmode.aim.figure import Figure, Form
from nightmode.aim.pointing import OVERHEAD_DEG, Pointing
from nightmode.aim.start import ITSELF_DEG
from nightmode.wording.aim import (
    FISTS_FROM,
    begin_words,
    bullseye_words,
    called,
    figure_words,
    go_words,
    way_words,
    why_bright,
)
from nightmode.wording.figures import compass_point
from nightmode.wording.place import fists, place_words
from nightmode.wording.spoken.sentences import said


def stands(altitude_deg: float, azimuth_deg: float, fist_deg: float) -> tuple[str, ...]:
    """Return direction and height of a place in the sky: "West, four and a half fists up."."""
    if altitude_deg <= 0.0:
        return said("below the horizon")
    if altitude_deg > OVERHEAD_DEG:
        return said(f"overhead: face {compass_point(azimuth_deg)}, head back")
    return said(place_words(altitude_deg, azimuth_deg, fist_deg))


def in_passing(pointing: Pointing) -> tuple[str, ...]:
    """Return the star to begin with, distance and direction from it, and the figure of stars, briefly.

    Such as "From Vega, six degrees left.".
    """
    begin, figure = pointing.guide.begin, pointing.guide.figure
    if begin is None:
        return said(f"no star near it shows: {why_bright(pointing.air, pointing.guide.target)}")
    if begin.separation_deg < ITSELF_DEG:
        return said("the bare eye sees it")
    star = called(pointing, begin.star)
    told = [f"from {star}, {_length(begin.separation_deg, pointing.fist_deg)} {way_words(begin.bearing_deg)}"]
    if figure is not None:
        told.append(_figure(pointing, figure))
    return said(*told)


def at_length(pointing: Pointing) -> tuple[str, ...]:
    """Return all the words of the chart: the star to begin with, the way, the figure, the sight's circles."""
    begin, figure = pointing.guide.begin, pointing.guide.figure
    place = stands(pointing.altitude_deg, pointing.azimuth_deg, pointing.fist_deg)
    if begin is None or begin.separation_deg < ITSELF_DEG:
        return (*place, *in_passing(pointing))
    told = [f"begin at {begin_words(pointing)}", f"from there {go_words(pointing, begin)}"]
    if figure is not None:
        told.append(_figure(pointing, figure))
    told += [f"in the sight: {words}" for words in bullseye_words(pointing)]
    return (*place, *said(*told))


def labelled(words: list[tuple[str, str]]) -> tuple[str, ...]:
    """Return the lines beside the chart of finder or eyepiece, from (label, text), as sentences."""
    return said(*(f"{label}: {text}" if label else text for label, text in words))


def _length(degrees: float, fist_deg: float) -> str:
    """Return a length: in fists from nearly one fist on, else in degrees, to the half degree."""
    if degrees >= FISTS_FROM * fist_deg:
        return fists(degrees, fist_deg)
    if degrees < 1.0:
        return f"{degrees:.1f}°"
    whole, half = divmod(round(degrees * 2.0), 2)
    return f"{whole}{'½' if half else ''}°"


def _figure(pointing: Pointing, figure: Figure) -> str:
    if figure.form is Form.BETWEEN and figure.share == 1 / 2:
        first, second = sorted(called(pointing, star) for star in (figure.first, figure.second))
        return f"between {first} and {second}"
    return figure_words(pointing, figure)
