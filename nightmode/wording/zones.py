"""The words for a site whose time zone does not go with its place: a slip in one or the other."""

import datetime as dt

from nightmode.model.site import Site
from nightmode.sky.window import clock_off_sun_h, has_summer_of_its_half, has_zone_of_its_place

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
