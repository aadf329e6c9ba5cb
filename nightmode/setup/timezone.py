"""The time zone of this machine, and whether a zone fits a place."""

import datetime as dt
import os
from zoneinfo import ZoneInfo

from nightmode.model.site import zone_of


def hours_off_the_sun(timezone: str, longitude_deg: float) -> float:
    """Return by how many hours a zone's winter time differs from mean solar time at a longitude, 0 to 12."""
    moment = dt.datetime(2027, 1, 1, tzinfo=ZoneInfo(timezone))
    offset_h = (moment.utcoffset() or dt.timedelta()) / dt.timedelta(hours=1)
    return abs((offset_h - longitude_deg / 15 + 12) % 24 - 12)


def local_zone() -> str:
    """Return the name of this machine's time zone, or UTC if it cannot be found out."""
    link = os.path.realpath("/etc/localtime")
    for name in (os.environ.get("TZ", ""), link.partition("zoneinfo/")[2]):
        if name and zone_of(name) is not None:
            return name
    return "UTC"
