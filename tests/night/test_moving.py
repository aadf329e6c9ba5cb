"""Comets and minor planets in a plan: the bodies and their elements are invented."""

import math
import shutil

import ephem
import pytest

from nightmode.errors import NightmodeError
from nightmode.model.target import Comet, MinorPlanet
from nightmode.night.loading import load_night
from nightmode.wording.moving import moving_text
from nightmode.wording.problems import problem_text

COMET = (
    "    CK27A010  2027 02 10.5000  1.100000  0.995000   60.0000  100.0000   45.0000  20261220   6.5  4.0  "
    "C/2027 A1 (Invented)                                     MPC 00000\n"
)
MINOR = (
    "00001    3.34  0.15 K26CK  36.00000   73.50000   80.25000   10.58000  0.0794000  0.21424000   2.7660000"
    "  0 MPO000000  7330 125 1801-2026 0.80 M-v 30h MPC        0000                    (1) Ceres20261101\n"
)
PLAN = """\
night = 2026-12-20
elements = "moving.txt"
site = { name = "Here", latitude_deg = 46.0, longitude_deg = 8.0, sky_brightness = 21.0 }
telescope = { name = "200 mm", aperture_mm = 200, focal_length_mm = 1200 }
eyepiece = [{ name = "25 mm", focal_length_mm = 25 }]
"""


@pytest.fixture
def opened(tmp_path):
    def load(*targets, plan=PLAN, elements=COMET + MINOR):
        (tmp_path / "moving.txt").write_text(elements)
        tables = "".join(f"[[target]]\n{target}\n" for target in targets)
        (tmp_path / "plan.toml").write_text(plan + tables)
        (tmp_path / "observer.toml").write_text("")
        return load_night(tmp_path / "plan.toml", tmp_path / "observer.toml", None, 0.0).night

    return load


def test_a_comet_and_a_minor_planet_are_found_by_name_and_judged(opened):
    night = opened('name = "C/2027 A1"', 'name = "Ceres"', 'name = "M 42"')
    comet, minor, _ = (target.subject for target in night.targets)
    assert isinstance(comet, Comet)
    assert isinstance(minor, MinorPlanet)
    assert comet.magnitude < 9.0
    assert 0.5 < comet.size_arcmin < 20.0
    assert (comet.kind.value, minor.kind.value) == ("comet", "minor planet")


def test_altitudes_through_the_night_agree_with_another_library(opened):
    """ephem's propagation of the same elements, with the almanacs' refraction."""
    night = opened('name = "C/2027 A1"', 'name = "Ceres"')
    theirs = ephem.EllipticalBody()
    theirs._a, theirs._e, theirs._M = 1.1 / (1 - 0.995), 0.995, 0.0
    theirs._epoch_M = ephem.Date("2027/2/10 12:00")
    theirs._inc, theirs._Om, theirs._om, theirs._epoch = 45.0, 100.0, 60.0, ephem.J2000
    here = ephem.Observer()
    here.lat, here.lon, here.pressure, here.temp = "46.0", "8.0", 1010, 10
    compared = 0
    for column in range(0, len(night.time_s), 60):
        here.date = ephem.Date(float(night.time_s[column]) / 86400 + 2440587.5 - 2415020)
        theirs.compute(here)
        if math.degrees(theirs.alt) > 8.0:
            assert night.altitude_deg[0, column] == pytest.approx(math.degrees(theirs.alt), abs=0.02)
            compared += 1
    assert compared > 3


def test_the_plans_own_magnitude_and_size_stand_above_the_elements(opened):
    night = opened('name = "C/2027 A1"\nmagnitude = 5.0\nsize_arcmin = 12')
    assert (night.targets[0].subject.magnitude, night.targets[0].subject.size_arcmin) == (5.0, 12.0)


def test_a_comet_that_the_file_lacks_is_named_with_the_file(opened):
    with pytest.raises(NightmodeError, match=r"target 1, C/2027 Q9: is not in .*moving\.txt"):
        opened('name = "C/2027 Q9"\nkind = "comet"')


def test_old_elements_are_told_by_their_age(opened):
    told = [problem_text(one) for one in opened('name = "Ceres"').problems]
    assert not any("elements" in one for one in told)
    # K26CK is 2026 December 20.0; the middle of that night a year on is 366 days later.
    late = opened('name = "Ceres"', plan=PLAN.replace("2026-12-20", "2027-12-20"))
    assert "Ceres: its elements are 366 days away from this night; fetch newer ones" in [
        problem_text(one) for one in late.problems
    ]


def test_motion_and_magnitude_are_said_with_the_caution_a_comet_needs(opened):
    comet, minor = (one.subject for one in opened('name = "C/2027 A1"', 'name = "Ceres"').targets)
    assert "an hour" in moving_text(comet)
    assert "often one or two off" in moving_text(comet)
    assert "off" not in moving_text(minor)


def test_elements_named_by_the_observer_are_sought_beside_that_file(tmp_path, opened):
    opened('name = "Ceres"')
    shutil.move(tmp_path / "moving.txt", tmp_path / "mine.txt")
    plan = (tmp_path / "plan.toml").read_text().replace('elements = "moving.txt"\n', "")
    (tmp_path / "plan.toml").write_text(plan)
    (tmp_path / "observer.toml").write_text('[observer]\nelements = "mine.txt"\n')
    night = load_night(tmp_path / "plan.toml", tmp_path / "observer.toml", None, 0.0).night
    assert isinstance(night.targets[0].subject, MinorPlanet)


def test_a_missing_file_of_elements_is_one_sentence(tmp_path, opened):
    with pytest.raises(NightmodeError, match=r"none\.txt: not read"):
        opened('name = "Ceres"', plan=PLAN.replace("moving.txt", "none.txt"))
