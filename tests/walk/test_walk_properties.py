"""What must hold for every session and every set of targets."""

import datetime as dt

from hypothesis import given
from hypothesis import strategies as st

from nightmode.model.session import Entry, Event, Outcome
from nightmode.walk.order import Chance, Standing, on_last_call, queue, standing, walk_order
from nightmode.walk.state import State, apply, fold
from nightmode.walk.usable import Ending, Usable

START_S = 1_797_000_000.0
KEYS = [f"t{number}" for number in range(6)]


def at(seconds):
    return dt.datetime.fromtimestamp(START_S + seconds, dt.UTC)


stretches = st.builds(
    lambda start, length, ends_by, height: Usable(START_S + start, START_S + start + length, ends_by, height),
    st.floats(0, 40_000),
    st.floats(1, 30_000),
    st.sampled_from([Ending.HORIZON, Ending.DAWN]),
    st.floats(10, 90),
)
chances = st.lists(
    st.tuples(st.floats(0, 359), st.lists(stretches, max_size=2)), min_size=1, max_size=len(KEYS)
).map(
    lambda rows: [
        Chance(KEYS[index], ra, tuple(sorted(usable, key=lambda one: one.start_s)))
        for index, (ra, usable) in enumerate(rows)
    ]
)
entries = st.lists(
    st.one_of(
        st.builds(
            lambda seconds, key, outcome: Entry(
                at=at(seconds), event=Event.TICK, target=key, outcome=outcome
            ),
            st.floats(0, 40_000),
            st.sampled_from(KEYS),
            st.sampled_from(list(Outcome)),
        ),
        st.builds(
            lambda seconds, event: Entry(at=at(seconds), event=event, note="N SE"),
            st.floats(0, 40_000),
            st.sampled_from([e for e in Event if e is not Event.TICK]),
        ),
    ),
    max_size=20,
)
moments = st.floats(-1000, 60_000).map(lambda seconds: START_S + seconds)


@given(chances, entries, moments)
def test_every_target_stands_in_exactly_one_place(chances, entries, now_s):
    state = fold(entries)
    places = [standing(chance, state, now_s) for chance in chances]
    for chance, place in zip(chances, places, strict=True):
        tick = state.ticks.get(chance.key)
        ticked = tick is not None and tick.outcome is not Outcome.SET_ASIDE
        ever = any(stretch.end_s > now_s for stretch in chance.usable)
        assert (place is Standing.DONE) == ticked
        assert (place is Standing.MISSED) == (not ticked and not ever)


@given(chances, entries, moments)
def test_what_is_up_and_to_do_is_always_offered(chances, entries, now_s):
    state = fold(entries)
    offered = queue(chances, state, now_s)
    assert len(offered) == len(set(offered))
    for index, chance in enumerate(chances):
        open_ = standing(chance, state, now_s) in (Standing.TO_DO, Standing.SET_ASIDE)
        assert (index in offered) == (open_ and chance.is_up(now_s))


@given(chances, entries, moments)
def test_ticking_never_changes_the_order(chances, entries, now_s):
    order = walk_order(chances, now_s)
    assert sorted(order) == list(range(len(chances)))
    state = fold(entries)
    to_do = [i for i in queue(chances, state, now_s) if standing(chances[i], state, now_s) is Standing.TO_DO]
    assert to_do == [index for index in order if index in to_do]


@given(chances, entries, moments)
def test_set_aside_stands_behind_what_is_to_do_until_its_last_call(chances, entries, now_s):
    state = fold(entries)
    offered = queue(chances, state, now_s)
    behind = [
        standing(chances[i], state, now_s) is Standing.SET_ASIDE
        and not on_last_call(chances[i], state, now_s)
        for i in offered
    ]
    assert behind == sorted(behind)


@given(entries, entries.filter(bool))
def test_undo_restores_the_state_exactly(before, after):
    state = fold(before)
    undoable = set(Event) - {Event.UNDO, Event.PAUSE, Event.RESUME}
    added = [entry for entry in after if entry.event in undoable]
    later = state
    for entry in added:
        later = apply(later, entry)
    for _ in added:
        later = apply(later, Entry(at=at(0), event=Event.UNDO))
    assert later == state
    assert later.ticks == state.ticks


def test_undo_with_nothing_to_undo_changes_nothing():
    state = fold([Entry(at=at(0), event=Event.RESUME)])
    assert apply(state, Entry(at=at(1), event=Event.UNDO)) == state


@given(chances)
def test_earlier_setting_comes_first(chances):
    order = walk_order(chances, START_S - 2000)
    first = [chance.usable[0] for chance in (chances[i] for i in order) if chance.usable]
    setting = [stretch.end_s for stretch in first if stretch.ends_by is Ending.HORIZON]
    lasting = [stretch.end_altitude_deg for stretch in first if stretch.ends_by is Ending.DAWN]
    assert setting == sorted(setting)
    assert lasting == sorted(lasting)
    kinds = [stretch.ends_by for stretch in first]
    assert kinds == sorted(kinds, reverse=True)


noted = st.lists(
    st.builds(
        lambda seconds, event, key, outcome, note: Entry(
            at=at(seconds), event=event, target=key, outcome=outcome, note=note
        ),
        st.floats(0, 40_000),
        st.sampled_from([*Event, Event.UNDO, Event.UNDO]),
        st.sampled_from([None, "T 0", "t0", "t1"]),
        st.sampled_from(list(Outcome)),
        st.sampled_from(["", "N SE", "faint", "nowhere"]),
    ),
    max_size=40,
)


@given(noted)
def test_going_on_step_by_step_and_reading_the_whole_journal_tell_the_same(entries):
    state = State()
    for entry in entries:
        state = apply(state, entry)
    assert state == fold(entries)
    assert state.facts == fold(entries).facts


@given(noted)
def test_what_a_state_tells_is_what_a_search_of_its_entries_finds(entries):
    state = fold(entries)
    newest = state.live[::-1]
    lights = [entry.at for entry in newest if entry.event is Event.LIGHT]
    readings = [entry for entry in newest if entry.event is Event.SKY]
    clearings = [entry for entry in newest if entry.event in (Event.CLOUDS, Event.CLEAR)]
    clear = {"N", "NE", "E", "SE", "S", "SW", "W", "NW"}
    if clearings and clearings[0].event is Event.CLOUDS:
        clear &= set(clearings[0].note.split())
    assert state.white_light_at == (lights[0] if lights else None)
    assert state.sky_reading == (readings[0] if readings else None)
    assert state.clear_octants == clear
    about = [entry for entry in state.live if entry.target in ("T 0", "t0")]
    assert state.notes("t0") == [entry.note for entry in about if entry.note]
    ticks = [entry for entry in about if entry.event is Event.TICK]
    assert state.ticks.get("t0") == (ticks[-1] if ticks else None)


@given(entries)
def test_how_often_a_target_was_set_aside_is_counted_from_its_last_other_outcome(entries):
    state = State()
    for entry in entries:
        state = apply(state, entry)
        for key in KEYS:
            outcomes = [one.outcome for one in state.live if one.event is Event.TICK and one.target == key]
            others = [place for place, one in enumerate(outcomes) if one is not Outcome.SET_ASIDE]
            assert state.times_set_aside(key) == len(outcomes) - (others[-1] + 1 if others else 0)
