"""The words for a night in which the clock is changed. The dates are the laws' (IANA time zone database)."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest

from nightmode.wording.zones import clock_change


@pytest.mark.parametrize(
    ("zone", "evening", "expected"),
    [
        ("Europe/Vienna", "2026-10-24", "the clock goes back from 03:00 to 02:00"),
        ("Europe/Vienna", "2027-03-27", "the clock goes on from 02:00 to 03:00"),
        ("Australia/Adelaide", "2027-04-03", "the clock goes back from 03:00 to 02:00"),
        ("Australia/Lord_Howe", "2027-04-03", "the clock goes back from 02:00 to 01:30"),
        ("America/Havana", "2026-10-31", "the clock goes back from 01:00 to 00:00"),
        ("Europe/Vienna", "2026-10-25", None),
        ("Asia/Kolkata", "2027-03-27", None),
    ],
)
def test_a_night_tells_of_its_change_of_the_clock(zone, evening, expected):
    place, date = ZoneInfo(zone), dt.date.fromisoformat(evening)
    noon, next_noon = (
        dt.datetime.combine(date + dt.timedelta(days=days), dt.time(12), place).timestamp() for days in (0, 1)
    )
    assert clock_change(noon, next_noon, place) == expected
