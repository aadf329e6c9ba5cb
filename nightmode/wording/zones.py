"""The words for a site's clock: the night in which it is changed, and a zone that does not suit the place."""

import datetime as dt
from zoneinfo import ZoneInfo

from nightmode.model.site import Site
from nightmode.sky.window import clock_off_sun_h, has_summer_of_its_half, has_zone_of_its_place
from nightmode.wording.figures import local

#: A zone is held against the Sun by its standard time, and that is the same all year.
_SOME_DAY = dt.date(2027, 1, 1)


def odd_zone(site: Site) -> list[str]:
    """Return what is odd about the time zone of a site, a sentence each; nothing where it is right."""
    told = []
    if not has_zone_of_its_place(site, _SOME_DAY):
        off_h = abs(clock_off_sun_h(site, _SOME_DAY))
        asked = "is longitude east positive, and the zone right?"
        told.append(f"{site.timezone} is {off_h:.0f} h off the Sun there: {asked}")
    if not has_summer_of_its_half(site, _SOME_DAY.year):
        half = "south" if site.latitude_deg > 0 else "north"
        asked = "is latitude north positive, and the zone right?"
        told.append(f"{site.timezone} has the summer of the {half}: {asked}")
    return told


def clock_change(begins_s: float, ends_s: float, zone: ZoneInfo) -> str | None:
    """Return how the clock is changed between two instants, None where it is not.

    "the clock goes back from 03:00 to 02:00", or on to a later time in spring.
    """
    if local(begins_s, zone).utcoffset() == local(ends_s, zone).utcoffset():
        return None
    before_s, after_s = int(begins_s), int(ends_s)
    while after_s - before_s > 1:
        middle_s = (before_s + after_s) // 2
        if local(middle_s, zone).utcoffset() == local(begins_s, zone).utcoffset():
            before_s = middle_s
        else:
            after_s = middle_s
    # Until the change the old time runs on: to 03:00, not to a second before it.
    until = local(before_s, zone) + dt.timedelta(seconds=1)
    since = local(after_s, zone)
    way = "back" if since.replace(tzinfo=None) < until.replace(tzinfo=None) else "on"
    return f"the clock goes {way} from {until:%H:%M} to {since:%H:%M}"
