import datetime as dt
import socket
import subprocess
import sys
import warnings

import numpy as np
import pytest

from nightmode.errors import NightmodeError
from nightmode.sky.kernel import kernel_path, open_sky


def test_opening_the_sky_needs_no_network_and_says_nothing(monkeypatch, capfd):
    def refuse(*_, **__):
        raise AssertionError("a socket was opened")

    monkeypatch.setattr(socket, "socket", refuse)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        open_sky().time(np.array([1.8e9]))
    assert capfd.readouterr() == ("", "")


def test_a_missing_kernel_is_named(tmp_path):
    with pytest.raises(NightmodeError, match=r"gone\.bsp: cannot be read as an ephemeris"):
        open_sky(tmp_path / "gone.bsp")


@pytest.mark.parametrize("content", [b"", b"not a kernel", b"DAF/SPK " + b"\0" * 1016, None])
def test_a_broken_kernel_is_named(tmp_path, content):
    broken = tmp_path / "broken.bsp"
    broken.write_bytes(kernel_path().read_bytes()[:-5000] if content is None else content)
    with pytest.raises(NightmodeError, match=r"broken\.bsp: cannot be read as an ephemeris"):
        open_sky(broken)


@pytest.mark.parametrize("moment", [-2.3e9, 2.7e9, 1e18, float("nan")])
def test_instants_outside_the_ephemeris_are_refused_with_its_years(sky, moment):
    with pytest.raises(NightmodeError, match="1900 to 2050"):
        sky.time(np.array([1.8e9, moment]))


@pytest.mark.parametrize("year", [1900, 2050])
def test_the_first_and_the_last_year_are_served(sky, year):
    moments = [dt.datetime(year, month, day, tzinfo=dt.UTC).timestamp() for month, day in ((1, 1), (12, 31))]
    assert np.isfinite(sky.body("neptune").at(sky.time(np.array(moments))).xyz.au).all()


def test_the_seasons_begin_when_the_naval_observatory_says(sky, check, utc):
    from skyfield.framelib import ecliptic_frame

    for row in check("usno-seasons-2025-2030")["expected"]["rows"]:
        for column, longitude in ((2, 0), (3, 90), (5, 180), (6, 270)):
            moment = utc(f"{row[0]}-{row[column]}Z")
            earth = sky.body("earth").at(sky.time(moment))
            found = earth.observe(sky.body("sun")).apparent().frame_latlon(ecliptic_frame)[1].degrees
            late_s = ((found - longitude + 180) % 360 - 180) / 360 * 365.2422 * 86400
            assert abs(late_s) < 61


def test_the_time_scale_is_the_one_that_skyfield_loads_itself(sky):
    from skyfield.api import Loader

    theirs = Loader(".").timescale(builtin=True)
    for year in (1900, 1971, 1999, 2017, 2026, 2050):
        ours_at, theirs_at = (scale.utc(year, range(1, 13), 1) for scale in (sky.timescale, theirs))
        assert ours_at.tt.tolist() == theirs_at.tt.tolist()
        assert ours_at.ut1.tolist() == theirs_at.ut1.tolist()


def test_starting_up_does_not_load_the_ephemeris_and_opening_it_nothing_that_speaks_to_a_network():
    look = (
        "import sys, nightmode.sky.track, nightmode.sky.moon, nightmode.sky.planets, nightmode.sky.dark, "
        "nightmode.sky.constellation, nightmode.sky.window; print(*sys.modules); "
        "from nightmode.sky.kernel import open_sky; open_sky(); print(*sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", look], capture_output=True, text=True, check=True)
    started, opened = (line.split() for line in done.stdout.splitlines())
    assert "nightmode.sky.window" in started
    assert "skyfield" not in started
    assert "skyfield.timelib" in opened
    assert {"ssl", "http.client", "urllib.request", "certifi"}.isdisjoint(opened)
