"""Reads a time zone as people write it: text in, the zone's IANA name out."""

import difflib
import zoneinfo

from nightmode.errors import NightmodeError
from nightmode.model.site import zone_of

#: "Etc/GMT+1" is an hour behind Greenwich, the opposite of what whoever writes GMT+1 means.
_TURNED_ROUND = "Etc/"


def zone_name(text: str, where: str) -> str:
    """Return the IANA name of a time zone from that name, or from its city alone, in any case.

    NightmodeError at `where`, with what comes near it, if there is no such zone or more than one.
    """
    said = text.strip()
    if zone_of(said) is not None:
        return said
    wanted = said.casefold().replace(" ", "_")
    names = sorted(name for name in zoneinfo.available_timezones() if not name.startswith(_TURNED_ROUND))
    found = [name for name in names if wanted in (name.casefold(), _city(name))]
    if len(found) == 1:
        return found[0]
    if found:
        raise NightmodeError(where, f"{said!r} is more than one time zone", f"write {' or '.join(found)}")
    cities = {_city(name): name for name in names}
    near = [cities[city] for city in difflib.get_close_matches(wanted, cities, 1, 0.75)]
    instead = "write the name of a large city in it, like Vienna"
    instead = f"did you mean {near[0]}? Else {instead}" if near else instead
    raise NightmodeError(where, f"{said[:40]!r} is not a time zone", instead)


def _city(name: str) -> str:
    return name.rpartition("/")[2].casefold()
