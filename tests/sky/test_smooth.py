"""The few instants from which the many follow: beside Skyfield's own answer at single instants."""

import datetime as dt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from skyfield.api import wgs84

from nightmode.model.site import Site
from nightmode.sky.bodies import BODIES
from nightmode.sky.kernel import open_sky
from nightmode.sky.smooth import Nodes
from nightmode.sky.vantage import stand

ARCSEC = np.pi / 180 / 3600
MINUTE_S, DAY_S = 60.0, 86400.0
#: Skyfield bends light by the Earth's own mass only where it passes near the limb, a step of 0.0004 arcsec.
TOLERANCE_ARCSEC = 0.001


@given(
    st.lists(st.floats(-1, 1), min_size=1, max_size=8),
    st.lists(st.floats(0, 30), min_size=2, max_size=40, unique=True),
)
def test_a_polynomial_is_found_again_whatever_the_instants_and_their_order(coefficients, many):
    many = np.array(many)
    nodes = Nodes(many, 100.0, 8)
    assert nodes.few.min() >= many.min()
    assert nodes.few.max() <= many.max() + 1e-9

    def curve(x):
        return np.polynomial.polynomial.polyval(x / 30.0, coefficients)

    assert nodes.spread(curve(nodes.few)) == pytest.approx(curve(many), abs=1e-9)


def test_every_instant_belongs_to_one_piece_and_axes_before_the_last_are_kept():
    many = np.linspace(0.0, 10.0, 1001)
    nodes = Nodes(many, 1.0, 6)
    assert nodes.few.size == 60
    waves = np.array([np.sin(nodes.few), np.cos(nodes.few)])
    assert nodes.spread(waves) == pytest.approx(np.array([np.sin(many), np.cos(many)]), abs=1e-6)


@pytest.mark.parametrize(
    ("evening", "days", "step_s", "latitude_deg"),
    [
        (dt.date(2026, 12, 5), 1.0, MINUTE_S, 47.0),
        (dt.date(2016, 12, 31), 1.0, MINUTE_S, -70.0),  # a leap second in its middle
        (dt.date(1931, 10, 4), 25 / 24, MINUTE_S, 60.0),
        (dt.date(2049, 6, 1), 60.0, 5 * MINUTE_S, 5.0),
    ],
)
def test_bodies_and_the_turning_earth_are_where_skyfield_puts_them(evening, days, step_s, latitude_deg):
    sky = open_sky()
    site = Site(name="hill", latitude_deg=latitude_deg, longitude_deg=11.0, elevation_m=900, timezone="UTC")
    start_s = dt.datetime.combine(evening, dt.time(11), dt.UTC).timestamp()
    time_s = start_s + np.arange(0.0, days * DAY_S + 1.0, step_s)
    vantage = stand(sky, site, time_s)
    place = wgs84.latlon(latitude_deg, 11.0, elevation_m=900)
    for column in np.linspace(0, time_s.size - 1, 7).astype(int).tolist():
        when = sky.timescale.from_datetime(dt.datetime.fromtimestamp(time_s[column], dt.UTC))
        turned = np.abs(vantage.rotation[:, :, column] - place.rotation_at(when)).max()
        assert turned < 0.0001 * ARCSEC
        observer = (sky.body("earth") + place).at(when)
        for body in ("sun", *BODIES):
            apparent = observer.observe(sky.body(body)).apparent().xyz.au
            off = np.linalg.norm(vantage.see(body).xyz.au[:, column] - apparent) / np.linalg.norm(apparent)
            assert off < TOLERANCE_ARCSEC * ARCSEC, body
