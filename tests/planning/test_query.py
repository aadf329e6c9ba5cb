"""What a draft asks of the objects themselves, over the whole catalogue."""

import ephem
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.catalog.columns import all_objects
from nightmode.catalog.query import Near, Query
from nightmode.errors import NightmodeError
from nightmode.planning.query import read_query
from nightmode.wording.draft import query_text


@pytest.fixture(scope="module")
def columns():
    return all_objects()


def found(columns, query, step=1):
    return [row for row in range(0, len(columns.name), step) if not query.refuses(columns, row)]


def test_nothing_asked_refuses_nothing(columns):
    assert len(found(columns, Query())) == len(columns.name)
    assert query_text(Query()) == ""


def test_near_agrees_with_another_librarys_separations(columns):
    query = read_query(None, None, None, ("M 87", "5"), None)
    here = tuple(np.radians([187.70593, 12.39112]))  # M 87 (NED, J2000)
    places = np.radians([columns.ra_deg, columns.dec_deg]).T
    apart = np.degrees([float(ephem.separation(here, tuple(place))) for place in places])
    inside, outside = (apart < 4.99).nonzero()[0], (apart > 5.01).nonzero()[0]
    rows = set(found(columns, query))
    assert set(inside.tolist()) <= rows
    assert not rows & set(outside.tolist())
    # The middle of the Virgo Cluster: these lie within five degrees of M 87 by any atlas.
    assert {"M 84", "M 86", "M 88", "M 89", "M 90", "M 58"} <= {columns.name[row] for row in rows}


@pytest.mark.parametrize("text", ["Vir,Com", "vir, com", "Virgo,Coma Berenices", "Virginis,Comae Berenices"])
def test_constellations_go_by_abbreviation_name_or_genitive(columns, text):
    query = read_query(text, None, None, None, None)
    assert query.constellations == {"Vir", "Com"}
    assert {columns.constellation[row] for row in found(columns, query)} == {"Vir", "Com"}


@given(st.floats(3, 16), st.floats(0.5, 200), st.sampled_from(["Ori", "Sgr", "Tuc"]))
def test_all_that_is_asked_holds_at_once(columns, mag, size, constellation):
    both = Query(frozenset({constellation}), mag, size)
    apart = [Query(frozenset({constellation})), Query(brighter_mag=mag), Query(larger_arcmin=size)]
    # A tenth of the catalogue, which stands in the order of the constellations' right ascensions.
    alone = [set(found(columns, one, step=10)) for one in apart]
    assert set(found(columns, both, step=10)) == set.intersection(*alone)


def test_what_has_no_published_figure_does_not_answer(columns):
    rows = found(columns, Query(brighter_mag=20.0))
    assert not any(columns.magnitude[row] != columns.magnitude[row] for row in rows)


def test_the_words_say_what_was_asked():
    near = Near("M 87", 187.7, 12.4, 5.0)
    asked = Query(frozenset({"Vir", "Com"}), 11.0, 5.0, near, 30.0)
    text = "in Com, Vir; within 5° of M 87; brighter than 11; larger than 5′; not below 30°"
    assert query_text(asked) == text


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("Virg", None, None, None, None), "--in: 'Virg' is not a constellation"),
        ((" , ", None, None, None, None), "--in: names no constellation"),
        ((None, "bright", None, None, None), "--brighter: 'bright' is not a number"),
        ((None, "50", None, None, None), "--brighter: 50 is not -2 to 20"),
        ((None, None, "-1", None, None), "--larger: -1 is not 0 to 1200"),
        ((None, None, None, ("Nowhere 5", "5"), None), "--near: 'Nowhere 5' is not in the catalogue"),
        ((None, None, None, ("Saturn", "5"), None), "--near: 'Saturn' moves"),
        ((None, None, None, ("M 87", "wide"), None), "--near: 'wide' is not a number"),
        ((None, None, None, None, "90"), "--not-below: 90 is not 0 to 85"),
    ],
)
def test_what_does_not_fit_is_one_sentence(arguments, said):
    with pytest.raises(NightmodeError) as caught:
        read_query(*arguments)
    assert said in str(caught.value)
