"""One rule says when a target can be observed, on the opened night, the coming ones and in the survey."""

import datetime as dt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.catalog.resolve import resolve
from nightmode.files.places import shipped
from nightmode.files.toml import read_toml
from nightmode.kinds import Kind
from nightmode.model.observer import Observer
from nightmode.model.plan import Plan
from nightmode.model.target import Target
from nightmode.night.circumstances import circumstances_on
from nightmode.night.equipping import equip
from nightmode.night.opening import night_sky, open_night
from nightmode.night.usable import NEVER_DEG, clearance, dark_levels_deg, least_altitudes_deg
from nightmode.night.verdict import verdicts
from nightmode.sky.kernel import open_sky

SUBJECTS = [resolve(Target(name=name)) for name in ("M 13", "M 42", "M 45", "Saturn", "Albireo", "NGC 891")]


def place(name, date):
    return circumstances_on(read_toml(shipped("plans") / f"{name}.toml", Plan), Observer(), date)


@pytest.mark.parametrize("name", ["balcony", "hillside"])
@pytest.mark.parametrize("date", [dt.date(2026, 12, 12), dt.date(2027, 6, 20)])
def test_the_stretches_of_an_opened_night_are_the_minutes_of_the_rule(name, date):
    where = place(name, date)
    night = night_sky(open_sky(), where, SUBJECTS)
    levels = dark_levels_deg([one.kind for one in SUBJECTS], night.sun_altitude_deg.min())
    clear = clearance(
        night.altitude_deg,
        night.azimuth_deg,
        night.sun_altitude_deg,
        minimum_deg=least_altitudes_deg(SUBJECTS, where.person),
        horizon=where.site.horizon,
        dark_level_deg=levels,
    )
    for row, target in enumerate(night.targets):
        inside = np.array([target.chance.is_up(instant) for instant in night.time_s])
        # Where a corner of the horizon line lies within the minute, the stretch knows better.
        assert np.count_nonzero(inside != clear.usable[row]) <= 2 * len(target.usable), target.subject.name


@given(st.sampled_from(list(Kind)), st.floats(-60.0, 20.0))
def test_a_kind_waits_for_its_own_darkness_or_for_the_deepest_there_is(kind, lowest_deg):
    level = float(dark_levels_deg([kind], lowest_deg)[0])
    if lowest_deg < kind.sun_below_deg:
        assert level == kind.sun_below_deg
    elif level != NEVER_DEG:
        assert kind.sun_below_deg <= lowest_deg < level
    else:
        assert lowest_deg >= -0.8333


@given(
    st.lists(st.tuples(st.floats(0, 359), st.floats(0, 60)), max_size=6, unique_by=lambda point: point[0]),
    st.floats(-5, 90),
    st.floats(0, 360),
    st.floats(0, 60),
)
def test_nothing_is_usable_behind_the_line_or_too_low(line, altitude, azimuth, least):
    clear = clearance(
        np.array([[altitude]]),
        np.array([[azimuth]]),
        np.array([-30.0]),
        minimum_deg=np.array([least]),
        horizon=line,
        dark_level_deg=np.array([-18.0]),
    )
    heights = [height for _, height in line]
    if altitude <= least or (heights and altitude <= min(heights)):
        assert not clear.usable.any()
    if altitude > max([least, *heights]):
        assert clear.usable.all()


def test_a_second_instrument_costs_no_second_sky():
    small, large = place("balcony", dt.date(2026, 12, 12)), place("hillside", dt.date(2026, 12, 12))
    sky = night_sky(open_sky(), small, SUBJECTS)
    first, second = equip(sky, small.kit), equip(sky, large.kit)
    assert first.altitude_deg is second.altitude_deg is sky.altitude_deg
    assert verdicts(first) == verdicts(open_night(open_sky(), small, SUBJECTS))
    galaxy = [one.name for one in SUBJECTS].index("NGC 891")
    assert verdicts(second)[galaxy].margin_dex > verdicts(first)[galaxy].margin_dex
    # A night in use can be seen with another kit, too.
    again = equip(first, large.kit)
    assert verdicts(again) == verdicts(second)
