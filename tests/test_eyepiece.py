"""The choice of eyepieces: the rules of the design, what never happens, and what observers do."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rows import rows

from nightmode import eyepiece
from nightmode.eyepiece.filters import PLAIN_DEX, Visibility
from nightmode.eyepiece.suggestion import Why, alternatives, suggest
from nightmode.kinds import Kind, ShinesIn
from nightmode.model.kit import Barlow, Eyepiece, Filter, Kit, Telescope
from nightmode.model.target import Body, LunarFeature, fixed
from nightmode.visibility.verdict import HARD_DEX
from nightmode.wording.suggestion import why_text

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
    return lambda one, filter_: Visibility(contrast_dex, extent)


def look(target, carried=None, judge=None, pupil=6.0, seeing=1.0):
    carried = carried or kit()
    bounds = eyepiece.limits(carried, pupil, seeing)
    return suggest(target, eyepiece.combinations(carried), bounds, carried.filters, judge or flat(0.3))


# What fits together


def test_a_2_inch_eyepiece_never_goes_into_a_1_25_inch_focuser_or_barlow():
    small = {one.eyepiece for one in eyepiece.combinations(kit(wide=(30,)))}
    assert "30 mm wide" not in small
    large = [one for one in eyepiece.combinations(kit(wide=(30,), barrel=2)) if one.eyepiece == "30 mm wide"]
    assert [one.barlow for one in large] == [None]


@given(
    st.sampled_from(list(Kind)),
    st.floats(60, 400),
    st.floats(4, 12),
    st.lists(st.integers(3, 40), min_size=1, max_size=6, unique=True),
    st.one_of(st.none(), st.floats(0.1, 200)),
    st.floats(0.5, 4),
    st.floats(4, 8),
    st.one_of(st.none(), st.floats(-2, 3)),
)
def test_what_is_suggested_can_be_put_together_and_keeps_the_limits(
    kind, aperture, ratio, focals, size, seeing, pupil, margin
):
    carried = kit(aperture, aperture * ratio, focals, wide=(31,))
    made = eyepiece.combinations(carried)
    bounds = eyepiece.limits(carried, pupil, seeing)
    if kind is Kind.LUNAR_FEATURE:
        target = LunarFeature(name="x", kind=kind, size_arcmin=size)
    elif kind in (Kind.MOON, Kind.PLANET):
        target = Body(name="x", kind=kind, body="moon" if kind is Kind.MOON else "saturn")
    else:
        target = subject(kind, size_arcmin=size)
    chosen = suggest(target, made, bounds, carried.filters, flat(margin))
    assert chosen.combination in made
    assert "wide" not in chosen.combination.eyepiece
    if any(one.power <= min(2 * aperture, 300 / seeing) and one.exit_pupil_mm <= pupil for one in made):
        assert chosen.combination.power <= 2 * aperture * (1 + 1e-9)
        assert chosen.combination.power <= 300 / seeing * (1 + 1e-9)
        # For what no such view holds, a third of the light is a fair price for a wider one.
        spilt = eyepiece.FINDING_SPILL if chosen.why is Why.WIDEST else 1.0
        assert chosen.combination.exit_pupil_mm <= pupil * spilt * (1 + 1e-9)
    assert 0 < len(why_text(chosen.why).split()) <= 6


def test_nothing_is_suggested_without_eyepieces():
    assert look(subject(Kind.GALAXY), kit(focals=())) is None


# The rules for each kind


def test_finding_takes_the_widest_field_of_which_the_pupil_loses_little():
    carried = kit(focals=(40, 25, 10))
    made = eyepiece.combinations(carried)
    # 200 mm f/6: 40 mm gives an exit pupil of 6.67 mm, 25 mm one of 4.17 mm (geometric optics).
    assert eyepiece.find_with(made, eyepiece.limits(carried, 7.0, 1.5)).eyepiece == "40 mm"
    assert eyepiece.find_with(made, eyepiece.limits(carried, 5.0, 1.5)).eyepiece == "25 mm"
    # An eye of 5.4 mm loses a third of that beam and still gains the wider field.
    assert eyepiece.find_with(made, eyepiece.limits(carried, 5.4, 1.5)).eyepiece == "40 mm"


def test_a_large_nebula_gets_a_field_that_holds_it_at_the_price_of_some_light():
    # 200 mm f/6, an eye of 5.4 mm: 40 mm gives 6.7 mm of beam and 1.7 degrees, 25 mm 4.2 mm and 1 degree.
    carried = kit(focals=(40, 25, 10))
    made = eyepiece.combinations(carried)
    bounds = eyepiece.limits(carried, 5.4, 1.5)
    large, small = (subject(Kind.EMISSION_NEBULA, size_arcmin=size) for size in (120.0, 20.0))
    assert suggest(large, made, bounds, (), flat(0.3)).combination.eyepiece == "40 mm"
    assert suggest(small, made, bounds, (), flat(0.3)).combination.eyepiece == "25 mm"


def test_of_equal_margins_the_lowest_power_wins():
    chosen = look(subject(Kind.GALAXY, size_arcmin=8.0), judge=flat(0.3))
    assert chosen.combination.eyepiece == "32 mm"
    rising = look(
        subject(Kind.GALAXY, size_arcmin=8.0),
        judge=lambda one, filter_: Visibility(0.21 + one.power / 4000.0),
    )
    # 37x and 200x, highest without Barlow, are 0.04 dex apart: equal, so the lowest.
    assert rising.combination.eyepiece == "32 mm"


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


def test_doubles_get_the_lowest_power_that_shows_four_arcminutes():
    # 5.5 arcsec: 240 / 5.5 = 43.6x; the kit has 37.5x, 60x ... (geometric optics, common practice)
    castor = subject(Kind.DOUBLE, magnitude=1.9, companion_magnitude=3.0, separation_arcsec=5.5)
    assert look(castor).combination.power == 60
    close = subject(Kind.DOUBLE, magnitude=5.0, companion_magnitude=5.0, separation_arcsec=0.4)
    assert look(close).why is Why.TOO_CLOSE


def test_a_companion_in_the_glare_gets_more_power():
    rigel = subject(Kind.DOUBLE, magnitude=0.2, companion_magnitude=6.8, separation_arcsec=9.4)
    equal = subject(Kind.DOUBLE, magnitude=6.8, companion_magnitude=6.8, separation_arcsec=9.4)
    assert look(rigel).combination.power > 1.5 * look(equal).combination.power


@pytest.mark.parametrize("aperture", [70.0, 130.0, 200.0])
def test_planets_get_an_exit_pupil_near_a_millimetre(aperture):
    planet = Body(name="x", kind=Kind.PLANET, body="saturn")
    chosen = look(planet, kit(aperture, aperture * 8, focals=(25, 15, 10, 7)))
    assert 0.6 <= chosen.combination.exit_pupil_mm <= 1.1


def test_a_small_planetary_that_is_easy_gets_power():
    eskimo = subject(Kind.PLANETARY_NEBULA, size_arcmin=0.8, magnitude=9.2)
    easy = look(eskimo, judge=flat(1.2))
    # 2.5 degrees wide: 188x; the 6 mm eyepiece gives 200x, with an exit pupil of 1 mm.
    assert easy.combination.eyepiece == "6 mm"
    large = look(subject(Kind.PLANETARY_NEBULA, size_arcmin=8.0), judge=flat(1.2))
    assert large.combination.eyepiece == "32 mm"


def test_power_is_never_bought_with_ease():
    def falling(one, filter_):
        return Visibility(1.0 if one.power < 50 else PLAIN_DEX - 0.05)

    target = subject(Kind.PLANETARY_NEBULA, size_arcmin=0.8)
    assert look(target, judge=falling).combination.eyepiece == "32 mm"
    assert (
        look(subject(Kind.GLOBULAR_CLUSTER, size_arcmin=10.0), judge=falling).combination.eyepiece == "32 mm"
    )


def test_an_easy_globular_gets_power_to_resolve_it():
    chosen = look(subject(Kind.GLOBULAR_CLUSTER, size_arcmin=12.0), judge=flat(1.2))
    assert 1.5 <= chosen.combination.exit_pupil_mm <= 2.5
    faint = look(subject(Kind.GLOBULAR_CLUSTER, size_arcmin=12.0), judge=flat(0.1))
    assert faint.combination.eyepiece == "32 mm"


def test_clusters_get_sky_around_them_and_a_wide_beam():
    chosen = look(subject(Kind.OPEN_CLUSTER, size_arcmin=10.0), judge=flat(1.0)).combination
    assert chosen.true_field_deg * 60 >= 30
    assert chosen.exit_pupil_mm >= 2.5


def test_an_easy_cluster_in_a_nebula_is_looked_at_as_a_cluster():
    """Common practice: NGC 2264 at low power, though more of it would reach fainter stars."""

    def deeper(combination, filter_):
        return Visibility(1.0 + 0.4 * (combination.power / 200.0), 0.05)

    tree = subject(Kind.CLUSTER_NEBULA, size_arcmin=20.0)
    assert look(tree, judge=deeper).combination.power <= 80
    faint = look(tree, judge=lambda one, filter_: Visibility(one.power / 200.0 - 0.5, 0.05)).combination
    assert faint.power > 80


def test_the_plan_s_own_eyepiece_is_kept():
    chosen = look(subject(Kind.GALAXY, size_arcmin=8.0, eyepiece="6 MM"))
    assert (chosen.combination.eyepiece, chosen.why) == ("6 mm", Why.PLANNED)


def test_a_barlow_is_for_power_that_no_plain_eyepiece_gives():
    """300 mm with one eyepiece of 20 mm: 75x, or 150x with the Barlow, on a small bright planetary."""
    large = kit(300.0, 1500.0, focals=(20,))
    ring = subject(Kind.PLANETARY_NEBULA, size_arcmin=1.4, magnitude=8.8)
    assert look(ring, large, flat(1.5)).combination.power == 150
    globular = subject(Kind.GLOBULAR_CLUSTER, size_arcmin=12.0)
    assert look(globular, large, flat(1.5)).combination.barlow == "2.0x"
    assert look(globular, kit(), flat(1.5)).combination.barlow is None


def test_doubles_take_a_plain_eyepiece_where_one_splits_them():
    # 3 arcsec: 80x needed. 25 mm with the Barlow gives 96x; the plain 10 mm gives 120x.
    pair = subject(Kind.DOUBLE, magnitude=5.0, companion_magnitude=5.5, separation_arcsec=3.0)
    chosen = look(pair, kit(focals=(25, 10))).combination
    assert (chosen.eyepiece, chosen.barlow) == ("10 mm", None)
    only = look(pair, kit(focals=(25,))).combination
    assert only.barlow == "2.0x"


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
    together = suggest(one, made, bounds, (), flat(1.0), view_arcmin=65.0)
    assert together.combination.true_field_deg * 60 >= 65.0
    assert together.why is Why.TOGETHER
    assert alone.combination.power >= together.combination.power


# Filters


FAIR_BARE = Visibility(0.2, 0.3)


def gaining(by_dex=0.0, by_extent=0.0, bare=FAIR_BARE):
    def judge(one, filter_):
        return bare if filter_ is None else Visibility(bare.contrast_dex + by_dex, bare.extent + by_extent)

    return judge


@rows("kind, expected", [
    (Kind.PLANETARY_NEBULA, "o3"),
    (Kind.SUPERNOVA_REMNANT, "o3"),
    (Kind.EMISSION_NEBULA, "nb"),
    (Kind.CLUSTER_NEBULA, "nb"),
    (Kind.GALAXY, None),
    (Kind.GLOBULAR_CLUSTER, None),
    (Kind.OPEN_CLUSTER, None),
    (Kind.REFLECTION_NEBULA, None),
])  # fmt: skip
def test_filters_only_for_what_shines_in_lines(kind, expected):
    # Common practice, no published source.
    assert look(subject(kind, size_arcmin=10.0), judge=gaining(0.4)).filter == expected


@pytest.mark.parametrize(("light", "expected"), [
    (ShinesIn.OXYGEN, "o3"), (ShinesIn.BOTH, "nb"), (ShinesIn.HYDROGEN, "nb"), (ShinesIn.STARLIGHT, None),
])  # fmt: skip
def test_the_light_of_a_nebula_decides_more_than_its_kind(light, expected):
    # Common practice: O III for what is strong in it, nothing for starlight.
    nebula = subject(Kind.EMISSION_NEBULA, size_arcmin=10.0, shines_in=light)
    assert look(nebula, judge=gaining(0.4)).filter == expected


def test_hydrogen_beta_is_for_what_nothing_else_makes_easy():
    # Common practice: the Horsehead and the California nebula; the Trifid is easy with less.
    nebula = subject(Kind.EMISSION_NEBULA, size_arcmin=10.0, shines_in=ShinesIn.HYDROGEN)

    def judge(bare):
        gains = {None: 0.0, "nb": 0.15, "hb": 0.3}
        return lambda one, filter_: Visibility(bare + gains.get(filter_ and filter_.name, -1.0), 0.5)

    assert look(nebula, judge=judge(-0.3)).filter == "hb"
    assert look(nebula, judge=judge(0.6)).filter == "nb"


def test_a_filter_must_gain_enough():
    nebula = subject(Kind.EMISSION_NEBULA, size_arcmin=10.0)
    assert look(nebula, judge=gaining(0.05)).filter is None
    assert look(nebula, judge=gaining(-0.2)).filter is None


def test_where_there_is_plenty_a_filter_is_only_for_more_of_the_extent():
    nebula, easy = subject(Kind.EMISSION_NEBULA, size_arcmin=10.0), Visibility(1.5, 0.4)
    assert look(nebula, judge=gaining(0.5, 0.05, easy)).filter is None
    assert look(nebula, judge=gaining(0.5, 0.0, Visibility(0.8, 0.4))).filter == "nb"
    assert look(nebula, judge=gaining(0.5, 0.3, easy)).filter == "nb"


def test_without_published_brightness_the_kind_decides():
    assert look(subject(Kind.EMISSION_NEBULA, size_arcmin=60.0), judge=flat(None)).filter == "nb"
    assert look(subject(Kind.DARK_NEBULA, size_arcmin=60.0), judge=flat(None)).filter is None


# The observer's own choice


def test_alternatives_begin_with_the_suggestion_go_up_and_come_round():
    carried = kit()
    choices = eyepiece.sensible(eyepiece.combinations(carried), eyepiece.limits(carried, 6.0, 1.0))
    chosen = look(subject(Kind.OPEN_CLUSTER, size_arcmin=10.0), judge=flat(1.0))
    steps = alternatives(chosen, choices)
    assert steps[0] == chosen.combination
    assert sorted(steps, key=choices.index) == choices
    powers = [one.power for one in steps]
    turn = powers.index(min(powers))
    assert powers == sorted(powers[:turn]) + sorted(powers[turn:])
