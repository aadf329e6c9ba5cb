"""What the commands tell of variable stars."""

import datetime as dt

import pytest

NAMES = ["Algol", "Mira", "Betelgeuse", "Lambda Tau"]


def told(command, plan, name):
    targets = command.json("check", plan(NAMES, night="2026-12-05"))["targets"]
    return next(target for target in targets if target["name"] == name)


def test_check_tells_an_eclipse_of_the_night_as_data(command, plan):
    algol = told(command, plan, "Algol")
    (eclipse,) = algol["moments"]
    # By hand, see tests/night/test_variables.py: 19h51 Universal Time.
    off = dt.datetime.fromisoformat(eclipse["faintest"]) - dt.datetime(2026, 12, 5, 19, 51, tzinfo=dt.UTC)
    assert abs(off) < dt.timedelta(minutes=2)
    assert 30 <= eclipse["error_minutes"] <= 60
    assert algol["kind"] == "variable star"
    assert algol["variable"]["period_days"] == pytest.approx(2.8673, abs=1e-4)


def test_check_tells_phase_and_light_of_what_is_foreseen_and_null_of_all_else(command, plan):
    mira, betelgeuse = (told(command, plan, name)["variable"] for name in ("Mira", "Betelgeuse"))
    assert 0.0 <= mira["phase"] < 1.0
    assert mira["brightest_mag"] < mira["expected_mag"] < mira["faintest_mag"]
    assert {betelgeuse[key] for key in ("phase", "expected_mag", "next", "error_minutes")} == {None}


def test_the_table_of_check_keeps_to_80_columns_and_tells_how_sure_it_is(command, plan):
    lines = command("check", plan(NAMES, night="2026-12-05")).splitlines()
    assert max(map(len, lines)) <= 80
    (algol,) = (line for line in lines if line.startswith("Algol") and "±" in line)
    assert algol.split(";")[-1].strip() == "faintest 20:51 ± 40 min"


def test_a_minimum_after_midnight_is_told_with_its_date(command, plan):
    # One period of 2.8673 days (GCVS) before the minimum above, at 0:02 in Vienna.
    told = command("check", plan(["Algol"], night="2026-12-02"))
    assert "faintest 3 Dec 00:02 ± 40 min" in told


def test_the_sheet_tells_what_to_expect(command, plan, tmp_path):
    command("sheet", plan(NAMES, night="2026-12-05"), "-o", tmp_path / "sheet.html")
    page = (tmp_path / "sheet.html").read_text()
    assert "faintest 20:51 ± 40 min; eclipse 16:02-01:40" in page
    assert "ups and downs cannot be foreseen" in page


def test_when_tells_the_expected_magnitude_of_a_long_period_star_month_by_month(command, plan):
    # A plan is a list as well; one of two stars, one of which no light can be expected of.
    told = command.json("when", plan(["Mira", "Betelgeuse"]), "--year", "2027")
    assert [target["name"] for target in told["targets"]] == ["Mira", "Betelgeuse"]
    mira, betelgeuse = ([one.get("expected_mag") for one in target["months"]] for target in told["targets"])
    assert betelgeuse == [None] * 12
    # Brightest at the end of February (mid-September 2011 and seventeen periods of 331.96 days), faintest
    # 62 % of a period later.
    assert mira.index(min(mira)) in (1, 2)
    assert mira.index(max(mira)) in (7, 8, 9)
