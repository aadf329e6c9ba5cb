import datetime as dt
import re
import tomllib
from pathlib import Path

import pytest

from nightmode.kinds import Kind
from nightmode.model.site import Site
from nightmode.model.target import Body, Star
from nightmode.sky.kernel import open_sky

REFERENCE = Path(__file__).parent.parent / "reference"


@pytest.fixture(scope="session")
def sky():
    return open_sky()


@pytest.fixture(scope="session")
def check():
    files = [tomllib.loads((REFERENCE / f"{name}.toml").read_text("utf-8")) for name in ("sky", "moon")]
    found = {check["id"]: check for file in files for check in file["check"]}
    return found.__getitem__


@pytest.fixture(scope="session")
def utc():
    def unix(text):
        moment = dt.datetime.fromisoformat(text.replace("Z", "+00:00"))
        return (moment if moment.tzinfo else moment.replace(tzinfo=dt.UTC)).timestamp()

    return unix


@pytest.fixture(scope="session")
def places(check):
    """J2000 places in degrees of the stars and objects that the check values use."""
    found = {row[0]: (row[2], row[3]) for row in check("hipparcos-stars-j2000")["expected"]["rows"]}
    for row in check("openngc-objects")["expected"]["rows"]:
        hours, degrees = (re.split(":", row[column]) for column in (2, 3))
        sign = -1 if degrees[0].startswith("-") else 1
        dec = abs(float(degrees[0])) + float(degrees[1]) / 60 + float(degrees[2]) / 3600
        found[row[0]] = (
            15 * (float(hours[0]) + float(hours[1]) / 60 + float(hours[2]) / 3600),
            sign * dec,
        )
    return found


@pytest.fixture(scope="session")
def subject(places, check):
    motions = {row[0]: row[4:6] for row in check("hipparcos-stars-j2000")["expected"]["rows"]}

    def named(name):
        if name in places:
            ra, dec = places[name]
            motion_ra, motion_dec = motions.get(name, (0.0, 0.0))
            return Star(
                name=name,
                kind=Kind.STAR,
                ra_deg=ra,
                dec_deg=dec,
                motion_ra_mas=motion_ra,
                motion_dec_mas=motion_dec,
            )
        return Body(name=name, kind=Kind.PLANET, body=name.lower())

    return named


@pytest.fixture(scope="session")
def site_a():
    return Site(name="A", latitude_deg=47, longitude_deg=11, elevation_m=900, timezone="Europe/Vienna")


@pytest.fixture(scope="session")
def site_b():
    return Site(name="B", latitude_deg=-35, longitude_deg=149, elevation_m=700, timezone="Australia/Sydney")


@pytest.fixture(scope="session")
def site_c():
    return Site(name="C", latitude_deg=65, longitude_deg=-25, elevation_m=50, timezone="Atlantic/Reykjavik")


@pytest.fixture(scope="session")
def washington(check):
    given = check("usno-washington-2024-sun-moon")["inputs"]
    return Site(name="W", latitude_deg=given["lat"], longitude_deg=given["lon"], timezone="Etc/GMT+5")
