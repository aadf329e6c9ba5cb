"""Clocks that are set, change to summer time, or are of another zone: order, lengths, record stay right."""

import datetime as dt
import time

import pytest
from program.answers import answer
from turns import rarely

from nightmode.app import clock as clocks
from nightmode.app.clock import Clock
from nightmode.cli.main import main
from nightmode.session.journal import read

PLAN = """title = "Clock change"
night = {night}
site = {{ name = "Hill", latitude_deg = 47.1, longitude_deg = 15.4, timezone = "{zone}" }}
telescope = {{ name = "Tube", aperture_mm = 200, focal_length_mm = 1200 }}
eyepiece = [{{ name = "Wide 25", focal_length_mm = 25 }}]
[[target]]
name = "M 81"
[[target]]
name = "M 82"
[[target]]
name = "NGC 457"
[[target]]
name = "NGC 884"
"""


class SystemTime:
    """The two clocks of a computer: one that people set, one that only runs."""

    CLOCK_BOOTTIME = 7

    def __init__(self, now_s):
        self.set_s, self.steady_s = now_s, 5000.0

    def time(self):
        return self.set_s

    def clock_gettime(self, which):
        assert which == self.CLOCK_BOOTTIME
        return self.steady_s

    def monotonic(self):
        return self.steady_s

    def run(self, seconds):
        self.set_s += seconds
        self.steady_s += seconds


@pytest.fixture
def four(tmp_path):
    """The file of a plan of four targets that are up all night."""
    plan = tmp_path / "plan.toml"
    plan.write_text(PLAN.format(night="2026-12-13", zone="Europe/Vienna"))
    return plan


@pytest.fixture
def at_nine():
    return dt.datetime.fromisoformat("2026-12-13T21:00:00+01:00").timestamp()


@pytest.fixture
def system(monkeypatch, at_nine):
    made = SystemTime(at_nine)
    monkeypatch.setattr(clocks, "time", made)
    return made


@pytest.mark.parametrize(
    ("jump_s", "words"),
    [(-7200, "set back by 2 h 00 min"), (5400, "set forward by 1 h 30 min"), (-20, "set back by 20 s")],
)
async def test_a_clock_that_is_set_changes_neither_order_nor_lengths(
    walk, four, tmp_path, system, jump_s, words
):
    async with walk(four, tmp_path / "session.toml", Clock()) as night:
        await night.press("space")
        system.run(300)
        system.set_s += jump_s
        night.app._walk.follow()
        assert words in night.told
        await night.press("s")
        system.run(60)
        await night.press("x")
    first, second, third = (entry.at for entry in read(tmp_path / "session.toml").entries[:3])
    assert ((second - first).total_seconds(), (third - second).total_seconds()) == (300, 60)


def test_a_clock_that_runs_on_is_not_called_set(system):
    clock = Clock()
    for _ in range(3000):
        system.run(10)
        assert clock.jump_s() == 0.0
    system.set_s += 3600
    assert clock.jump_s() == pytest.approx(3600)
    assert clock.jump_s() == 0.0


def test_where_the_steady_clock_sleeps_with_the_laptop_sleep_is_followed(monkeypatch, at_nine):
    system = SystemTime(at_nine)
    monkeypatch.delattr(SystemTime, "CLOCK_BOOTTIME")
    monkeypatch.setattr(clocks, "time", system)
    clock = Clock()
    system.set_s += 3600
    assert clock.jump_s() == 0.0
    assert clock.now_s() == pytest.approx(at_nine + 3600)
    system.set_s -= 1800
    assert clock.jump_s() == pytest.approx(-1800)
    assert clock.now_s() == pytest.approx(at_nine + 3600)


async def test_going_on_with_a_clock_behind_the_last_entry_says_so(walk, four, tmp_path, system):
    journal = tmp_path / "session.toml"
    async with walk(four, journal, Clock(), rehearsal=False) as night:
        await night.press("space")
    system.set_s -= 5400
    async with walk(four, journal, Clock(), rehearsal=False) as night:
        assert "clock is 1 h 30 min before the last entry" in night.words
        await night.press("s")
    outcomes = [entry.outcome.value for entry in read(journal).entries if entry.outcome]
    assert outcomes == ["seen", "suspected"]


@pytest.mark.parametrize(
    ("night", "first", "minutes", "clocks_shown", "offsets_h"),
    [
        (dt.date(2027, 3, 27), "2027-03-28T00:58:00Z", 4, ("01:58", "03:02"), (1, 2)),
        (dt.date(2026, 10, 24), "2026-10-25T00:58:00Z", 4, ("02:58", "02:02"), (2, 1)),
    ],
)
async def test_a_change_of_clocks_in_the_night(
    walk, tmp_path, set_clock, night, first, minutes, clocks_shown, offsets_h
):
    plan, journal = tmp_path / "plan.toml", tmp_path / "session.toml"
    plan.write_text(PLAN.format(night=night, zone="Europe/Vienna"))
    clock = set_clock(dt.datetime.fromisoformat(first).timestamp())
    async with walk(plan, journal, clock) as walking:
        assert clocks_shown[0] in walking.rows[0]
        await walking.press("space")
        clock.set_s += minutes * 60
        walking.app.screen.draw()
        assert clocks_shown[1] in walking.rows[0]
        assert f"eyes {minutes} min" in walking.rows[0]
        await walking.press("s", "u", "x")
    async with walk(plan, journal, clock) as walking:
        assert (
            f"going on: 2 done, last {read(journal).entries[3].target} at {clocks_shown[1]}" in walking.words
        )
    entries = read(journal).entries
    assert [entry.at.utcoffset() / dt.timedelta(hours=1) for entry in entries[:2]] == list(offsets_h)
    assert (entries[1].at - entries[0].at) == dt.timedelta(minutes=minutes)
    assert [entry.at for entry in entries] == sorted(entry.at for entry in entries)


@pytest.mark.parametrize(
    "zone", ["Europe/Wien", "", "../../etc/passwd", "Mars/Base", "UTC+1", "/etc/localtime"]
)
def test_an_unknown_time_zone_is_one_sentence(tmp_path, capsys, zone):
    plan = tmp_path / "plan.toml"
    plan.write_text(PLAN.format(night="2027-01-09", zone=zone))
    assert main(["check", str(plan)]) == 2
    out, error = capsys.readouterr()
    assert out == ""
    assert "timezone" in error
    assert error.count("\n") == 1


ZONES = ("UTC", "Asia/Tokyo", "America/Los_Angeles", "Pacific/Kiritimati")
FAR_APART = ZONES[-2:]


@pytest.fixture
def set_to(monkeypatch):
    """Return a function that sets the laptop to a zone."""

    def to(zone):
        monkeypatch.setenv("TZ", zone)
        time.tzset()

    yield to
    monkeypatch.undo()
    time.tzset()


def test_a_laptop_set_to_another_zone_reads_the_same(set_to, four):
    for flags in (["--json", "--at", "21:00"], ["--at", "2026-12-13T21:00"]):
        said = set()
        for zone in FAR_APART:
            set_to(zone)
            got = answer(["check", str(four), *flags])
            assert got.code == 0
            said.add(got.out)
        assert len(said) == 1
        assert "M 81" in said.pop()


@pytest.mark.parametrize("zones", [FAR_APART, rarely(ZONES)], ids=["far apart", "all"])
async def test_a_laptop_set_to_another_zone_shows_and_records_the_same(
    walk, four, tmp_path, set_clock, at_nine, set_to, zones
):
    shown, recorded = set(), set()
    for number, zone in enumerate(zones):
        set_to(zone)
        journal = tmp_path / f"{number}.toml"
        async with walk(four, journal, set_clock(at_nine)) as night:
            await night.press("space", "n", "a", "enter")
            shown.add(night.text)
            await night.press("l")
            while "in order of setting" not in night.text:
                await night.press()
            shown.add(night.text)
        recorded.add(journal.read_text())
    assert len(shown) == 2
    assert len(recorded) == 1
    assert "21:00:00+01:00" in recorded.pop()
