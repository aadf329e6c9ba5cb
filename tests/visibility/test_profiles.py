"""Light profiles: mathematics of the laws, and how catalogue values choose among them."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.visibility import profile_laws, stars
from nightmode.visibility.profile import Published, bulge_share, light_of
from nightmode.visibility.profile_laws import RADII

EDGE = int(np.flatnonzero(RADII == 1.0)[0])
LAWS = {
    "exponential": profile_laws.exponential(3.1),
    "de Vaucouleurs": profile_laws.sersic(3.0, 4),
    "bulge": profile_laws.sersic(15.0, 2),
    "Plummer": profile_laws.plummer(0.28),
}


@pytest.mark.parametrize("law", LAWS)
def test_density_is_the_slope_of_the_light_enclosed(law):
    enclosed, density = LAWS[law]
    squared = RADII**2
    rings = np.diff(enclosed) / np.diff(squared)
    assert (rings <= density[:-1] * 1.0001).all()
    assert (rings >= density[1:] * 0.9999).all()


@pytest.mark.parametrize(
    ("law", "half_light"),
    [
        (lambda r: profile_laws.sersic(1 / r, 4), 0.2),
        (lambda r: profile_laws.sersic(1 / r, 2), 0.2),
        (lambda r: profile_laws.plummer(r), 0.2),
        (lambda r: profile_laws.exponential(1.678 / r), 0.2),
    ],
)
def test_half_of_the_light_lies_within_the_half_light_radius(law, half_light):
    enclosed, _ = law(half_light)
    assert np.interp(half_light, RADII, enclosed) == pytest.approx(0.5, abs=0.01)


def test_an_even_disc_is_even():
    enclosed, density = profile_laws.even()
    assert enclosed[: EDGE + 1] == pytest.approx(RADII[: EDGE + 1] ** 2)
    assert set(density[: EDGE + 1]) == {1.0}
    assert set(density[EDGE + 1 :]) == {0.0}


@given(st.floats(20.8, 22.5))
def test_a_disc_meets_the_isophote_that_measured_it(mean_mag):
    edge = profile_laws.edge_density(mean_mag)
    _, density = profile_laws.exponential(profile_laws.disc_lengths(edge))
    mag_at_edge = mean_mag - 2.5 * np.log10(density[EDGE])
    assert mag_at_edge == pytest.approx(profile_laws.EDGE_V_MAG, abs=0.02)


def test_a_dim_disc_is_freemans():
    assert profile_laws.disc_lengths(profile_laws.edge_density(24.0)) == pytest.approx(3.1)


@pytest.mark.parametrize(
    ("hubble_type", "share"), [("S0", 0.57), ("Sa", 0.41), ("Sb", 0.24), ("Sbc", 0.16), ("Sc", 0.094)]
)
def test_bulge_shares_follow_the_published_means(hubble_type, share):
    """Means by type of Simien & de Vaucouleurs 1986, table 4 (from memory)."""
    assert bulge_share(hubble_type) == pytest.approx(share, abs=0.03)


def test_bars_and_question_marks_do_not_change_the_type():
    assert bulge_share("SBbc") == bulge_share("SABbc") == bulge_share("Sbc") > 0
    assert bulge_share("E?") == bulge_share("E") == 1.0
    assert bulge_share("IB") == 0.0


def test_a_spiral_of_unknown_type_has_the_bulge_of_the_commonest():
    assert bulge_share("S?") == bulge_share("") == bulge_share("Sb")


def test_a_spiral_is_brighter_in_the_middle_than_its_mean(checks):
    name, kind, magnitude, major, minor, hubble = checks["catalogue-values"]["expected"]["rows"][0]
    light = light_of(Published(kind, magnitude, major, minor, hubble))
    assert name == "M 31"
    assert light.density[0] > 100.0
    assert light.enclosed[EDGE] == pytest.approx(0.87, abs=0.05)


def test_missing_figures_stay_missing():
    light = light_of(Published("galaxy", [None, 9.0, 9.0], [5.0, None, 5.0], [2.0, 2.0, None], "Sb"))
    assert np.isnan(light.magnitude).tolist() == [True, False, False]
    assert np.isnan(light.semi_major_arcmin).tolist() == [False, True, False]
    assert light.axis_ratio[2] == 1.0


def test_a_whole_list_and_one_by_one_agree(checks):
    rows = checks["catalogue-values"]["expected"]["rows"]
    objects = [(kind, mag, major, minor or None, hubble) for _, kind, mag, major, minor, hubble in rows]
    together = light_of(Published(*zip(*objects, strict=True)))
    for index, one in enumerate(objects):
        alone = light_of(Published(*one))
        assert alone.enclosed == pytest.approx(together.enclosed[index])
        assert alone.density == pytest.approx(together.density[index])


def test_stars_of_clusters_lie_near_those_counted_in_gaia(checks):
    rows = checks["open-cluster-stars-gaia"]["expected"]["rows"]
    total, first, tenth = np.array([(row[1], row[2], row[3]) for row in rows], float).T
    off = stars.tenth_star_magnitude(total) - tenth
    assert abs(np.median(off)) < 0.25
    assert np.abs(off).max() < 1.5
    assert np.median(tenth - first) == pytest.approx(stars.MAG_PER_DECADE, abs=0.25)


@pytest.mark.parametrize(
    ("kind", "size_arcmin", "within"),
    [
        # Harris's half-light radii against the catalogue's sizes, from memory; the others are our own.
        ("globular cluster", 10.0, 0.28),
        ("emission nebula", 10.0, 0.2),
        ("reflection nebula", 10.0, 0.2),
        ("nebula", 10.0, 0.2),
        ("cluster with nebula", 10.0, 0.2),
        ("emission nebula", 90.0, 0.5),
        ("open cluster", 10.0, 0.5),
        ("planetary nebula", 10.0, 0.5**0.5),
        ("supernova remnant", 10.0, 0.5**0.5),
        ("comet", 10.0, 0.5),
    ],
)
def test_of_each_kind_half_the_light_lies_within_its_share_of_the_size(kind, size_arcmin, within):
    light = light_of(Published(kind, 9.0, size_arcmin))
    assert np.interp(within, RADII, light.enclosed) == pytest.approx(0.5, abs=0.01)


def test_a_faint_clusters_tenth_star_fades_with_the_whole_of_it():
    bright, faint = stars.tenth_star_magnitude([[8.0, 9.0], [11.0, 12.5]])
    assert np.diff(bright) == pytest.approx(0.66)
    assert np.diff(faint) == pytest.approx(1.5)
    assert stars.tenth_star_magnitude(9.51) == pytest.approx(stars.tenth_star_magnitude(9.49), abs=0.03)


def test_stars_seen_grow_with_the_limit_and_stop_at_a_hundred():
    assert stars.members_seen(9.5, [7.0, 7.11, 9.5, 20.0]).tolist() == [0.0, 1.0, 10.0, 100.0]
