"""Where, when and with what a draft is made, from its flags and observer.toml."""

import datetime as dt
from collections.abc import Sequence

from nightmode.errors import NightmodeError
from nightmode.eyepiece import combinations
from nightmode.model.kit import Kit
from nightmode.model.observer import Observer
from nightmode.model.plan import Plan
from nightmode.model.site import Site
from nightmode.model.target import Target
from nightmode.night.circumstances import Circumstances
from nightmode.night.loading import find_circumstances
from nightmode.records import replace
from nightmode.setup.answers import make, number


def draft_circumstances(
    observer: Observer,
    date: dt.date | None,
    now_s: float,
    *,
    site: str | None = None,
    telescopes: Sequence[str] = (),
    sky: str | None = None,
) -> Circumstances:
    """Return site, instruments and night; without a date the coming night.

    sky is the zenith in mag/arcsec2 as it was typed, instead of the site's own figure. NightmodeError if
    observer.toml lacks what a draft needs, or knows no site or instrument of a name.
    """
    for table, known in (("site", observer.site), ("telescope", observer.telescope or observer.binoculars)):
        if not known:
            raise NightmodeError("draft", f"no {table} is known yet", "run nightmode setup first")
    # A plan needs at least one target; this plan only carries the names of site and instruments.
    tools = tuple(observer.instrument_called(name) for name in telescopes) or None
    place = observer.site_called(site) if site else None
    names = make(Plan, "draft", site=place, telescope=tools, target=(Target(name="Moon"),))
    found = find_circumstances(names, observer, date, now_s, is_planned=True)
    for kit in found.instruments.kits:
        _check_eyepieces(kit)
    if sky is None:
        return found
    values = {"naked_eye_limit_mag": None, "bortle": None, "sky_brightness": number(sky, "--sky")}
    return replace(found, site=make(Site, "--sky", **found.site.model_dump() | values))


def _check_eyepieces(kit: Kit) -> None:
    """Raise NightmodeError if nothing can be looked with."""
    if combinations(kit):
        return
    if kit.eyepieces:
        what = f"no eyepiece goes into {kit.telescope.name}"
        raise NightmodeError("draft", what, "nightmode kit tells which barrels do not fit")
    raise NightmodeError("draft", "no eyepiece is known yet", "run nightmode setup first")


def kept_above(circumstances: Circumstances, lowest_deg: float | None) -> Circumstances:
    """Return the circumstances with the observer's least altitude raised to this one, if it is lower."""
    person = circumstances.person
    if lowest_deg is None or lowest_deg <= person.min_altitude_deg:
        return circumstances
    return replace(circumstances, person=person.model_copy(update={"min_altitude_deg": lowest_deg}))
