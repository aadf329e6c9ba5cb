"""Eclipses of the Moon against NASA's catalogue and Skyfield's own search."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.sky.eclipse import lunar_eclipse, shared_area, umbra_share
from nightmode.sky.moon import moon_night

#: Espenak & Meeus, Five Millennium Catalog of Lunar Eclipses, and NASA's pages on each; UTC, from memory.
ECLIPSES = [
    ("2025-03-14", "total", "05:09:40", "06:26:06", "06:58:47", "07:31:26", "08:47:48", 1.178),
    ("2026-03-03", "total", "09:50:07", "11:04:34", "11:33:46", "12:02:49", "13:17:15", 1.151),
    ("2026-08-28", "partial", "02:33:44", None, "04:12:59", None, "05:52:06", 0.930),
]


@pytest.mark.parametrize("row", ECLIPSES, ids=lambda row: row[0])
def test_phases_agree_with_the_catalogue(row, sky, utc):
    date, kind, first, total_from, greatest, total_to, last, magnitude = row

    def at(clock):
        return utc(f"{date}T{clock}Z")

    found = lunar_eclipse(sky, at("00:00:00"), at("23:00:00"))
    assert found.kind == kind
    assert found.umbra == pytest.approx((at(first), at(last)), abs=60)
    assert found.greatest_s == pytest.approx(at(greatest), abs=60)
    assert found.magnitude == pytest.approx(magnitude, abs=0.01)
    if total_from:
        assert found.total == pytest.approx((at(total_from), at(total_to)), abs=60)
    else:
        assert found.total is None


def test_every_eclipse_of_ten_years_is_found_and_no_other(sky):
    from skyfield.eclipselib import lunar_eclipses

    start, end = sky.timescale.utc(2026, 1, 1), sky.timescale.utc(2036, 1, 1)
    times, kinds, _ = lunar_eclipses(start, end, sky.kernel)
    assert len(times) > 20
    for moment, kind in zip(times.utc_datetime(), kinds, strict=True):
        at_s = moment.timestamp()
        found = lunar_eclipse(sky, at_s - 6 * 3600, at_s + 6 * 3600)
        assert found.kind == ("penumbral", "partial", "total")[kind]
        assert found.greatest_s == pytest.approx(at_s, abs=90)


def test_an_ordinary_full_moon_and_a_half_moon_have_none(sky, utc):
    # Full Moon 2026-12-24 01:28 UTC, first quarter 2026-12-17 (any almanac): no eclipse at either.
    for date in ("2026-12-24", "2026-12-17"):
        assert lunar_eclipse(sky, utc(f"{date}T00:00:00Z"), utc(f"{date}T23:00:00Z")) is None


def test_in_the_umbra_the_moon_gives_no_light_to_speak_of(sky, site_a, utc):
    times = np.array([utc("2025-03-14T03:30:00Z"), utc("2025-03-14T05:48:00Z"), utc("2025-03-14T06:58:00Z")])
    before, half, deepest = umbra_share(sky, times)
    assert (before, deepest) == (0, 1)
    assert 0.3 < half < 0.7
    light = moon_night(sky, site_a, times).light_phase_deg
    assert light[0] < 3 < light[1] < light[2]
    assert light[2] > 170  # as little as from a new Moon


@given(st.floats(0.1, 1), st.floats(1, 4), st.floats(0, 6))
def test_the_share_of_a_disc_in_a_larger_one_is_what_points_say(radius, other, apart):
    grid = np.linspace(-radius, radius, 201)
    x, y = np.meshgrid(grid, grid)
    inside = np.hypot(x, y) <= radius
    covered = inside & (np.hypot(x - apart, y) <= other)
    found = shared_area(np.array(radius), np.array(other), np.array(apart))
    assert found == pytest.approx(covered.sum() / inside.sum(), abs=0.02)
