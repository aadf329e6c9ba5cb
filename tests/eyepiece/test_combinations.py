"""What can be put together, what is found with, and what never happens."""

from eyepiece.carrying import flat, kit, look, subject
from hypothesis import given
from hypothesis import strategies as st

from nightmode import eyepiece
from nightmode.eyepiece.suggestion import alternatives, suggest
from nightmode.eyepiece.why import Why
from nightmode.kinds import Kind
from nightmode.model.target import Body, LunarFeature
from nightmode.wording.suggestion import why_text


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
    if any(one.power <= min(2 * aperture, 450 / seeing) and one.exit_pupil_mm <= pupil for one in made):
        assert chosen.combination.power <= 2 * aperture * (1 + 1e-9)
        assert chosen.combination.power <= 450 / seeing * (1 + 1e-9)
        # For what no such view holds, a third of the light is a fair price for a wider one.
        spilt = eyepiece.FINDING_SPILL if chosen.why is Why.WIDEST else 1.0
        assert chosen.combination.exit_pupil_mm <= pupil * spilt * (1 + 1e-9)
    assert 0 < len(why_text(chosen.why).split()) <= 6


def test_nothing_is_suggested_without_eyepieces():
    assert look(subject(Kind.GALAXY), kit(focals=())) is None


def test_finding_takes_the_widest_field_of_which_the_pupil_loses_little():
    carried = kit(focals=(40, 25, 10))
    made = eyepiece.combinations(carried)
    # 200 mm f/6: 40 mm gives an exit pupil of 6.67 mm, 25 mm one of 4.17 mm (geometric optics).
    assert eyepiece.find_with(made, eyepiece.limits(carried, 7.0, 1.5)).eyepiece == "40 mm"
    assert eyepiece.find_with(made, eyepiece.limits(carried, 5.0, 1.5)).eyepiece == "25 mm"
    # An eye of 5.4 mm loses a third of that beam and still gains the wider field.
    assert eyepiece.find_with(made, eyepiece.limits(carried, 5.4, 1.5)).eyepiece == "40 mm"


def test_the_plan_s_own_eyepiece_is_kept():
    chosen = look(subject(Kind.GALAXY, size_arcmin=8.0, eyepiece="6 MM"))
    assert (chosen.combination.eyepiece, chosen.why) == ("6 mm", Why.PLANNED)


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
