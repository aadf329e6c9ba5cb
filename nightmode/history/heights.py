"""How high the targets of a session stood during its night, worked out again from its site and date."""

import numpy as np

from nightmode.arrays import Array, Flags
from nightmode.catalog.resolve import lookup
from nightmode.errors import NightmodeError
from nightmode.history.sitting import Sitting
from nightmode.model.site import Site
from nightmode.records import Record
from nightmode.sky.dark import ASTRONOMICAL_DEG, sun_altitude_at
from nightmode.sky.kernel import Sky
from nightmode.sky.track import tracks_at
from nightmode.sky.vantage import stand
from nightmode.sky.window import night_window

STEP_S = 600.0
#: How long is shown before the first and after the last look, and the least time shown in all.
_MARGIN_S, _LEAST_S = 1800.0, 4 * 3600.0


class Heights(Record, eq=False):
    """The hours in which something was looked at.

    time_s are instants (T,) in Unix seconds; altitude_deg holds apparent altitudes (T,) by target name;
    is_dark says where the Sun is below -18 degrees, (T,).
    """

    time_s: Array
    altitude_deg: dict[str, Array]
    is_dark: Flags


def heights_of(sky: Sky, sitting: Sitting) -> Heights | None:
    """Return the heights of a session's targets that the catalogue knows.

    None where the session does not say where it was, or lies outside the years of the ephemeris.
    """
    site = _site(sitting)
    if site is None or not sitting.looks:
        return None
    subjects = {look.name: subject for look in sitting.looks if (subject := lookup(look.name)) is not None}
    try:
        vantage = stand(sky, site, np.arange(*night_window(site, sitting.night), STEP_S))
        paths = tracks_at(vantage, list(subjects.values()))
    except NightmodeError:
        return None
    sun_deg = sun_altitude_at(vantage)
    shown = _shown(sitting, vantage.time_s)
    return Heights(
        vantage.time_s[shown],
        {name: paths.altitude_deg[row][shown] for row, name in enumerate(subjects)},
        sun_deg[shown] < ASTRONOMICAL_DEG,
    )


def _shown(sitting: Sitting, time_s: Array) -> Flags:
    looked_s = [look.at.timestamp() for look in sitting.looks]
    first, last = min(looked_s) - _MARGIN_S, max(looked_s) + _MARGIN_S
    more = max(0.0, _LEAST_S - (last - first)) / 2
    return (time_s >= first - more) & (time_s <= last + more)


def _site(sitting: Sitting) -> Site | None:
    if sitting.latitude_deg is None or sitting.longitude_deg is None:
        return None
    return Site(
        name=sitting.site,
        latitude_deg=sitting.latitude_deg,
        longitude_deg=sitting.longitude_deg,
        timezone=sitting.zone.key,
    )
