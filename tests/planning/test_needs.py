"""What the rest of a list needs, against the sky as other tables have it."""

import datetime as dt

import ephem
import pytest

from nightmode.catalog.resolve import lookup
from nightmode.model.kit import Eyepiece, Kit, Telescope
from nightmode.model.observer import Person
from nightmode.model.site import Site
from nightmode.night.circumstances import Circumstances
from nightmode.planning.needs import needs, new_moons
from nightmode.records import replace
from nightmode.sky.kernel import open_sky
from nightmode.words import Word

HILL = Site(name="Hill", latitude_deg=47.1, longitude_deg=15.4, timezone="Europe/Vienna", sky_brightness=21.2)
KIT = Kit(
    telescope=Telescope(name="Tube", aperture_mm=200, focal_length_mm=1200),
    eyepieces=(
        Eyepiece(name="Wide 30", focal_length_mm=30, apparent_field_deg=68),
        Eyepiece(name="Small 8", focal_length_mm=8, apparent_field_deg=60),
    ),
)
WHERE = Circumstances(dt.date(2026, 12, 1), HILL, KIT, Person())
NAMES = ("M 42", "M 13", "M 7", "M 81", "IC 4651", "M 4", "Horsehead Nebula")


@pytest.fixture(scope="module")
def told():
    return {need.name: need for need in needs(open_sky(), WHERE, [lookup(name) for name in NAMES])}


def test_the_new_moons_are_those_of_another_reckoning():
    """PyEphem's new Moons (VSOP87 and ELP); a mean Moon is up to 14 hours off."""
    for night in new_moons(dt.date(2027, 1, 1)):
        evening = ephem.Date(f"{night} 20:00")
        off = min(evening - ephem.previous_new_moon(evening), ephem.next_new_moon(evening) - evening)
        assert off < 1.5


def test_a_winter_target_shows_in_winter_and_a_circumpolar_one_all_year(told):
    """Declinations: M 42 -5.4, M 81 +69.1 (circumpolar north of 20.9 degrees), from memory."""
    assert {12, 1, 2} <= set(told["M 42"].months)
    assert not {5, 6, 7} & set(told["M 42"].months)
    assert set(told["M 81"].months) == set(range(1, 13))
    assert {5, 6, 7, 8} <= set(told["M 13"].months)


def test_what_never_clears_its_floor_is_told_apart(told):
    """M 7 at declination -34.8 gets 90 - 47.1 - 34.8 = 8.1 degrees high; the floor is 15."""
    assert not told["M 7"].is_up
    assert not told["M 7"].shows
    assert told["M 7"].next_nights == ()


def test_the_scarcest_get_their_next_two_dark_nights(told):
    nights = told["M 4"].next_nights
    assert len(nights) == 2
    assert WHERE.date <= nights[0] < nights[1]
    assert all(night.month in told["M 4"].months or night.month + 1 in told["M 4"].months for night in nights)


def test_a_smaller_telescope_under_a_bright_sky_puts_more_out_of_reach():
    town = replace(
        WHERE,
        site=HILL.model_copy(update={"sky_brightness": 18.0}),
        kit=KIT.model_copy(
            update={"telescope": Telescope(name="Small", aperture_mm=60, focal_length_mm=600)}
        ),
    )
    (faint,) = needs(open_sky(), town, [lookup("NGC 7479")])
    assert faint.is_up
    assert not faint.shows
    assert faint.word is Word.OUT


def test_nothing_left_needs_nothing():
    assert needs(open_sky(), WHERE, []) == []
