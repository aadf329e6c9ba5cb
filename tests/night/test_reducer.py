"""Focal reducers and eyepieces given by their field stop: arithmetic by hand, parts invented."""

import datetime as dt
import math

import pytest

from nightmode import eyepiece
from nightmode.catalog.resolve import resolve
from nightmode.cli.main import main
from nightmode.eyepiece.suggestion import Why
from nightmode.model.kit import Barlow, Eyepiece, Kit, Telescope
from nightmode.model.observer import Person
from nightmode.model.site import Site
from nightmode.model.target import Target
from nightmode.night.circumstances import Circumstances
from nightmode.night.equipping import equip
from nightmode.night.opening import night_sky
from nightmode.sky.kernel import open_sky

LONG = Telescope(name="T", aperture_mm=200, focal_length_mm=2000)
#: Given by the stop alone: what the apparent field is does not count.
EYEPIECES = (
    Eyepiece(name="32 mm", focal_length_mm=32, field_stop_mm=27),
    Eyepiece(name="12 mm", focal_length_mm=12, field_stop_mm=14),
)
REDUCER, DOUBLER = Barlow(name="reducer", factor=0.63), Barlow(name="doubler", factor=2)
SITE = Site(name="A", latitude_deg=47, longitude_deg=11, timezone="Europe/Vienna", sky_brightness=21.4)
NAMES = ("NGC 869", "M 45", "M 31", "M 57", "Saturn", "M 13", "Castor")


@pytest.fixture(scope="module")
def sky():
    where = Circumstances(dt.date(2026, 12, 12), SITE, Kit(telescope=LONG), Person())
    return night_sky(open_sky(), where, [resolve(Target(name=name)) for name in NAMES])


def looks(sky, *barlows):
    night = equip(sky, Kit(telescope=LONG, eyepieces=EYEPIECES, barlows=barlows))
    return {target.subject.name: target.look for target in night.targets}


def test_a_reducer_shortens_the_focal_length():
    made = eyepiece.combinations(Kit(telescope=LONG, eyepieces=EYEPIECES, barlows=(REDUCER,)))
    found = {(one.eyepiece, one.barlow): one for one in made}
    # 2000 x 0.63 = 1260 mm; 1260 / 32 = 39.4x; 200 / 39.375 = 5.08 mm; 27 / 1260 rad = 1.228 degrees
    wide = found["32 mm", "reducer"]
    assert wide.power == pytest.approx(39.375)
    assert wide.exit_pupil_mm == pytest.approx(5.079, abs=1e-3)
    assert wide.true_field_deg == pytest.approx(1.2277, abs=1e-3)
    # Without it 27 / 2000 rad = 0.7735 degrees, whatever the apparent field.
    assert found["32 mm", None].true_field_deg == pytest.approx(math.degrees(27 / 2000))


def test_it_is_taken_for_what_no_eyepiece_alone_holds_and_for_nothing_else(sky):
    """Common practice, no published source: the reducer for wide things, never for detail."""
    with_it, without = looks(sky, REDUCER, DOUBLER), looks(sky, DOUBLER)
    assert with_it["NGC 869"].combination.barlow == "reducer"  # the pair of clusters wants a whole degree
    assert with_it["NGC 869"].why is Why.TOGETHER
    assert with_it["M 45"].combination.barlow == with_it["M 31"].combination.barlow == "reducer"
    for name in ("M 57", "Saturn", "M 13", "Castor"):
        assert with_it[name] == without[name]


def test_it_is_not_what_one_finds_with(sky):
    night = equip(sky, Kit(telescope=LONG, eyepieces=EYEPIECES, barlows=(REDUCER,)))
    assert {target.find.barlow for target in night.targets} == {None}


def test_the_kit_tells_of_both(tmp_path, capsys):
    plan = tmp_path / "plan.toml"
    plan.write_text(
        '[telescope]\nname = "T"\naperture_mm = 200\nfocal_length_mm = 2000\n'
        '[[eyepiece]]\nname = "32 mm"\nfocal_length_mm = 32\nfield_stop_mm = 27\n'
        '[[barlow]]\nname = "reducer"\nfactor = 0.63\n[[target]]\nname = "M 31"\n'
    )
    assert main(["kit", str(plan)]) == 0
    rows = {line[:29].strip(): line[29:].split()[:3] for line in capsys.readouterr().out.splitlines()}
    assert rows["32 mm"] == ["62x", "0.8°", "3.2"]
    assert rows["32 mm + reducer"] == ["39x", "1.2°", "5.1"]
