"""A schedule holds each target once, in time, in the order in which the walk would offer them."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from nightmode.planning.pace import schedule
from nightmode.walk.order import Chance, walk_order
from nightmode.walk.usable import Ending, Usable

PACE_S = 600.0
END_S = 4 * 3600.0


@st.composite
def chance(draw, key):
    start = draw(st.integers(-3600, 12000))
    length = draw(st.integers(60, 15000))
    ends_by = draw(st.sampled_from([Ending.HORIZON, Ending.DAWN]))
    stretch = Usable(float(start), float(start + length), ends_by, float(draw(st.integers(5, 80))))
    return Chance(str(key), float(draw(st.integers(0, 359))), (stretch,))


@st.composite
def evenings(draw):
    return [draw(chance(key)) for key in range(draw(st.integers(0, 8)))]


@given(evenings())
def test_each_target_has_its_full_turn_while_it_is_up(chances):
    turns = schedule(chances, 0.0, END_S, PACE_S)
    if turns is None:
        return
    assert sorted(index for _, index in turns) == list(range(len(chances)))
    for (at_s, _), (after_s, _) in pairwise(turns):
        assert at_s + PACE_S <= after_s
    for at_s, index in turns:
        stretch = chances[index].usable[0]
        assert stretch.start_s <= at_s
        assert at_s + PACE_S <= min(stretch.end_s, END_S) + 1


@given(evenings())
def test_at_each_turn_the_first_in_walk_order_that_is_up_is_taken(chances):
    turns = schedule(chances, 0.0, END_S, PACE_S) or []
    done = set()
    for at_s, index in turns:
        order = [one for one in walk_order(chances, 0.0) if one not in done and chances[one].is_up(at_s)]
        assert order[0] == index
        done.add(index)


def test_a_target_that_would_set_before_its_turn_makes_it_impossible():
    stretch = Usable(0.0, 900.0, Ending.HORIZON, 15.0)
    both = [Chance("a", 0.0, (stretch,)), Chance("b", 1.0, (stretch,))]
    assert schedule(both[:1], 0.0, END_S, PACE_S) == [(0.0, 0)]
    assert schedule(both, 0.0, END_S, PACE_S) is None


def test_the_observer_waits_for_what_is_not_up_yet():
    late = Chance("late", 0.0, (Usable(5000.0, 9000.0, Ending.HORIZON, 15.0),))
    assert schedule([late], 0.0, END_S, PACE_S) == [(5000.0, 0)]
