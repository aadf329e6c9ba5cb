"""The time zone of this machine."""

import os

from nightmode.model.site import zone_of


def local_zone() -> str:
    """Return the name of this machine's time zone, or UTC if it cannot be found out."""
    link = os.path.realpath("/etc/localtime")
    for name in (os.environ.get("TZ", ""), link.partition("zoneinfo/")[2]):
        if name and zone_of(name) is not None:
            return name
    return "UTC"
