"""Which nights of a lunation show what is left on the Moon."""

import datetime as dt
import math

import ephem

from nightmode.catalog.resolve import lookup
from nightmode.model.kit import Kit, Telescope
from nightmode.model.observer import Person
from nightmode.model.site import Site
from nightmode.night.circumstances import Circumstances
from nightmode.planning.moon_needs import feature_nights
from nightmode.sky.kernel import open_sky

HILL = Site(name="Hill", latitude_deg=47.1, longitude_deg=15.4, timezone="Europe/Vienna")
KIT = Kit(telescope=Telescope(name="Tube", aperture_mm=200, focal_length_mm=1200))
#: The day after a new Moon (2027-01-07 20:24 UTC by PyEphem), so that the whole lunation lies ahead.
WHERE = Circumstances(dt.date(2027, 1, 8), HILL, KIT, Person())
NAMES = ("Rupes Recta", "Plato", "Copernicus", "Langrenus")


def test_each_night_says_what_it_shows_and_what_only_it_shows():
    nights = feature_nights(open_sky(), WHERE, [lookup(name) for name in (*NAMES, "M 31", "Saturn")])
    assert [one.night for one in nights] == sorted({one.night for one in nights})
    for name in NAMES:
        with_it = [one for one in nights if name in one.names]
        assert with_it
        assert all((name in one.only) == (len(with_it) == 1) for one in with_it)
    assert {name for one in nights for name in one.names} <= set(NAMES)


def test_the_straight_wall_is_shown_on_the_nights_that_another_reckoning_finds():
    """PyEphem's colongitude and subsolar latitude give the Sun's height over it (Meeus 1998, Astronomical
    Algorithms, ch. 53); its light is 0.5 to 15 degrees of Sun, with the Moon 15 degrees high or more.
    """
    wall = lookup("Rupes Recta")
    found = [one.night for one in feature_nights(open_sky(), WHERE, [wall])]
    assert found == [night for night in nights_until(dt.date(2027, 2, 6)) if shows(wall, night)]
    assert len(found) == 3  # under the morning light, and twice under the evening light


def nights_until(last):
    return [WHERE.date + dt.timedelta(days=number) for number in range((last - WHERE.date).days)]


def shows(feature, night):
    place, moon, sun = ephem.Observer(), ephem.Moon(), ephem.Sun()
    place.lat, place.lon = "47.1", "15.4"
    noon = ephem.Date(f"{night} 11:00")
    for quarters in range(4 * 24):
        place.date = noon + quarters / 96
        moon.compute(place)
        sun.compute(place)
        latitude, longitude = math.radians(feature.latitude_deg), math.radians(feature.longitude_deg)
        sunrise = math.sin(moon.colong + longitude)
        sine = math.sin(latitude) * math.sin(moon.subsolar_lat)
        sine += math.cos(latitude) * math.cos(moon.subsolar_lat) * sunrise
        is_up = math.degrees(moon.alt) > 15.2 and math.degrees(sun.alt) < -6.5
        if is_up and 0.8 < math.degrees(math.asin(sine)) < 14.7:
            return True
    return False


def test_all_of_them_lie_before_the_next_new_moon():
    nights = feature_nights(open_sky(), WHERE, [lookup(name) for name in NAMES])
    new = ephem.next_new_moon("2027-01-09").datetime().date()
    assert all(WHERE.date <= one.night <= new for one in nights)


def test_without_features_there_are_no_nights():
    assert feature_nights(open_sky(), WHERE, [lookup("M 31")]) == []
