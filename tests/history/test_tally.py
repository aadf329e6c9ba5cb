"""The tally: one object under all its names, each once, whatever the order in which sessions were read."""

import datetime as dt
import random

from history.keeping import head, note, tick, undo
from hypothesis import given
from hypothesis import strategies as st

from nightmode.history.objects import identify
from nightmode.history.sitting import sitting_of
from nightmode.history.tally import looks_by_object, tally, tally_of_everything
from nightmode.model.session import Outcome

LIST = ("M 31", "M 102", "Albireo", "My asterism", "NGC 891")
#: The same objects by other names (SIMBAD's cross references, from memory).
OTHER = {"M 31": "NGC 224", "M 102": "NGC 5866", "Albireo": "Beta Cygni", "NGC 891": "C 23"}


def told(sittings, names=LIST):
    return tally("A list", [(name, identify(name)) for name in names], looks_by_object(sittings))


def sitting(*entries, night="2027-01-09", plan="Winter", file="x.toml"):
    return sitting_of(file, head(night, plan), entries)


def outcomes(found):
    return {entry.name: entry.outcome for entry in found.items}


def test_seen_stands_above_suspected_above_not_seen_and_set_aside_is_left():
    found = told(
        [
            sitting(tick("M 31", "not seen"), tick("Albireo", "set aside", 4), note("odd", "NGC 891", 5)),
            sitting(tick("M 31", "suspected"), tick("M 102", "not seen", 3), night="2027-02-01"),
        ]
    )
    assert outcomes(found) == {
        "M 31": Outcome.SUSPECTED,
        "M 102": Outcome.NOT_SEEN,
        "Albireo": None,
        "My asterism": None,
        "NGC 891": None,
    }
    assert [entry.name for entry in found.left] == ["Albireo", "My asterism", "NGC 891"]


def test_first_best_and_last_are_told_of_the_best_outcome():
    found = told(
        [
            sitting(
                tick("M 31", "suspected", 0, "2026-12-01", altitude_deg=80.0),
                note("small", "M 31", 1, "2026-12-01"),
                night="2026-12-01",
            ),
            sitting(tick("M 31", altitude_deg=30.0), night="2027-01-09"),
            sitting(
                tick("NGC 224", "seen", 0, "2027-01-12", altitude_deg=60.0),
                note("dust", "NGC 224", 1, "2027-01-12"),
                night="2027-01-12",
            ),
            sitting(tick("M 31", "not seen", altitude_deg=20.0), night="2027-03-01"),
        ]
    ).items[0]
    assert found.first == dt.date(2027, 1, 9)
    assert (found.best.night, found.best.altitude_deg) == (dt.date(2027, 1, 12), 60.0)
    assert (found.last, found.nights, found.note) == (dt.date(2027, 3, 1), 4, "dust")


entries = st.lists(
    st.one_of(
        st.builds(
            tick,
            st.sampled_from(LIST + tuple(OTHER.values())),
            st.sampled_from([one.value for one in Outcome]),
            st.integers(0, 500),
            altitude_deg=st.none() | st.integers(0, 89).map(float),
        ),
        st.builds(note, st.sampled_from(["round", "faint"]), st.sampled_from(LIST), st.integers(0, 500)),
        st.builds(undo, st.integers(0, 500)),
    ),
    max_size=20,
)
nights = st.dates(dt.date(2020, 1, 1), dt.date(2029, 12, 31)).map(str)
records = st.lists(st.tuples(nights, entries), max_size=6)


def sittings_of(record):
    return [sitting(*found, night=night, file=f"{place}.toml") for place, (night, found) in enumerate(record)]


@given(records, st.randoms(use_true_random=False))
def test_the_order_in_which_sessions_are_read_makes_no_difference(record, lot):
    sittings = sittings_of(record)
    shuffled = random.Random(lot.random()).sample(sittings, len(sittings))
    assert told(sittings) == told(shuffled)


@given(records, records)
def test_two_machines_give_the_same_tally_merged_either_way(here, there):
    mine, theirs = sittings_of(here), sittings_of(there)
    assert told([*mine, *theirs]) == told([*theirs, *mine])


@given(records)
def test_every_entry_is_in_exactly_one_part_and_nothing_is_counted_twice(record):
    found = told(sittings_of(record))
    counted = [found.count(one) for one in (Outcome.SEEN, Outcome.SUSPECTED, Outcome.NOT_SEEN, None)]
    assert sum(counted) == len(LIST)
    for by in ("kind", "constellation"):
        assert sum(part.total() for part in found.parts(by).values()) == len(LIST)


@given(records)
def test_a_target_renamed_to_another_of_its_names_changes_nothing(record):
    as_listed = [(night, [one for one in found if one.target in (None, *LIST)]) for night, found in record]
    renamed = [(night, _rename(found)) for night, found in as_listed]
    assert told(sittings_of(renamed)) == told(sittings_of(as_listed))


def _rename(found):
    return [one.model_copy(update={"target": OTHER.get(one.target, one.target)}) for one in found]


@given(records, nights, entries)
def test_what_is_undone_leaves_no_trace(record, night, found):
    ticked = [tick(name, "seen", 600) for name in LIST]
    undone = [*found, *ticked, *(undo(601) for _ in ticked)]
    assert told([*sittings_of(record), sitting(*found, night=night)]) == told(
        [*sittings_of(record), sitting(*undone, night=night)]
    )


@given(records, nights, st.sampled_from(LIST))
def test_another_look_never_takes_what_was_seen_away(record, night, name):
    before = outcomes(told(sittings_of(record)))
    for outcome in ("not seen", "set aside", "suspected", "seen"):
        after = outcomes(told([*sittings_of(record), sitting(tick(name, outcome), night=night)]))
        assert _rank(after[name]) <= _rank(before[name])
        assert {k: v for k, v in after.items() if k != name} == {k: v for k, v in before.items() if k != name}


def _rank(outcome):
    return [Outcome.SEEN, Outcome.SUSPECTED, Outcome.NOT_SEEN, None].index(outcome)


@given(records)
def test_everything_holds_each_object_once(record):
    found = tally_of_everything("All", looks_by_object(sittings_of(record)))
    keys = [entry.object.key for entry in found.items]
    assert len(keys) == len(set(keys)) <= len(LIST)


@given(records)
def test_a_session_told_twice_changes_no_outcome(record):
    sittings = sittings_of(record)
    assert told([*sittings, *sittings]) == told(sittings)
