"""Kits, subjects and what shows of them, for the tests of the choice of eyepieces and filters."""

from math import log2

from nightmode import eyepiece
from nightmode.eyepiece.filters import Visibility
from nightmode.eyepiece.suggestion import suggest
from nightmode.model.kit import Barlow, Eyepiece, Filter, Kit, Telescope
from nightmode.model.target import fixed

FILTERS = (
    Filter(name="nb", passband="narrowband"),
    Filter(name="o3", passband="oiii"),
    Filter(name="hb", passband="hbeta"),
    Filter(name="bb", passband="broadband"),
    Filter(name="grey", passband="neutral"),
)


def kit(aperture=200.0, focal=1200.0, focals=(32, 20, 14, 9, 6), barlows=(2.0,), barrel=1.25, wide=()):
    narrow = tuple(Eyepiece(name=f"{f} mm", focal_length_mm=f, apparent_field_deg=60) for f in focals)
    two_inch = tuple(
        Eyepiece(name=f"{f} mm wide", focal_length_mm=f, apparent_field_deg=70, barrel_in=2) for f in wide
    )
    return Kit(
        telescope=Telescope(name="t", aperture_mm=aperture, focal_length_mm=focal, barrel_in=barrel),
        eyepieces=narrow + two_inch,
        barlows=tuple(Barlow(name=f"{b}x", factor=b) for b in barlows),
        filters=FILTERS,
    )


def subject(kind, **more):
    return fixed(kind, {"name": "x", "ra_deg": 0.0, "dec_deg": 0.0, **more})


def flat(contrast_dex, extent=1.0):
    """The same sight in every eyepiece; with a filter nothing changes."""
    return lambda one, filter_: Visibility(contrast_dex, extent, contrast_dex)


def falling(dex, by_dex):
    """Less contrast with every doubling of the power from 30x on."""

    def judge(one, filter_):
        seen = dex - by_dex * log2(one.power / 30.0)
        return Visibility(seen, 1.0, seen)

    return judge


def look(target, carried=None, judge=None, pupil=6.0, seeing=1.0):
    carried = carried or kit()
    bounds = eyepiece.limits(carried, pupil, seeing)
    return suggest(target, eyepiece.combinations(carried), bounds, carried.filters, judge or flat(0.3))
