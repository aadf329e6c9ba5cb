"""What is worth a place in a draft: what this aperture shows and half of it does not."""

import datetime as dt
from itertools import combinations

import numpy as np
import pytest
from turns import rarely

from nightmode.kinds import Kind
from nightmode.model.kit import Binoculars, Eyepiece, Filter, Kit, Telescope
from nightmode.model.observer import Person
from nightmode.model.site import Site
from nightmode.night.circumstances import Circumstances
from nightmode.planning.draft import draft
from nightmode.planning.flags import read_wishes
from nightmode.planning.score import Powers, glow_scores
from nightmode.planning.sources import everything
from nightmode.planning.survey import smaller
from nightmode.sky.kernel import open_sky
from nightmode.sky.vantage import stand

EYEPIECES = tuple(
    Eyepiece(name=f"{focal} mm", focal_length_mm=focal, apparent_field_deg=field)
    for focal, field in ((30, 68), (18, 65), (10, 60), (6, 60))
)
FILTERS = tuple(Filter(name=band, passband=band) for band in ("narrowband", "oiii"))


def telescope(aperture_mm):
    return Telescope(name="t", aperture_mm=aperture_mm, focal_length_mm=5 * aperture_mm)


def drafted(aperture_mm, latitude_deg, date):
    kit = Kit(telescope=telescope(aperture_mm), eyepieces=EYEPIECES, filters=FILTERS)
    site = Site(name="A", latitude_deg=latitude_deg, longitude_deg=0, sky_brightness=21.0)
    where = Circumstances(date, site, kit, Person())
    wishes = read_wishes(open_sky(), where, count=None, hours=None, kinds=None, hardest="fair", seen=[])
    candidates = everything(stand(open_sky(), site, wishes.instants_s), wishes.kinds, None)
    picks = draft(open_sky(), where, candidates, wishes)
    return {picks.night.targets[pick.row].subject.name for pick in picks.picks}


@pytest.mark.parametrize(
    ("latitude_deg", "date", "sizes_mm"),
    [
        (-32, dt.date(2026, 10, 10), (200, 300)),
        rarely(-32, dt.date(2026, 10, 10), (200, 300, 500)),
        rarely(35, dt.date(2027, 7, 4), (200, 300, 500)),
    ],
)
def test_two_sizes_of_telescope_share_three_fifths_of_a_draft_at_most(latitude_deg, date, sizes_mm):
    """Two thirds where the larger shows little more, being less than twice as large."""
    plans = {aperture_mm: drafted(aperture_mm, latitude_deg, date) for aperture_mm in sizes_mm}
    for small, large in combinations(sizes_mm, 2):
        shared = plans[small] & plans[large]
        assert len(plans[small]) == len(plans[large]) == 24
        assert len(shared) <= (0.6 if large >= 2 * small else 0.67) * 24, (small, large, sorted(shared))


def test_what_half_the_aperture_shows_as_well_is_worth_less():
    values = glow_scores(
        [Kind.GALAXY] * 2,
        dex=np.array([0.5, 0.5]),
        magnitude=np.array([10.0, 10.0]),
        size_arcmin=np.array([6.0, 6.0]),
        stars_seen=np.zeros(2),
        smaller_dex=np.array([0.4, -0.2]),
        highest_deg=np.full(2, 50.0),
        best_deg=np.full(2, 60.0),
        showpiece=np.array([False, False]),
        powers=Powers(200.0, 40.0, 300.0),
    )
    assert values[1] > values[0] + 0.5


def test_the_telescope_to_compare_with_has_half_the_aperture_at_the_same_exit_pupils():
    half = smaller(Kit(telescope=telescope(200), eyepieces=EYEPIECES)).telescope
    assert (half.aperture_mm, half.focal_length_mm) == (100, 500)
    seven = Binoculars(name="b", magnification=7, aperture_mm=50, true_field_deg=7)
    assert smaller(Kit(telescope=seven)).telescope == seven
