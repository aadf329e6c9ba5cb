"""What observers look with at galaxies, nebulae, clusters and planets."""

import pytest
from eyepiece.carrying import falling, flat, kit, look, subject
from hypothesis import given
from hypothesis import strategies as st
from rows import rows

from nightmode import eyepiece
from nightmode.eyepiece.filters import PLAIN_DEX, Visibility
from nightmode.eyepiece.suggestion import suggest
from nightmode.eyepiece.why import Why
from nightmode.kinds import Kind
from nightmode.model.target import Body
from nightmode.visibility.margin import HARD_DEX


def test_a_large_nebula_gets_a_field_that_holds_it_at_the_price_of_some_light():
    # 200 mm f/6, an eye of 5.4 mm: 40 mm gives 6.7 mm of beam and 1.7 degrees, 25 mm 4.2 mm and 1 degree.
    carried = kit(focals=(40, 25, 10))
    made = eyepiece.combinations(carried)
    bounds = eyepiece.limits(carried, 5.4, 1.5)
    large, small = (subject(Kind.EMISSION_NEBULA, size_arcmin=size) for size in (120.0, 20.0))
    assert suggest(large, made, bounds, (), flat(0.3)).combination.eyepiece == "40 mm"
    assert suggest(small, made, bounds, (), flat(0.3)).combination.eyepiece == "25 mm"


@rows("kind, size_arcmin, narrowest_mm, widest_mm", [
    (Kind.GALAXY, 25.0, 2.5, 3.5),
    (Kind.GALAXY, 2.0, 1.8, 2.5),
    (Kind.EMISSION_NEBULA, 25.0, 3.0, 5.0),
    (Kind.PLANETARY_NEBULA, 16.0, 3.0, 5.0),
])  # fmt: skip
def test_what_glows_is_looked_at_in_a_beam_of_two_to_four_millimetres(
    kind, size_arcmin, narrowest_mm, widest_mm
):
    # Common practice, no published source: galaxies at 3 mm, nebulae at 4, small ones at 2.
    carried = kit(focals=(32, 24, 18, 12, 9, 6))
    chosen = look(subject(kind, size_arcmin=size_arcmin), carried, flat(0.3)).combination
    assert narrowest_mm <= chosen.exit_pupil_mm <= widest_mm


def test_more_power_is_not_bought_with_a_word_or_with_much_of_what_a_faint_thing_shows():
    galaxy = subject(Kind.GALAXY, size_arcmin=2.0)
    assert look(galaxy, judge=falling(1.5, 0.1)).combination.power >= 80
    assert look(galaxy, judge=falling(0.6, 0.2)).combination.power < 80
    assert look(galaxy, judge=falling(0.27, 0.04)).combination.power < 80  # fair would be hard


def test_the_best_contrast_wins_and_a_word_is_never_lost_to_a_tie():
    peak = {"14 mm": 0.5, "20 mm": 0.4}
    best = look(
        subject(Kind.GALAXY, size_arcmin=8.0),
        judge=lambda one, filter_: Visibility(peak.get(one.eyepiece, 0.0)),
    )
    assert best.combination.eyepiece == "14 mm"
    edge = {"9 mm": HARD_DEX + 0.01, "14 mm": HARD_DEX - 0.02}
    kept = look(
        subject(Kind.GALAXY, size_arcmin=8.0),
        judge=lambda one, filter_: Visibility(0.0, margin_dex=edge.get(one.eyepiece, -0.6)),
    )
    assert kept.combination.eyepiece == "9 mm"


@given(st.floats(0.5, 60.0))
def test_extended_objects_are_framed_with_room_where_any_field_allows(size):
    made = eyepiece.combinations(kit())
    chosen = look(subject(Kind.GALAXY, size_arcmin=size)).combination
    if max(one.true_field_deg for one in made) * 60 >= 1.5 * size:
        assert chosen.true_field_deg * 60 >= 1.5 * size
    else:
        assert chosen.true_field_deg == max(one.true_field_deg for one in made)


@pytest.mark.parametrize("aperture", [70.0, 130.0, 200.0])
def test_planets_get_an_exit_pupil_near_a_millimetre(aperture):
    planet = Body(name="x", kind=Kind.PLANET, body="saturn")
    chosen = look(planet, kit(aperture, aperture * 8, focals=(25, 15, 10, 7)))
    assert 0.6 <= chosen.combination.exit_pupil_mm <= 1.1


def test_a_small_planetary_that_is_easy_gets_power():
    eskimo = subject(Kind.PLANETARY_NEBULA, size_arcmin=0.8, magnitude=9.2)
    easy = look(eskimo, judge=flat(1.2))
    # 2.7 degrees wide: 200x, with an exit pupil of 1 mm.
    assert easy.combination.eyepiece == "6 mm"
    large = look(subject(Kind.PLANETARY_NEBULA, size_arcmin=20.0), judge=flat(1.2))
    assert large.combination.power <= 60


def test_power_is_never_bought_with_ease():
    def lost(one, filter_):
        dex = 1.0 if one.power < 50 else PLAIN_DEX - 0.05
        return Visibility(dex, 1.0, dex)

    for kind in (Kind.PLANETARY_NEBULA, Kind.GLOBULAR_CLUSTER, Kind.GALAXY):
        assert look(subject(kind, size_arcmin=0.8), judge=lost).combination.eyepiece == "32 mm"


def test_an_easy_globular_gets_power_to_resolve_it():
    chosen = look(subject(Kind.GLOBULAR_CLUSTER, size_arcmin=12.0), judge=flat(1.2))
    assert 1.5 <= chosen.combination.exit_pupil_mm <= 2.5
    faint = look(subject(Kind.GLOBULAR_CLUSTER, size_arcmin=12.0), judge=falling(0.1, 0.3))
    assert faint.combination.eyepiece == "32 mm"


def test_clusters_get_sky_around_them_and_a_wide_beam():
    chosen = look(subject(Kind.OPEN_CLUSTER, size_arcmin=10.0), judge=flat(1.0)).combination
    assert chosen.true_field_deg * 60 >= 25
    assert chosen.exit_pupil_mm >= 2.3
    # In a small telescope a compact one wants power all the same: 36x at 60 mm f/6, not 15x.
    jewels = subject(Kind.OPEN_CLUSTER, size_arcmin=10.0)
    assert look(jewels, kit(60.0, 360.0, focals=(24, 10, 5)), flat(1.0)).combination.eyepiece == "10 mm"


def test_a_small_cluster_that_is_not_easy_gets_no_less_power_than_an_easy_one():
    """Common practice: M 11 in 80 mm beside the Moon at 40x and more, not 16x, where it is a smudge only."""
    small, carried = subject(Kind.OPEN_CLUSTER, size_arcmin=10.0), kit(80.0, 480.0, focals=(30, 17, 11, 7))
    easy = look(small, carried, flat(1.0)).combination
    assert look(small, carried, falling(0.55, 0.1)).combination == easy
    # Less power is taken where it makes the better word.
    assert look(small, carried, falling(0.25, 0.2)).combination.power < easy.power


def test_a_faint_cluster_gets_no_more_power_than_makes_it_easy():
    """Common practice: power until the stars stand out, and as much sky around them as that leaves."""
    small, carried = subject(Kind.OPEN_CLUSTER, size_arcmin=10.0), kit(80.0, 480.0, focals=(30, 17, 11, 7, 5))

    def rising(one, filter_):
        return Visibility(one.power / 95.0, 1.0, one.power / 95.0)

    assert look(small, carried, rising).combination.eyepiece == "7 mm"


def test_an_easy_cluster_in_a_nebula_is_looked_at_as_a_cluster():
    """Common practice: NGC 2264 at low power, though more of it would reach fainter stars."""

    def deeper(combination, filter_):
        return Visibility(1.0 + 0.4 * (combination.power / 200.0), 0.05)

    tree = subject(Kind.CLUSTER_NEBULA, size_arcmin=25.0)
    assert look(tree, judge=deeper).combination.power <= 80
    faint = look(tree, judge=lambda one, filter_: Visibility(one.power / 200.0 - 0.5, 0.05)).combination
    assert faint.power > 80


def test_a_barlow_is_for_power_that_no_plain_eyepiece_gives():
    """300 mm with one eyepiece of 20 mm: 75x, or 150x with the Barlow, on a small bright planetary."""
    large = kit(300.0, 1500.0, focals=(20,))
    ring = subject(Kind.PLANETARY_NEBULA, size_arcmin=1.4, magnitude=8.8)
    assert look(ring, large, flat(1.5)).combination.power == 150
    globular = subject(Kind.GLOBULAR_CLUSTER, size_arcmin=12.0)
    assert look(globular, large, flat(1.5)).combination.barlow == "2.0x"
    assert look(globular, kit(), flat(1.5)).combination.barlow is None


def test_a_barlow_that_gives_hardly_more_than_an_eyepiece_stays_in_the_box():
    """Common practice: no Barlow behind 32 mm for 45x on M 76, with an eyepiece for 40x at hand."""
    little_dumbbell = subject(Kind.PLANETARY_NEBULA, size_arcmin=2.7, magnitude=10.1)

    def dimmer(one, filter_):
        return Visibility(0.5 if one.power < 60 else 0.1, 1.0, 0.5 if one.power < 60 else 0.2)

    chosen = look(little_dumbbell, kit(102.0, 714.0, focals=(32, 18, 9)), dimmer).combination
    assert (chosen.eyepiece, chosen.barlow) == ("18 mm", None)


def test_unknown_brightness_is_looked_at_with_low_power():
    chosen = look(subject(Kind.GALAXY, size_arcmin=3.0), judge=flat(None))
    assert chosen.combination.power <= 40
    assert chosen.why is Why.UNKNOWN


def test_what_is_looked_at_together_stays_in_one_view():
    carried = kit(focals=(32, 20, 14), barlows=())
    made = eyepiece.combinations(carried)
    one = subject(Kind.OPEN_CLUSTER, size_arcmin=18.0)
    bounds = eyepiece.limits(carried, 6.0, 1.5)
    alone = suggest(one, made, bounds, (), flat(1.0))
    tight = suggest(one, made, bounds, (), flat(1.0), view_arcmin=55.0)
    together = suggest(one, made, bounds, (), flat(1.0), view_arcmin=65.0)
    assert together.combination.true_field_deg * 60 >= 65.0
    assert together.why is Why.TOGETHER
    assert tight.combination.eyepiece == "32 mm"  # 20 mm would hold it too, but without any room
    assert alone.combination.power >= together.combination.power
