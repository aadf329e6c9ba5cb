"""The words with which a session begins."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest

from nightmode.wording.going_on import clock_change_text


@pytest.mark.parametrize(
    ("zone", "evening", "told"),
    [
        # Directive 2000/84/EC: the last Sundays of March and October, at 1:00 UTC.
        ("Europe/Vienna", dt.datetime(2027, 3, 27, 18), "02:00 becomes 03:00 tonight"),
        ("Europe/Vienna", dt.datetime(2027, 10, 30, 18), "03:00 becomes 02:00 tonight"),
        ("Europe/Vienna", dt.datetime(2027, 3, 26, 18), ""),
        # Half an hour at Lord Howe Island, on the first Sunday of October at 2:00 (IANA time zone database).
        ("Australia/Lord_Howe", dt.datetime(2027, 10, 2, 19), "02:00 becomes 02:30 tonight"),
    ],
)
def test_a_night_in_which_the_clocks_change_says_so(zone, evening, told):
    site = ZoneInfo(zone)
    start_s = evening.replace(tzinfo=site).timestamp()
    assert clock_change_text(site, start_s, start_s + 12 * 3600).endswith(told)
    assert bool(told) is bool(clock_change_text(site, start_s, start_s + 12 * 3600))


def test_once_the_clocks_have_changed_nothing_is_said_of_it():
    site = ZoneInfo("Europe/Vienna")
    after_s = dt.datetime(2027, 3, 28, 1, 0, 0, tzinfo=dt.UTC).timestamp()
    assert clock_change_text(site, after_s, after_s + 3600) == ""
