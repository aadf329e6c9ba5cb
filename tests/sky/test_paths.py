"""Paths looked up cell by cell, and the cells in which a target can pass its floor, beside whole tracks."""

import datetime as dt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from turns import costly

from nightmode.catalog.resolve import resolve
from nightmode.model.site import Site
from nightmode.model.target import Target
from nightmode.sky.arcs import arcs, cells_between
from nightmode.sky.crossings import intervals, intervals_of_cells
from nightmode.sky.kernel import open_sky
from nightmode.sky.paths import Paths, Table
from nightmode.sky.track import tracks_at
from nightmode.sky.vantage import stand
from nightmode.sky.vectors import unit_vectors

NAMES = ("M 13", "Moon", "M 42", "Polaris", "Saturn", "NGC 104")
TABLE = np.arange(30.0).reshape(5, 6)
WHOLE = Table(lambda rows, columns: TABLE[rows, columns], (5, 6))

parts = st.one_of(
    st.integers(-5, 4),
    st.just(slice(None)),
    st.slices(5),
    st.lists(st.integers(0, 4), min_size=1, max_size=4).map(np.array),
    st.lists(st.booleans(), min_size=5, max_size=5).map(np.array),
)


def vantage_at(latitude_deg, evening, hours=24):
    site = Site(name="hill", latitude_deg=latitude_deg, longitude_deg=8.0, timezone="UTC")
    start_s = dt.datetime.combine(evening, dt.time(11, 30), dt.UTC).timestamp()
    return stand(open_sky(), site, start_s + np.arange(0.0, hours * 3600.0 + 1.0, 60.0))


@given(parts)
def test_a_table_is_indexed_by_rows_as_an_array_is(rows):
    assert np.array_equal(WHOLE[rows], TABLE[rows])
    assert np.array_equal(WHOLE[rows, 2], TABLE[rows, 2])
    assert np.array_equal(WHOLE[rows, 1:4], TABLE[rows, 1:4])


@given(st.lists(st.tuples(st.integers(0, 4), st.integers(0, 5)), min_size=1, max_size=9))
def test_a_table_is_indexed_by_pairs_as_an_array_is(pairs):
    rows, columns = np.array(pairs).T
    assert np.array_equal(WHOLE[rows, columns], TABLE[rows, columns])
    assert np.array_equal(WHOLE[rows[:, None], columns], TABLE[rows[:, None], columns])
    assert np.array_equal(WHOLE[:, columns], TABLE[:, columns])
    assert np.array_equal(np.asarray(WHOLE), TABLE)


@pytest.mark.parametrize("latitude_deg", [-33.9, 0.0, 47.3, 78.0])
def test_what_is_looked_up_is_what_the_tracks_hold(latitude_deg):
    vantage = vantage_at(latitude_deg, dt.date(2026, 12, 5))
    subjects = [resolve(Target(name=name)) for name in NAMES]
    paths, tracks = Paths(vantage, subjects), tracks_at(vantage, subjects)
    rows, columns = np.array([5, 0, 1, 4, 2]), np.array([0, 777, 1440, 12, 600])
    for found, held in (
        (paths.altitude_deg, tracks.altitude_deg),
        (paths.azimuth_deg, tracks.azimuth_deg),
    ):
        assert np.asarray(found) == pytest.approx(held, abs=1e-9)
        assert found[rows, columns] == pytest.approx(held[rows, columns], abs=1e-9)
        assert found[3] == pytest.approx(held[3], abs=1e-9)
    middle_s = (vantage.time_s[columns[1:4] - 1] + vantage.time_s[columns[1:4]]) / 2
    between = tracks.altitude_deg[rows[1:4], columns[1:4] - 1] + tracks.altitude_deg[rows[1:4], columns[1:4]]
    assert paths.altitude_at(rows[1:4], middle_s) == pytest.approx(between / 2, abs=1e-9)


@pytest.mark.parametrize("evening", [dt.date(2026, 12, 5), dt.date(2016, 12, 31)])  # one with a leap second
@costly(2)
@given(
    latitude_deg=st.one_of(st.floats(-90, 90), st.sampled_from([-90.0, 0.0, 66.56, 90.0])),
    places=st.lists(st.tuples(st.floats(0, 360), st.floats(-90, 90)), min_size=1, max_size=12),
    low_deg=st.floats(-5, 60),
    more_deg=st.one_of(st.just(0.0), st.floats(0, 30)),
)
def test_no_passage_of_a_floor_lies_outside_the_cells(evening, latitude_deg, places, low_deg, more_deg):
    vantage = vantage_at(latitude_deg, evening)
    vectors = unit_vectors(*np.array(places).T)
    altitude_deg = np.asarray(_tracks_of(vantage, vectors))
    low = np.full(len(places), low_deg)
    rows, columns = cells_between(vantage, vectors, low, low + more_deg)
    cells = rows * vantage.time_s.size + columns
    assert (np.diff(cells) > 0).all()
    for floor_deg in (low_deg, low_deg + more_deg / 2, low_deg + more_deg):
        above = altitude_deg - floor_deg
        found = intervals_of_cells(vantage.time_s, rows, columns, above[rows, columns])
        assert found == intervals(vantage.time_s, above)


def _tracks_of(vantage, vectors):
    from nightmode.sky.refraction import refracted_deg
    from nightmode.sky.track import fixed_horizontal

    return refracted_deg(fixed_horizontal(vantage, vectors)[0])


def test_few_cells_are_looked_at_where_the_floor_is_level():
    vantage = vantage_at(47.3, dt.date(2026, 12, 5))
    vectors = unit_vectors(np.linspace(0, 360, 400), np.linspace(-80, 80, 400))
    low = np.full(400, 15.0)
    rows, _ = cells_between(vantage, vectors, low, low)
    assert rows.size < 400 * 20  # of 1441 columns


def test_a_star_on_the_equator_is_up_for_half_a_turn():
    vantage = vantage_at(0.0, dt.date(2026, 12, 5))
    found = arcs(vantage, unit_vectors(np.array([40.0]), np.array([0.0])))
    level = found.half_s(np.array([0.5]))[0] - found.half_s(np.array([15.5]))[0]
    assert level == pytest.approx(15.0 * 86164.1 / 360.0, rel=0.03)  # fifteen degrees, but for refraction
