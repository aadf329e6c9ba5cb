"""The hours in which somebody observes: nights, draft and check judge by them."""

import datetime as dt
import json
import re

import pytest

from nightmode.catalog.resolve import lookup
from nightmode.cli.main import main
from nightmode.files.toml import read_toml
from nightmode.model.kit import Eyepiece, Kit, Telescope
from nightmode.model.observer import Observer, Person
from nightmode.model.plan import Plan
from nightmode.model.site import Site
from nightmode.night.circumstances import Circumstances
from nightmode.planning.ahead import GoodFor, nights_ahead
from nightmode.planning.flags import DraftFlags, read_wishes
from nightmode.planning.moon_needs import feature_nights
from nightmode.sky.kernel import open_sky
from nightmode.sky.window import hours_of_night

SITE = Site(name="A", latitude_deg=48, longitude_deg=15, timezone="Europe/Vienna", sky_brightness=21.0)
NORTH = SITE.model_copy(update={"latitude_deg": 60.0})


@pytest.fixture
def observer(tmp_path):
    def write(hours, latitude=48):
        path = tmp_path / "observer.toml"
        flags = ("--site", "Field", "--latitude", str(latitude), "--longitude", "15", "--dark", "21")
        kit = ("--timezone", "Europe/Vienna", "--telescope", "t", "--aperture", "200", "--focal-length")
        more = ("1200", "--eyepieces", "30/68,10/60", "--hours", hours)
        assert main(["setup", "--observer", str(path), *flags, *kit, *more]) == 0
        return path

    return write


def test_hours_belong_to_the_night_of_their_evening():
    first, last = hours_of_night(SITE, dt.date(2026, 12, 12), "20:00-00:30")
    zone = SITE.zone
    assert first == dt.datetime(2026, 12, 12, 20, tzinfo=zone).timestamp()
    assert last == dt.datetime(2026, 12, 13, 0, 30, tzinfo=zone).timestamp()


def test_a_dark_hour_before_morning_is_no_deep_sky_night_for_who_is_in_bed():
    """17 December 2026, first quarter: dark without Moon only after midnight."""
    late = dt.date(2026, 12, 17)
    anybody = nights_ahead(open_sky(), SITE, late, 1)[0]
    in_bed = nights_ahead(open_sky(), SITE, late, 1, "19:00-23:00")[0]
    assert anybody.good_for is GoodFor.DEEP_SKY
    assert in_bed.good_for is GoodFor.MOON_AND_PLANETS
    assert in_bed.moonless_dark_hours < 0.5 < anybody.moonless_dark_hours


def test_the_table_says_that_only_the_hours_are_counted(observer, capsys):
    path = observer("20:00-23:00")
    capsys.readouterr()
    assert main(["nights", "--observer", str(path), "--from", "2026-12-10", "--days", "2"]) == 0
    told = capsys.readouterr().out
    assert "Counted in your hours alone: 20:00-23:00." in told
    assert "20:00-23:00     3.0     3.0" in told


def test_a_nautical_night_is_for_bright_objects():
    """60° N on 2 May: the Sun gets to -15°."""
    found = nights_ahead(open_sky(), NORTH, dt.date(2027, 5, 2), 1)[0]
    assert -18.0 < found.sun_lowest_deg < -12.0
    assert found.good_for is GoodFor.BRIGHT


def test_setup_asks_and_keeps_them(observer):
    path = observer("20:00-00:30")
    assert read_toml(path, Observer).observer.hours == "20:00-00:30"
    assert main(["setup", "--observer", str(path), "--hours", "all"]) == 0
    assert read_toml(path, Observer).observer.hours is None


@pytest.mark.parametrize("text", ["20", "20:00", "25:00-26:00", "23:00-22:00", "01:00-20:00"])
def test_hours_that_cannot_be_get_one_sentence(observer, capsys, text):
    path = observer("all")
    capsys.readouterr()
    assert main(["setup", "--observer", str(path), "--hours", text]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_check_leaves_out_what_is_up_after_bedtime_and_says_so(observer, tmp_path, capsys):
    plan = tmp_path / "plan.toml"
    plan.write_text('night = 2026-12-12\n[[target]]\nname = "M 13"\n[[target]]\nname = "M 31"\n')
    path = observer("19:00-23:00")
    capsys.readouterr()
    assert main(["check", str(plan), "--observer", str(path), "--json"]) == 0
    found = {one["name"]: one["verdict"] for one in json.loads(capsys.readouterr().out)["targets"]}
    assert found["M 31"]["word"] == "easy"
    assert found["M 13"]["word"] == "out of reach"
    assert "outside your hours" in found["M 13"]["reason"]


def test_a_draft_keeps_to_them(observer, tmp_path):
    plan = tmp_path / "drafted.toml"
    path = observer("20:00-22:00")
    assert main(["draft", "--observer", str(path), "--night", "2026-12-12", "-o", str(plan)]) == 0
    assert 10 <= len(read_toml(plan, Plan).target) <= 24
    assert "20:00 to 22:00" in plan.read_text(encoding="utf-8")


def test_midsummer_in_the_north_gives_a_shorter_list(observer, tmp_path):
    plan = tmp_path / "drafted.toml"
    path = observer("all", latitude=60)
    assert main(["draft", "--observer", str(path), "--night", "2027-06-20", "-o", str(plan)]) == 0
    assert 1 <= len(read_toml(plan, Plan).target) < 24


def test_a_year_and_its_verdicts_are_those_of_the_hours_alone(observer, capsys):
    """Jupiter is at opposition in the middle of February 2027 (ephem: 10 February): up at night from autumn
    on, in the evening only from then on.
    """
    path = observer("18:00-21:00")
    capsys.readouterr()
    assert main(["when", "Jupiter", "--year", "2027", "--observer", str(path)]) == 0
    told = capsys.readouterr().out
    assert "Counted in your hours alone: 18:00-21:00." in told
    assert "out of reach" not in told
    rows = {line[:3]: line for line in told.splitlines() if " 2027 " in line[:10]}
    assert "easy" in rows["Mar"]
    assert all("not up in the dark of your hours" in rows[month] for month in ("Oct", "Nov", "Dec"))
    assert max(int(line.split()[5]) for line in rows.values() if " h " in line) <= 31 * 3


def test_what_is_left_of_a_list_is_told_for_the_hours_alone(observer, capsys, tmp_path):
    """M 13 stands in the east of spring evenings, not of winter's."""
    mine = tmp_path / "mine.toml"
    mine.write_text('[[target]]\nname = "M 13"\n[[target]]\nname = "Gassendi"\n')
    left = {}
    for hours in ("all", "18:00-21:00"):
        path = observer(hours)
        capsys.readouterr()
        assert main(["tally", str(mine), "--json", "--observer", str(path)]) == 0
        left[hours] = {need["name"]: need for need in json.loads(capsys.readouterr().out)["rest"]}
    assert set(left["18:00-21:00"]["M 13"]["months"]) < set(left["all"]["M 13"]["months"])
    assert 1 in left["all"]["M 13"]["months"]
    assert 1 not in left["18:00-21:00"]["M 13"]["months"]


def test_the_nights_of_a_feature_of_the_moon_are_those_with_the_moon_up_in_the_hours():
    """The Moon at last quarter rises about midnight: who leaves at nine sees no evening light on Plato."""
    sky, first = open_sky(), dt.date(2027, 1, 23)  # the day after full Moon (ephem: 22 January, 12:17 UTC)
    kit = Kit(telescope=Telescope(name="t", aperture_mm=200, focal_length_mm=1200))
    at_any_hour, till_nine = (
        feature_nights(sky, Circumstances(first, SITE, kit, Person(hours=hours)), [lookup("Plato")])
        for hours in (None, "18:00-21:00")
    )
    assert at_any_hour
    assert till_nine == []


def test_sheet_and_spoken_night_keep_to_the_hours(observer, capsys, tmp_path):
    path, plan = observer("18:00-21:00"), tmp_path / "plan.toml"
    names = ("Saturn", "M 31", "M 45", "M 42", "NGC 869", "M 15", "Almach", "M 13")
    plan.write_text("night = 2026-12-12\n" + "".join(f'[[target]]\nname = "{name}"\n' for name in names))
    capsys.readouterr()
    assert main(["sheet", str(plan), "--observer", str(path)]) == 0
    sheet = capsys.readouterr().out
    assert set(re.findall(r"(\d\d)h ", sheet)) == {"18", "19", "20", "21"}
    best = re.findall(r"best .* at (\d\d:\d\d)", sheet)
    assert best
    assert sum("18:00" <= at <= "21:00" for at in best) >= len(best) - 1  # M 13 sets before
    assert main(["say", str(plan), "--text", "--observer", str(path)]) == 0
    told = capsys.readouterr().out.splitlines()
    turns = {
        name: told[: told.index(f"{name}.")] for name in ("Saturn", "M 45", "Almach") if f"{name}." in told
    }
    assert set(turns) == {"Saturn", "M 45", "Almach"}
    for before in turns.values():
        (hour,) = [line.split()[1] for line in reversed(before) if line.startswith("At ")][:1]
        assert hour.rstrip(".") in ("eighteen", "nineteen", "twenty")


def test_a_draft_of_the_night_that_goes_on_begins_now():
    """Half an hour after midnight nothing is drafted for the evening; by day, and near dawn, as ever."""
    where = Circumstances(
        dt.date(2026, 12, 12),
        SITE,
        Kit(
            telescope=Telescope(name="t", aperture_mm=200, focal_length_mm=1200),
            eyepieces=(Eyepiece(name="10 mm", focal_length_mm=10),),
        ),
        Person(),
    )
    asked = DraftFlags(count="6")
    evening = read_wishes(open_sky(), where, asked)
    for hour, begins in ((15, None), (24.5, 24.5), (30.8, None), (40, None)):
        now_s = dt.datetime(2026, 12, 12, tzinfo=SITE.zone).timestamp() + hour * 3600.0
        found = read_wishes(open_sky(), where, asked, since_s=now_s)
        assert found.start_s == (evening.start_s if begins is None else now_s)
        assert found.end_s - found.start_s >= 3600.0


def test_the_table_of_what_fits_says_that_it_judges_within_the_hours(observer, capsys, tmp_path):
    plan = tmp_path / "plan.toml"
    plan.write_text('night = 2026-12-12\n[[target]]\nname = "M 45"\n')
    for hours, is_told in (("18:00-21:00", True), ("all", False)):
        path = observer(hours)
        capsys.readouterr()
        assert main(["check", str(plan), "--observer", str(path)]) == 0
        assert ("Judged within your hours alone: 18:00-21:00." in capsys.readouterr().out) is is_told


def test_the_table_tells_and_orders_the_stretches_of_the_hours(observer, capsys, tmp_path):
    """Mizar turns round the pole: it sinks below the floor at dusk, and is up again before ten."""
    path, plan = observer("20:00-23:30"), tmp_path / "plan.toml"
    plan.write_text('night = 2026-12-10\n[[target]]\nname = "Mizar"\n[[target]]\nname = "M 15"\n')
    capsys.readouterr()
    assert main(["check", str(plan), "--observer", str(path)]) == 0
    rows = re.findall(r"^(Mizar|M 15) +(\d\d):\d\d-\d\d:\d\d", capsys.readouterr().out, re.MULTILINE)
    assert rows == [("M 15", "17"), ("Mizar", "21")]


def test_an_evening_on_the_moon_keeps_to_the_hours(observer, tmp_path):
    """Two days before first quarter the Moon is up from dusk on; who comes at six drafts from six on."""
    path, plan = observer("18:00-21:00"), tmp_path / "moon.toml"
    flags = ("--night", "2026-12-15", "--kinds", "moon", "--count", "6", "-o", str(plan))
    assert main(["draft", *flags, "--observer", str(path)]) == 0
    turns = re.findall(r"about (\d\d:\d\d) at", plan.read_text())
    assert len(turns) == 6
    assert all("18:00" <= turn < "21:00" for turn in turns)


def test_a_feature_that_is_up_in_the_hours_but_out_of_its_light_is_not_told_to_be_down(
    observer, tmp_path, capsys
):
    """Two days before first quarter the Moon is up all evening; the Sun rose on Theophilus days before."""
    path, plan = observer("18:00-21:00"), tmp_path / "moon.toml"
    plan.write_text('night = 2026-12-15\n[[target]]\nname = "Theophilus"\n')
    capsys.readouterr()
    assert main(["check", str(plan), "--observer", str(path)]) == 0
    told = capsys.readouterr().out
    assert re.search(r"Theophilus +good light until 17:\d\d, outside your hours ", told)


def test_hours_in_daylight_or_twilight_are_no_night_for_the_moon():
    """By PyEphem, in UTC: on 15 June sunset at 19:01, on 15 October the Sun at -18 degrees at 17:55."""
    june, october = (
        nights_ahead(open_sky(), SITE, dt.date(2027, month, 15), 1, "18:00-20:30")[0] for month in (6, 10)
    )
    assert june.good_for is GoodFor.NO_DARKNESS
    assert june.sun_lowest_deg > 0
    assert october.sun_lowest_deg < -18
    assert october.good_for is not GoodFor.NO_DARKNESS
