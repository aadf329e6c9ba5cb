"""The rules of the walk on small cases worked by hand."""

import datetime as dt

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from nightmode.model.session import Entry, Event, Outcome
from nightmode.walk.order import Chance, coming, minutes_per_target, octant, queue, standing
from nightmode.walk.state import State, apply, fold, target_key
from nightmode.walk.usable import (
    Ending,
    Usable,
    floor_crossings,
    horizon_altitude_deg,
    sharpened,
    usable_stretches,
)

HOUR = 3600.0


def chance(key, start_h, end_h, ends_by=Ending.HORIZON):
    return Chance(key, 0.0, (Usable(start_h * HOUR, end_h * HOUR, ends_by, 20.0),))


def tick(key, hour, outcome=Outcome.SEEN):
    return Entry(
        at=dt.datetime.fromtimestamp(hour * HOUR, dt.UTC), event=Event.TICK, target=key, outcome=outcome
    )


def test_set_aside_comes_back_when_the_others_are_done():
    chances = [chance("a", 0, 5), chance("b", 0, 8)]
    state = apply(State(), tick("a", 1, Outcome.SET_ASIDE))
    assert queue(chances, state, 1.1 * HOUR) == [1, 0]
    assert queue(chances, apply(state, tick("b", 1.2)), 1.3 * HOUR) == [0]


def test_set_aside_comes_back_with_less_than_half_an_hour_left():
    chances = [chance("a", 0, 5), chance("b", 0, 8)]
    state = apply(State(), tick("a", 1, Outcome.SET_ASIDE))
    assert queue(chances, state, 4.49 * HOUR) == [1, 0]
    assert queue(chances, state, 4.51 * HOUR) == [0, 1]


def test_set_aside_again_in_its_last_half_hour_stays_behind():
    chances = [chance("a", 0, 5), chance("b", 0, 8)]
    state = apply(State(), tick("a", 4.6, Outcome.SET_ASIDE))
    assert queue(chances, state, 4.7 * HOUR) == [1, 0]


def test_set_aside_again_makes_room_for_the_others_set_aside():
    chances = [chance("a", 0, 5), chance("b", 0, 8), chance("c", 0, 9)]
    state = fold(tick(key, 1, Outcome.SET_ASIDE) for key in "abc")
    offered = []
    for turn in range(6):
        first = queue(chances, state, 2 * HOUR)[0]
        offered.append(first)
        state = apply(state, tick("abc"[first], 2 + turn / 100, Outcome.SET_ASIDE))
    assert offered == [0, 1, 2, 0, 1, 2]
    assert queue(chances, apply(state, tick("b", 3, Outcome.SEEN)), 3.1 * HOUR) == [0, 2]


def test_set_aside_just_now_is_not_offered_before_another_set_aside():
    chances = [chance("a", 0, 5), chance("b", 0, 8)]
    for first, then in ("ab", "ba"):
        state = fold([tick(first, 1, Outcome.SET_ASIDE), tick(then, 2, Outcome.SET_ASIDE)])
        assert ["ab"[index] for index in queue(chances, state, 2.1 * HOUR)] == [first, then]


def test_an_outcome_between_starts_the_count_of_set_aside_again():
    outcomes = Outcome.SET_ASIDE, Outcome.SET_ASIDE, Outcome.SEEN, Outcome.SET_ASIDE
    state = fold(tick("a", hour, outcome) for hour, outcome in enumerate(outcomes))
    assert state.times_set_aside("a") == 1
    assert fold(tick("a", 0, one) for one in outcomes[:2]).times_set_aside("a") == 2
    assert State().times_set_aside("a") == 0


def test_what_set_unticked_is_missed_and_not_dropped():
    assert standing(chance("a", 0, 5), State(), 5.01 * HOUR) == "missed"


def test_a_target_that_rises_later_is_coming():
    assert coming([chance("a", 3, 5), chance("b", 0, 2)], State(), 1 * HOUR) == [(3 * HOUR, 0)]


def test_only_what_stands_in_a_clear_part_is_offered():
    clouds = Entry(at=dt.datetime(2026, 12, 12, tzinfo=dt.UTC), event=Event.CLOUDS, note="NW N")
    state = fold([clouds])
    chances = [chance("a", 0, 5), chance("b", 0, 6), chance("c", 0, 7)]
    assert queue(chances, state, HOUR, azimuth_deg=[180.0, 350.0, 300.0]) == [1, 2]


@pytest.mark.parametrize(
    ("azimuth", "point"), [(0, "N"), (22.4, "N"), (22.6, "NE"), (180, "S"), (337.4, "NW"), (359.9, "N")]
)
def test_an_octant_is_the_nearest_compass_point(azimuth, point):
    assert octant(azimuth) == point


def test_the_pace_is_the_tightest_share_of_the_time_left():
    chances = [chance("a", 0, 1), chance("b", 0, 1.5), chance("c", 0, 9)]
    assert minutes_per_target(chances, State(), 0.0) == pytest.approx(45)
    assert minutes_per_target(chances, State(), 0.9 * HOUR) == pytest.approx(6)
    assert minutes_per_target(chances, State(), 1.2 * HOUR) == pytest.approx(18)


def test_the_pace_counts_only_what_is_to_do_and_stands_in_the_clear():
    chances, south_and_north = [chance("a", 0, 1), chance("b", 0, 2)], [180.0, 0.0]
    done = apply(State(), tick("a", 0.1))
    assert minutes_per_target(chances, done, 0.5 * HOUR) == pytest.approx(90)
    clouds = Entry(at=dt.datetime.fromtimestamp(0.1 * HOUR, dt.UTC), event=Event.CLOUDS, note="S")
    clear_in_the_south = apply(State(), clouds)
    assert minutes_per_target(chances, clear_in_the_south, 0.5 * HOUR, south_and_north) == pytest.approx(30)


def test_spellings_of_one_name_share_a_key():
    assert target_key("M 13") == target_key("m13") == target_key(" M  13 ")


def test_the_horizon_line_is_interpolated_across_north():
    line = [(350.0, 10.0), (10.0, 20.0), (180.0, 0.0)]
    assert horizon_altitude_deg(line, np.array([0.0, 355.0, 95.0])) == pytest.approx([15.0, 12.5, 10.0])


def stretches_of(above, dark, time_s, altitude_deg):
    return usable_stretches([above], [dark], lambda _, instants: np.interp(instants, time_s, altitude_deg))[0]


def test_darkness_and_height_both_bound_the_stretch():
    time_s = np.arange(0.0, 601.0, 60.0)
    altitude = 20 - time_s / 60
    stretch = stretches_of([(0.0, 300.0)], [(120.0, 540.0)], time_s, altitude)
    assert [(one.start_s, one.end_s, one.ends_by) for one in stretch] == [(120.0, 300.0, Ending.HORIZON)]
    stretch = stretches_of([(0.0, 600.0)], [(120.0, 540.0)], time_s, altitude)
    assert [(one.end_s, one.ends_by, one.end_altitude_deg) for one in stretch] == [(540.0, Ending.DAWN, 11.0)]


def test_each_target_has_its_own_stretches_and_heights():
    found = usable_stretches(
        [[(0.0, 100.0)], [], [(0.0, 50.0), (60.0, 200.0)]],
        [[(10.0, 150.0)]] * 3,
        lambda rows, instants: rows * 1000 + instants,
    )
    ends = [[(one.end_s, one.end_altitude_deg) for one in each] for each in found]
    assert ends == [[(100.0, 100.0)], [], [(50.0, 2050.0), (150.0, 2150.0)]]


def test_a_notch_in_the_horizon_line_makes_two_stretches():
    time_s = np.arange(0.0, 601.0, 60.0)
    stretch = stretches_of([(0.0, 200.0), (400.0, 600.0)], [(100.0, 500.0)], time_s, time_s)
    assert [(one.start_s, one.end_s, one.ends_by) for one in stretch] == [
        (100.0, 200.0, Ending.HORIZON),
        (400.0, 500.0, Ending.DAWN),
    ]


def test_what_is_up_from_noon_to_noon_neither_rises_nor_sets():
    window = (0.0, 120.0)
    up = (Usable(20.0, 100.0, Ending.DAWN, 30.0),)
    assert floor_crossings([window], window, up) == (None, None)
    assert floor_crossings([], window, ()) == (None, None)


def test_rising_and_setting_belong_to_the_first_usable_stretch():
    window = (0.0, 1000.0)
    above = [(0.0, 50.0), (300.0, 700.0), (900.0, 1000.0)]
    usable = (Usable(400.0, 700.0, Ending.HORIZON, 15.0),)
    assert floor_crossings(above, window, usable) == (300.0, 700.0)
    assert floor_crossings(above, window, ()) == (300.0, 50.0)


def test_a_corner_of_the_horizon_line_between_two_minutes_is_met_to_the_second():
    # altitude falls 6 degrees a minute from 20; azimuth runs 10 degrees a minute; the wall steps up from
    # 0 to 16 degrees at azimuth 104, and the target sinks to 16 degrees only 40 s into the minute
    time_s = np.array([0.0, 60.0, 120.0])
    altitude, azimuth = np.array([[20.0, 14.0, 8.0]]), np.array([[100.0, 110.0, 120.0]])
    wall = [(0.0, 0.0), (104.0, 0.0), (104.1, 16.0), (200.0, 16.0), (201.0, 0.0)]
    rough = [[(0.0, 40.0)]]
    [[(start, end)]] = sharpened(rough, time_s, altitude, azimuth, np.array([0.0]), wall)
    assert start == 0.0
    assert end == pytest.approx(40.0, abs=0.1)  # 20 - 6 * 40/60 = 16: behind the wall, not at its edge


def test_a_wall_higher_than_the_target_is_met_at_its_edge():
    time_s = np.array([0.0, 60.0, 120.0])
    altitude, azimuth = np.array([[20.0, 19.0, 18.0]]), np.array([[100.0, 110.0, 120.0]])
    wall = [(0.0, 0.0), (104.0, 0.0), (104.1, 60.0), (200.0, 60.0), (201.0, 0.0)]
    [[(_, end)]] = sharpened([[(0.0, 10.0)]], time_s, altitude, azimuth, np.array([0.0]), wall)
    assert end == pytest.approx(24.3, abs=0.7)  # azimuth 104 is passed 24 s into the minute


@given(st.floats(0.0, 360.0, exclude_max=True))
@example(250.0)  # north is passed within the minute
@example(256.0)  # the wall begins in the north
def test_a_wall_is_met_at_its_edge_wherever_it_stands(turned_deg):
    def turned(azimuth_deg):
        return (azimuth_deg + turned_deg) % 360.0

    time_s = np.array([0.0, 60.0, 120.0])
    altitude, azimuth = np.array([[20.0, 19.0, 18.0]]), turned(np.array([[100.0, 110.0, 120.0]]))
    wall = [(turned(at), height) for at, height in ((104.0, 0.0), (104.1, 60.0), (200.0, 60.0), (201.0, 0.0))]
    [[(_, end)]] = sharpened([[(0.0, 10.0)]], time_s, altitude, azimuth, np.array([0.0]), wall)
    assert end == pytest.approx(24.3, abs=0.7)
