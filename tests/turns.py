"""What is tried every day in turn, and all of it when asked for with -m long."""

import itertools

import pytest

#: A share of many values: every other one each day, all of them when asked for.
SHARES = [2, pytest.param(1, marks=pytest.mark.long, id="all")]


def by_turns(cases, ways):
    """Return (case, way) for every case and every way: one way of each case every day, in turn."""
    daily = dict(zip(cases, itertools.cycle(ways), strict=False))
    return [
        (case, way) if daily[case] == way else pytest.param(case, way, marks=pytest.mark.long)
        for case in cases
        for way in ways
    ]
