"""The Sun through a night: dusk, dawn and the dark hours."""

import numpy as np

from nightmode.model.site import Site
from nightmode.records import Record
from nightmode.sky.crossings import crossings, intervals
from nightmode.sky.kernel import Sky
from nightmode.sky.vantage import Vantage, horizontal, stand

#: Altitudes of the Sun's centre, geometric, in degrees (US Naval Observatory, "Rise, Set, and Twilight
#: Definitions"): sunset with 34' of refraction and 16' of semidiameter, then the three twilights.
SUNSET_DEG, CIVIL_DEG, NAUTICAL_DEG, ASTRONOMICAL_DEG = -50 / 60, -6.0, -12.0, -18.0


class Twilights(Record):
    """Instants of a night in Unix seconds; None where the Sun does not pass that altitude.

    darkest_s       when the Sun is lowest; sun_lowest_deg is its geometric altitude then
    dark_s          (begin, end) of the dark hours; None where the Sun stays above -6 degrees
    sun_below_deg   the Sun's altitude that bounds them: -18, or if it does not get there -12 or -6; else None
    """

    sunset_s: float | None
    sunrise_s: float | None
    civil_dusk_s: float | None
    civil_dawn_s: float | None
    nautical_dusk_s: float | None
    nautical_dawn_s: float | None
    astronomical_dusk_s: float | None
    astronomical_dawn_s: float | None
    darkest_s: float
    sun_lowest_deg: float
    dark_s: tuple[float, float] | None
    sun_below_deg: float | None

    @property
    def is_astronomical(self) -> bool:
        """Whether the Sun gets 18 degrees down in the dark hours."""
        return self.sun_below_deg == ASTRONOMICAL_DEG


def sun_altitude(sky: Sky, site: Site, time_s: np.ndarray) -> np.ndarray:
    """Return the geometric altitude of the Sun's centre in degrees, (T,), without refraction."""
    return sun_altitude_at(stand(sky, site, time_s))


def sun_altitude_at(vantage: Vantage) -> np.ndarray:
    """Return `sun_altitude` for a vantage taken already."""
    return horizontal(vantage.rotation, vantage.see("sun").xyz.au)[0]


def twilights(time_s: np.ndarray, sun_altitude_deg: np.ndarray) -> Twilights:
    """Return the twilights of one night from the Sun's geometric altitude, (T,), over its minutes."""
    darkest_s, lowest_deg = _lowest(time_s, sun_altitude_deg)
    sunset_s, sunrise_s = _around(time_s, SUNSET_DEG - sun_altitude_deg, darkest_s)
    civil_dusk_s, civil_dawn_s = _around(time_s, CIVIL_DEG - sun_altitude_deg, darkest_s)
    nautical_dusk_s, nautical_dawn_s = _around(time_s, NAUTICAL_DEG - sun_altitude_deg, darkest_s)
    astronomical_dusk_s, astronomical_dawn_s = _around(time_s, ASTRONOMICAL_DEG - sun_altitude_deg, darkest_s)
    dark_s, sun_below_deg = _dark_hours(time_s, sun_altitude_deg, darkest_s)
    return Twilights(
        sunset_s=sunset_s,
        sunrise_s=sunrise_s,
        civil_dusk_s=civil_dusk_s,
        civil_dawn_s=civil_dawn_s,
        nautical_dusk_s=nautical_dusk_s,
        nautical_dawn_s=nautical_dawn_s,
        astronomical_dusk_s=astronomical_dusk_s,
        astronomical_dawn_s=astronomical_dawn_s,
        darkest_s=darkest_s,
        sun_lowest_deg=lowest_deg,
        dark_s=dark_s,
        sun_below_deg=sun_below_deg,
    )


def _lowest(time_s: np.ndarray, altitude_deg: np.ndarray) -> tuple[float, float]:
    """Return (instant, altitude) of the lowest point, by a parabola through the lowest minutes."""
    column = int(np.argmin(altitude_deg))
    if column in (0, len(time_s) - 1):
        return float(time_s[column]), float(altitude_deg[column])
    left, middle, right = altitude_deg[column - 1 : column + 2]
    bend = left - 2 * middle + right
    shift = 0.5 * (left - right) / bend if bend > 0 else 0.0
    step_s = time_s[column + 1] - time_s[column]
    return float(time_s[column] + shift * step_s), float(middle - 0.25 * (left - right) * shift)


def _around(time_s: np.ndarray, below: np.ndarray, darkest_s: float) -> tuple[float | None, float | None]:
    """Return the last instant before darkest_s at which `below` becomes positive, and when that ends."""
    found = crossings(time_s, below)
    into = found.time_s[found.rising & (found.time_s <= darkest_s)]
    out = found.time_s[~found.rising & (found.time_s >= darkest_s)]
    return (float(into[-1]) if into.size else None, float(out[0]) if out.size else None)


def _dark_hours(
    time_s: np.ndarray, altitude_deg: np.ndarray, darkest_s: float
) -> tuple[tuple[float, float] | None, float | None]:
    for level_deg in (ASTRONOMICAL_DEG, NAUTICAL_DEG, CIVIL_DEG):
        for start, end in intervals(time_s, level_deg - altitude_deg)[0]:
            if start <= darkest_s <= end:
                return (start, end), level_deg
    return None, None
