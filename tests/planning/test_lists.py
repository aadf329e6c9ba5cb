"""A draft reads like a list from an experienced friend: what this instrument shows, here, tonight."""

import datetime as dt
from collections import Counter
from functools import cache

import numpy as np
import pytest
from turns import rarely

from nightmode.kinds import GROUP_OF, Kind
from nightmode.model.kit import Binoculars, Eyepiece, Filter, Kit, Telescope
from nightmode.model.observer import Person
from nightmode.model.site import Site
from nightmode.model.target import Fixed
from nightmode.night.circumstances import Circumstances
from nightmode.planning.draft import draft
from nightmode.planning.flags import DraftFlags, read_wishes
from nightmode.planning.score import Ideal, Powers, looks_well
from nightmode.planning.sources import everything, showpieces
from nightmode.sky.kernel import open_sky
from nightmode.sky.vantage import stand

JANUARY, APRIL = dt.date(2027, 1, 8), dt.date(2027, 4, 6)
JULY, OCTOBER = dt.date(2027, 7, 4), dt.date(2026, 10, 10)
FULL_MOON = dt.date(2027, 1, 22)
FILTERS = tuple(Filter(name=band, passband=band) for band in ("narrowband", "oiii", "hbeta"))


def telescope(aperture_mm, focal_mm, *focals, filters=FILTERS):
    return Kit(
        telescope=Telescope(name="t", aperture_mm=aperture_mm, focal_length_mm=focal_mm),
        eyepieces=tuple(Eyepiece(name=f"{f} mm", focal_length_mm=f, apparent_field_deg=70) for f in focals),
        filters=filters,
    )


KITS = {
    114: telescope(114, 900, 25, 10, filters=()),
    200: telescope(200, 1200, 30, 17, 10, 6),
    500: telescope(500, 2250, 26, 17, 13, 8),
    10: Kit(
        telescope=Binoculars(name="10x50", magnification=10, aperture_mm=50, true_field_deg=6.5),
    ),
}


@cache
def drafted(kit, latitude_deg, sky_mag, date):
    site = Site(name="A", latitude_deg=latitude_deg, longitude_deg=0, sky_brightness=sky_mag)
    where = Circumstances(date, site, KITS[kit], Person())
    wishes = read_wishes(open_sky(), where, DraftFlags())
    vantage = stand(open_sky(), site, wishes.instants_s)
    return draft(open_sky(), where, everything(vantage, None, None), wishes)


def doubles(made):
    subjects = [made.night.targets[pick.row].subject for pick in made.picks]
    return [subject for subject in subjects if subject.kind is Kind.DOUBLE]


def names(made):
    return {made.night.targets[pick.row].subject.name for pick in made.picks}


def test_a_southern_observer_is_offered_the_southern_sky():
    """Common practice: omega Centauri and Centaurus A high up, not M 13 on the horizon."""
    found = names(drafted(200, -32, 21.0, JULY))
    assert {"NGC 5139", "NGC 5128", "NGC 6231", "M 7", "M 8", "M 22"} <= found
    assert not {"M 13", "M 92", "M 57", "M 51"} & found
    assert len(found & {name for name in found if name.replace(" ", "").casefold() in showpieces()}) >= 6


def test_a_large_telescope_under_a_dark_sky_gets_what_is_worth_setting_it_up():
    """Common practice, no published source: the Veil, M 51 and globulars; not the clusters of binoculars."""
    found = names(drafted(500, 35, 21.7, JULY))
    assert {"M 51", "M 13"} <= found
    assert {"NGC 6960", "NGC 6992"} & found
    assert not {"M 39", "M 45", "IC 4665"} & found


def test_binoculars_get_wide_fields():
    found = names(drafted(10, 47, 20.8, JANUARY))
    assert {"M 45", "M 31", "M 44"} <= found
    assert not {"NGC 2392", "M 76", "M 57", "M 1"} & found


@pytest.mark.parametrize("date", [JANUARY, rarely(OCTOBER)])
def test_small_planetaries_and_galaxies_that_look_like_stars_are_not_offered_to_binoculars(date):
    """Common practice, no published source: what is under an arcminute is a star at ten times."""
    made = drafted(10, 47, 20.8, date)
    sizes = [getattr(made.night.targets[pick.row].subject, "size_arcmin", None) for pick in made.picks]
    assert min(size for size in sizes if size) >= 5.0


def test_moonlight_leaves_stars_clusters_and_planetaries():
    """Common practice, no published source: nobody hands a list of galaxies over at full Moon."""
    made = drafted(500, 47, 20.8, FULL_MOON)
    kinds = Counter(GROUP_OF[made.night.targets[pick.row].subject.kind] for pick in made.picks)
    assert {"Moon", "Jupiter", "NGC 2392", "M 42"} <= names(made)
    assert kinds["galaxies"] <= 2
    assert kinds["planetaries"] + kinds["clusters"] + kinds["globulars"] >= 10


def test_a_half_moon_high_up_brings_the_moon_and_some_of_its_features():
    """Common practice, no published source: around half Moon its terminator is what to look at."""
    made = drafted(200, 48, 20.0, dt.date(2027, 3, 16))
    kinds = Counter(made.night.targets[pick.row].subject.kind for pick in made.picks)
    assert kinds[Kind.MOON] == 1
    assert 1 <= kinds[Kind.LUNAR_FEATURE] <= 6


def test_a_town_leaves_few_galaxies():
    """Common practice, no published source."""
    made = drafted(200, 48, 18.3, dt.date(2027, 4, 6))
    kinds = Counter(GROUP_OF[made.night.targets[pick.row].subject.kind] for pick in made.picks)
    assert kinds["galaxies"] <= 2
    assert kinds["doubles"] >= 2


def test_a_small_telescope_in_town_gets_the_pairs_that_everybody_is_shown():
    """Common practice, no published source: bright and coloured ones, not tests of an aperture."""
    made = drafted(114, 47, 19.5, OCTOBER)
    pairs = {double.name for double in doubles(made)}
    assert {"Albireo", "Almach"} <= pairs
    assert not {"55 Piscium", "Omicron Cephei", "38 Geminorum", "Kappa Cephei"} & pairs


@pytest.mark.parametrize(
    ("kit", "latitude_deg", "sky_mag", "date", "showpieces"),
    [
        rarely(200, -32, 21.0, APRIL, {"NGC 5139", "NGC 3372", "NGC 5128", "M 83", "M 104"}),
        rarely(200, -32, 21.0, JANUARY, {"Jupiter", "Saturn", "M 42", "NGC 2070"}),
        (500, 35, 21.7, JANUARY, {"M 31", "M 33", "M 42", "M 1", "Jupiter"}),
        (500, 35, 21.7, JULY, {"M 13", "M 57", "M 27", "M 51", "M 8", "M 22"}),
        (114, 47, 19.5, OCTOBER, {"Albireo", "Almach", "M 31", "M 13", "M 57", "M 27", "M 15", "M 34"}),
        (10, -33, 20.8, JULY, {"M 6", "M 7", "M 8", "NGC 5139"}),
    ],
)
def test_what_everybody_looks_at_is_in_the_draft(kit, latitude_deg, sky_mag, date, showpieces):
    """Common practice, no published source."""
    assert showpieces <= names(drafted(kit, latitude_deg, sky_mag, date))


@pytest.mark.parametrize("date", [JULY, rarely(OCTOBER)])
def test_two_pieces_of_one_nebula_are_enough(date):
    assert len({"NGC 6960", "NGC 6974", "NGC 6992"} & names(drafted(500, 35, 21.7, date))) <= 2


@pytest.mark.parametrize(("small", "large"), [rarely(114, 200), rarely(200, 500), rarely(114, 500)])
def test_two_telescopes_of_different_size_share_no_more_than_three_in_five(small, large):
    first, second = (names(drafted(kit, 47, 20.8, OCTOBER)) for kit in (small, large))
    assert len(first & second) <= 0.6 * len(first)


@pytest.mark.parametrize(
    ("kit", "latitude_deg", "sky_mag", "date"), [(200, -32, 21.0, JULY), rarely(500, 47, 20.8, OCTOBER)]
)
def test_targets_stand_near_their_best_height_when_their_turn_comes(kit, latitude_deg, sky_mag, date):
    made = drafted(kit, latitude_deg, sky_mag, date)
    ratios = []
    for pick in made.picks:
        target = made.night.targets[pick.row]
        if isinstance(target.subject, Fixed):
            best_deg = 90.0 - abs(latitude_deg - target.dec_deg)
            now_deg = made.night.altitude_at(pick.row, pick.at_s)
            ratios.append(np.sin(np.radians(now_deg)) / np.sin(np.radians(best_deg)))
    assert np.median(ratios) > 0.8


def test_what_suits_the_view_is_worth_more_than_the_small_and_the_huge():
    ideal = Ideal(2.5, 1.0, 7.0, 40.0, 120.0, 1.0, 0.0, 0.0, 9.0)
    sizes = np.array([0.2, 1.0, 8.0, 100.0, 600.0])
    found = looks_well([ideal] * 5, sizes, Powers(200.0, 40.0, 200.0))
    assert found[2] == 1.0
    assert (np.diff(found[:3]) > 0).all()
    assert (np.diff(found[2:]) < 0).all()
    assert found[0] == found[4] == 0.0


def test_the_largest_telescope_gets_the_bright_ones_too_in_which_only_it_shows_much():
    """Common practice: from 30 degrees south nobody with 500 mm leaves out NGC 253 or 30 Doradus."""
    found = names(drafted(500, -30, 21.9, dt.date(2026, 12, 8)))
    assert {"NGC 104", "NGC 253", "NGC 2070", "M 42"} <= found
    assert len(found & {"NGC 55", "NGC 1316", "NGC 1365", "NGC 7293", "NGC 362", "LMC"}) >= 3
