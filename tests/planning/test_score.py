"""What is worth a place in a draft: what shows well here tonight, and what this aperture shows more of."""

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
from nightmode.planning.flags import DraftFlags, read_wishes
from nightmode.planning.score import Powers, Showing, glow_scores, pair_scores
from nightmode.planning.sources import everything
from nightmode.planning.survey import smaller, stage
from nightmode.sky.kernel import open_sky
from nightmode.sky.vantage import stand
from nightmode.visibility.margin import word

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
    wishes = read_wishes(open_sky(), where, DraftFlags())
    candidates = everything(stand(open_sky(), site, wishes.instants_s), wishes.kinds, None)
    picks = draft(open_sky(), where, candidates, wishes)
    return {picks.night.targets[pick.row].subject.name for pick in picks.picks}


@pytest.mark.parametrize(
    ("latitude_deg", "date", "sizes_mm"),
    [
        (-32, dt.date(2026, 10, 10), (200, 300)),
        rarely(47, dt.date(2027, 1, 8), (300, 500)),
        rarely(-32, dt.date(2026, 10, 10), (200, 300, 500)),
        rarely(47, dt.date(2027, 1, 8), (200, 300, 500)),
        rarely(35, dt.date(2027, 7, 4), (200, 300, 500)),
    ],
)
def test_two_sizes_of_telescope_share_three_fifths_of_a_draft_at_most(latitude_deg, date, sizes_mm):
    plans = {aperture_mm: drafted(aperture_mm, latitude_deg, date) for aperture_mm in sizes_mm}
    for small, large in combinations(sizes_mm, 2):
        shared = plans[small] & plans[large]
        assert len(plans[small]) == len(plans[large]) == 24
        assert len(shared) <= 0.6 * 24, (small, large, sorted(shared))


def scored(kind, dex, sky_mag, size_arcmin=6.0, hubble_type="", magnitude=9.0):
    """Return the scores of two or more targets that differ in one figure only."""
    count = max(np.size(dex), np.size(sky_mag), np.size(magnitude))
    shown = Showing(
        kind=[kind] * count,
        hubble_type=[hubble_type] * count,
        magnitude=np.broadcast_to(magnitude, count),
        companion_mag=np.full(count, np.nan),
        separation_arcsec=np.full(count, np.nan),
        size_arcmin=np.full(count, size_arcmin),
        dex=np.broadcast_to(dex, count),
        is_in_two_pairs=np.zeros(count, dtype=bool),
        sky_mag=np.broadcast_to(sky_mag, count),
        highest_deg=np.full(count, 50.0),
        best_deg=np.full(count, 60.0),
    )
    return glow_scores(shown, Powers(200.0, 40.0, 300.0))


def test_a_bright_sky_spoils_galaxies_more_than_clusters_and_more_the_brighter_it_is():
    skies = np.array([21.5, 20.5, 19.5, 18.5])
    galaxy, globular = (scored(kind, 0.6, skies) for kind in (Kind.GALAXY, Kind.GLOBULAR_CLUSTER))
    assert galaxy[0] == galaxy[1]
    assert (np.diff(galaxy[1:]) < 0).all()
    assert galaxy[1] - galaxy[3] > 4 * (globular[1] - globular[3])


def test_what_stands_out_in_spite_of_the_light_is_not_spoilt():
    bright, dark = scored(Kind.EMISSION_NEBULA, 1.5, np.array([18.0, 21.0]))
    assert bright == dark


def test_a_galaxy_without_arms_is_worth_less_than_one_with():
    plain, armed = (scored(Kind.GALAXY, [0.6], 21.0, hubble_type=type_)[0] for type_ in ("E3", "Sbc"))
    assert plain < armed


def test_of_two_with_the_same_contrast_the_brighter_is_worth_more_and_one_not_measured_passes_for_faint():
    bright, faint, unknown = scored(Kind.GALAXY, 0.6, 21.0, magnitude=np.array([8.0, 11.0, np.nan]))
    assert bright > faint
    assert bright > unknown


def paired(separation_arcsec, primary_mag, companion_mag, dex=0.5, is_in_two_pairs=False):
    """Return the score of a double in 114 mm."""
    nothing = np.array([np.nan])
    shown = Showing(
        kind=[Kind.DOUBLE],
        hubble_type=[""],
        magnitude=np.array([primary_mag]),
        companion_mag=np.array([companion_mag]),
        separation_arcsec=np.array([separation_arcsec]),
        size_arcmin=nothing,
        dex=np.array([dex]),
        is_in_two_pairs=np.array([is_in_two_pairs]),
        sky_mag=nothing,
        highest_deg=np.array([60.0]),
        best_deg=np.array([60.0]),
    )
    return float(pair_scores(shown, Powers(114.0, 36.0, 90.0))[0])


def test_a_bright_pair_well_apart_is_worth_more_than_a_faint_or_a_tight_one():
    """Gamma Andromedae against 38 Geminorum and 55 Piscium (Washington Double Star Catalog, rounded)."""
    almach = paired(9.5, 2.3, 5.0)
    assert almach > paired(7.4, 4.8, 7.8) + 0.3
    assert almach > paired(6.6, 5.4, 8.5) + 0.3
    assert almach > paired(1.6, 2.3, 5.0, dex=0.1)


def test_a_pair_beside_another_pair_is_worth_more():
    """Epsilon2 Lyrae (Washington Double Star Catalog, rounded), with and without Epsilon1 in the view."""
    assert paired(2.4, 5.3, 5.4, is_in_two_pairs=True) > paired(2.4, 5.3, 5.4)


def test_more_shows_step_by_step_and_a_cluster_shows_when_it_is_rich():
    contrasts = np.array([0.2, 0.4, 1.0, 1.6, 2.2, 4.0])
    assert stage([Kind.GALAXY] * 6, contrasts, word(contrasts), np.zeros(6)).tolist() == [0, 1, 2, 3, 4, 4]
    stars, plenty = np.array([10.0, 49.0, 50.0, 90.0]), np.full(4, 2.0)
    assert stage([Kind.OPEN_CLUSTER] * 4, plenty, word(plenty), stars).tolist() == [0, 0, 1, 1]


def test_the_telescope_to_compare_with_has_two_thirds_of_the_aperture_at_the_same_exit_pupils():
    less = smaller(Kit(telescope=telescope(300), eyepieces=EYEPIECES)).telescope
    assert (less.aperture_mm, less.focal_length_mm) == pytest.approx((200, 1000))
    seven = Binoculars(name="b", magnification=7, aperture_mm=50, true_field_deg=7)
    assert smaller(Kit(telescope=seven)).telescope == seven
