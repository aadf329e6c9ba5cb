"""What is tried every day in turn, and all of it when asked for with -m long."""

import itertools

import pytest
from hypothesis import settings

#: A share of many values: every fourth one each day, all of them when asked for.
SHARES = [4, pytest.param(1, marks=pytest.mark.long, id="all")]


def costly(share=3):
    """Return settings for a property of which an example takes long: a share of the usual number of them."""
    return settings(max_examples=max(5, settings().max_examples // share))


def rarely(*values):
    """Return a case that is tried only when asked for with -m long."""
    return pytest.param(*values, marks=pytest.mark.long)


def by_turns(cases, ways):
    """Return (case, way) for every case and every way: one way of each case every day, in turn."""
    daily = dict(zip(cases, itertools.cycle(ways), strict=False))
    return [(case, way) if daily[case] == way else rarely(case, way) for case in cases for way in ways]
