"""Tests of one worker that stand at one place at the same instants share Sun, Moon and the turning Earth.

Hundreds of tests open the nights of a few plans. What the ephemeris says of those follows from place and
instants alone, and is half of what it costs to open a small night. So it is worked out once for each worker.
Nothing writes into it; what is shared refuses that.
"""

from functools import lru_cache, wraps
from typing import Any

import numpy as np

#: Nights kept at hand, half a megabyte each.
KEPT = 48


def pytest_collection(session):
    """Share from now on: the modules that ask for a sky are loaded with the tests."""
    only_hands_out = session.config.getoption("numprocesses", None)  # to workers, which come here themselves
    if not only_hands_out:
        from nightmode.sky import dark, moon, vantage

        stand = _shared(vantage.stand)
        for module in (vantage, dark, moon):
            vars(module)["stand"] = stand
        dark.sun_altitude_at = lru_cache(KEPT)(_locked(dark.sun_altitude_at))
        moon.moon_at = lru_cache(KEPT)(_locked(moon.moon_at))


def _shared(stand):
    """Return the function that answers again what it was asked before."""
    skies: dict[str, Any] = {}
    sites: dict[tuple[float, ...], Any] = {}

    @lru_cache(KEPT)
    def known(kernel, place, instants):
        return _locked(stand)(skies[kernel], sites[place], np.frombuffer(instants))

    @wraps(stand)
    def ask(sky, site, time_s):
        kernel, place = sky.kernel.path, (site.latitude_deg, site.longitude_deg, site.elevation_m)
        skies.setdefault(kernel, sky)
        sites.setdefault(place, site)
        return known(kernel, place, np.asarray(time_s, dtype=float).tobytes())

    return ask


def _locked(work_out):
    """Return the function with its arrays, or those of the record that it returns, locked."""

    @wraps(work_out)
    def work_out_once(*given):
        found = work_out(*given)
        for array in [found] if isinstance(found, np.ndarray) else vars(found).values():
            if isinstance(array, np.ndarray):
                array.flags.writeable = False
        return found

    return work_out_once
