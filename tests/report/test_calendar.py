"""The iCalendar text holds to RFC 5545 whatever the site is called."""

import datetime as dt

import icalendar
from hypothesis import given
from hypothesis import strategies as st

from nightmode.model.site import Site
from nightmode.planning.ahead import NightAhead
from nightmode.report.calendar import calendar

MADE = dt.datetime(2026, 11, 25, 8, 0, tzinfo=dt.UTC)
DUSK = dt.datetime(2026, 12, 13, 17, 3, tzinfo=dt.UTC).timestamp()


def night(dark=((DUSK, DUSK + 36000),), moonless=()):
    return NightAhead(dt.date(2026, 12, 13), dark, moonless, -60.0, 0.2, None, DUSK, False)


def site(name="Garden"):
    return Site(name=name, latitude_deg=46.93, longitude_deg=14.62, timezone="Europe/Vienna")


NAMES = st.text(
    st.characters(exclude_categories=["Cc", "Cf", "Cs", "Zl", "Zp", "Co", "Cn"]), min_size=1, max_size=80
)


@given(NAMES.filter(str.strip))
def test_any_name_survives_the_way_through_the_file(name):
    place = site(name)
    text = calendar([night()], place, MADE)
    (event,) = icalendar.Calendar.from_ical(text.encode()).walk("VEVENT")
    assert str(event["location"]) == place.name
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))
    assert "\n" not in text.replace("\r\n", "")


def test_the_longest_moonless_stretch_is_the_event():
    moonless = ((DUSK, DUSK + 3600), (DUSK + 20000, DUSK + 30000))
    (event,) = icalendar.Calendar.from_ical(calendar([night(moonless=moonless)], site(), MADE)).walk("VEVENT")
    assert event.decoded("dtstart").timestamp() == DUSK + 20000
    assert event.decoded("dtend").timestamp() == DUSK + 30000


def test_a_night_without_darkness_is_an_event_of_its_day():
    (event,) = icalendar.Calendar.from_ical(calendar([night(dark=())], site(), MADE)).walk("VEVENT")
    assert event.decoded("dtstart") == dt.date(2026, 12, 13)
    assert event.decoded("dtend") == dt.date(2026, 12, 14)


def test_the_same_night_keeps_its_identity_and_other_nights_have_their_own():
    def identity(where, later=0):
        made = MADE + dt.timedelta(days=later)
        (event,) = icalendar.Calendar.from_ical(calendar([night()], where, made)).walk("VEVENT")
        return str(event["uid"])

    assert identity(site()) == identity(site(), later=3)
    assert identity(site()) != identity(site("Hill"))


def test_where_the_site_is_stays_out_of_the_calendar():
    text = calendar([night()], site(), MADE)
    assert "46.93" not in text
    assert "14.62" not in text
