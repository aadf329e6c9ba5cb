"""The words for a planet: its disc, its moons in a row, its moments, its best hour."""

from zoneinfo import ZoneInfo

import numpy as np

from nightmode.model.kit import View
from nightmode.model.sight import Moment, Sight
from nightmode.sky.galilean import MOONS
from nightmode.sky.globes import PlanetTonight
from nightmode.visibility.points import DISC_ARCMIN
from nightmode.wording.figures import day, power, span_text, time_of_day
from nightmode.wording.variables import eclipse_line, eclipse_name

#: Half of the cells of the line of moons, and how many radii of Jupiter they show.
_CELLS, _RADII = 20, 27.0
_ABOUT = ("Ganymede", "Callisto")


def disc_text(tonight: PlanetTonight, now_s: float, zone: ZoneInfo) -> str:
    """Return what the disc is like: "44″, -2.6, opposition 11 Feb", "33″, 36 % lit, 45° from the Sun"."""
    diameter = tonight.at(tonight.diameter_arcsec, now_s)
    size = f"{diameter:.0f}″" if diameter >= 10 else f"{diameter:.1f}″"
    parts = [size, *_own_parts(tonight, now_s, diameter)]
    magnitude = tonight.at(tonight.magnitude, now_s)
    if np.isfinite(magnitude):
        parts.insert(1, f"{magnitude:.1f} mag")
    if tonight.opposition_s is not None:
        parts.append(f"opposition {day(tonight.opposition_s, zone)}")
    elif tonight.planet in ("mercury", "venus", "mars"):
        parts.append(f"{tonight.at(tonight.elongation_deg, now_s):.0f}° from the Sun")
    return ", ".join(parts)


def _own_parts(tonight: PlanetTonight, now_s: float, diameter_arcsec: float) -> list[str]:
    lit = tonight.at(tonight.illuminated, now_s)
    if tonight.planet == "saturn":
        length, width = (tonight.at(values, now_s) for values in tonight.ring_arcsec)
        tilt = tonight.at(tonight.ring_tilt_deg, now_s)
        return [f"ring {length:.0f} x {width:.0f}″, open {abs(tilt):.0f}°"]
    if tonight.planet in ("mercury", "venus"):
        return [f"{lit * 100:.0f} % lit"]
    if tonight.planet == "mars":
        phase = [f"{lit * 100:.0f} % lit"] if lit < 0.95 else []
        return [*phase, f"meridian {tonight.meridian_deg('', now_s):.0f}°"]
    if tonight.planet == "jupiter":
        return [f"meridian II {tonight.meridian_deg('II', now_s):.0f}°"]
    return [f"a disc from {power(60 * DISC_ARCMIN / diameter_arcsec)}"]


def moons_row(tonight: PlanetTonight, now_s: float, view: View) -> str | None:
    """Return Jupiter's large moons in a row as the telescope shows them: "E  4  2 (o) 1   3  W".

    An upright field has north up; others are turned by half a turn or mirrored, as the telescope shows them.
    A moon before or behind the disc is left out.
    """
    if tonight.moons is None:
        return None
    cells = [" "] * (2 * _CELLS + 1)
    cells[_CELLS - 1 : _CELLS + 2] = "(o)"
    east_left = view is View.UPRIGHT
    for place in range(len(MOONS)):
        x, y = (tonight.at(values[place], now_s) for values in (tonight.moons.x, tonight.moons.y))
        if np.hypot(x, y) < 1.0:
            continue
        right = x if east_left else -x
        cell = _CELLS + round(right / _RADII * _CELLS)
        step = 1 if right > 0 else -1
        while 0 <= cell <= 2 * _CELLS and cells[cell] != " ":
            cell += step
        if 0 <= cell <= 2 * _CELLS:
            cells[cell] = str(place + 1)
    left, right_end = ("E", "W") if east_left else ("W", "E")
    return f"{left} {''.join(cells)} {right_end}"


def moment_text(moment: Moment) -> str:
    """Return what a moment is: "Io's shadow on the disc"; with "about" if its times are not exact."""
    if moment.sight is Sight.STAR_ECLIPSE:
        return eclipse_name(moment)
    return f"about: {sight_text(moment)}" if is_about(moment) else sight_text(moment)


def is_about(moment: Moment) -> bool:
    """Return whether the times of a moment are known only to some minutes."""
    return moment.moon in _ABOUT or moment.sight is Sight.STAR_ECLIPSE


def sight_text(moment: Moment) -> str:
    """Return what there is to see at a moment."""
    words = {
        Sight.TRANSIT: f"{moment.moon} before the disc",
        Sight.SHADOW: f"{moment.moon}'s shadow on the disc",
        Sight.ECLIPSE: f"{moment.moon} in Jupiter's shadow",
        Sight.OCCULTATION: f"{moment.moon} behind Jupiter",
        Sight.HALF_LIT: "half lit tonight",
        Sight.RING_THIN: "ring nearly edge-on",
        Sight.RED_SPOT: "the Red Spot in the middle of the disc",
        Sight.STAR_ECLIPSE: "at its faintest",
        Sight.MOON_NEAR: f"the Moon {moment.separation_deg or 0.0:.1f}° away",
    }
    return words[moment.sight]


def moment_line(moment: Moment, now_s: float, zone: ZoneInfo) -> str:
    """Return a moment with its times: "21:16-23:34 Io's shadow on the disc"."""
    if moment.sight is Sight.STAR_ECLIPSE:
        return eclipse_line(moment, zone)
    if not moment.watch and moment.sight is not Sight.MOON_NEAR:
        return moment_text(moment)
    if moment.sight is Sight.ECLIPSE and len(moment.watch) == 1:
        # its other end is hidden behind the disc
        goes = moment.watch[0][0] <= moment.begins_s <= moment.watch[0][1]
        at_s, way = (moment.begins_s, "fades into") if goes else (moment.ends_s, "comes out of")
        return f"{time_of_day(at_s, zone)} {moment.moon} {way} Jupiter's shadow"
    return f"{span_text(moment.begins_s, moment.ends_s, zone)} {moment_text(moment)}"


def best_text(highest_deg: float, at_s: float, near: tuple[float, float], zone: ZoneInfo) -> str:
    """Return the best hour: "58° at 21:46; above 53° from 20:16 to 23:15"."""
    stretch = f"{time_of_day(near[0], zone)} to {time_of_day(near[1], zone)}"
    return f"{highest_deg:.0f}° at {time_of_day(at_s, zone)}; above {highest_deg - 5:.0f}° from {stretch}"
