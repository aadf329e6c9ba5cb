"""Our frozen records behave as the standard library's do."""

from dataclasses import dataclass

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.records import Record, field_names, made_from, replace


class Spot(Record):
    """As it is written here."""

    altitude_deg: float
    name: str = "none"


class Twin(Record):
    altitude_deg: float
    name: str = "none"


class Later(Spot):
    at_s: float = 0.0


@dataclass(frozen=True)
class Standard:
    altitude_deg: float
    name: str = "none"


class Track(Record, eq=False):
    heights_deg: tuple[float, ...]
    name: str | None = None


class Named(Track):
    name: str


VALUES = st.tuples(st.floats(allow_nan=False), st.text(max_size=3))


@given(VALUES, VALUES)
def test_equality_hash_and_looks_are_those_of_a_frozen_dataclass(one, other):
    ours, theirs = (Spot(*one), Spot(*other)), (Standard(*one), Standard(*other))
    assert (ours[0] == ours[1]) is (theirs[0] == theirs[1])
    assert len(set(ours)) == len(set(theirs))
    assert repr(ours[0]) == repr(theirs[0]).replace("Standard", "Spot")
    assert Spot(name=one[1], altitude_deg=one[0]) == ours[0] != Twin(*one)


def test_defaults_and_fields_of_a_parent_come_first():
    assert Spot(4.0).name == "none"
    assert repr(Later(4.0, "x", 5.0)) == "Later(altitude_deg=4.0, name='x', at_s=5.0)"
    assert Later(4.0) == Later(4.0, "none", 0.0) != Spot(4.0)
    assert vars(Later(4.0)) == {"altitude_deg": 4.0, "name": "none", "at_s": 0.0}


@pytest.mark.parametrize(
    ("values", "named"),
    [((), {}), ((1.0, "a", 2), {}), ((1.0,), {"altitude_deg": 2.0}), ((1.0,), {"wrong": 1})],
)
def test_one_value_too_many_or_missing_is_refused(values, named):
    for kind in (Spot, Standard):
        with pytest.raises(TypeError):
            kind(*values, **named)


def test_it_stays_as_it_is():
    one = Spot(1.0)
    with pytest.raises(AttributeError):
        one.name = "other"
    with pytest.raises(AttributeError):
        del one.name
    assert one == Spot(1.0)


def test_it_is_matched_by_its_fields_in_order():
    match Later(4.0, "x", 5.0):
        case Later(altitude_deg, name, at_s):
            assert (altitude_deg, name, at_s) == (4.0, "x", 5.0)
        case _:
            pytest.fail("no match")


def test_a_record_of_arrays_equals_itself_alone_and_so_do_its_kinds():
    for kind in (Track, Named):
        one = kind((1.0,), "x")
        assert one == one != kind((1.0,), "x")
        assert len({one, one, kind((1.0,), "x")}) == 2


def test_a_field_told_again_keeps_its_place():
    assert field_names(Named) == ("heights_deg", "name")


@given(VALUES, st.text(max_size=3))
def test_some_fields_are_changed_in_a_record_that_is_otherwise_the_same(values, name):
    assert replace(Later(*values, 5.0), name=name) == Later(values[0], name, 5.0)
    with pytest.raises(TypeError):
        replace(Spot(*values), at_s=1.0)


@given(VALUES)
def test_a_record_is_made_from_one_that_has_some_of_its_fields_or_more(values):
    assert made_from(Track, Spot(*values), heights_deg=()).name == values[1]
    assert made_from(Later, Spot(*values), at_s=5.0) == Later(*values, 5.0)
    assert made_from(Spot, Later(*values, 5.0), name="other") == Spot(values[0], "other")
    with pytest.raises(TypeError):
        made_from(Track, Spot(*values))


def test_what_can_change_is_no_default_as_it_would_be_shared():
    with pytest.raises(TypeError, match=r"Bag\.things"):

        class Bag(Record):
            things: list[str] = []  # noqa: RUF012
