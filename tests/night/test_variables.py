"""Variable stars on a night: eclipses become moments, verdicts follow the expected light."""

import datetime as dt
from math import inf

import pytest

from nightmode.model.sight import Sight
from nightmode.night.loading import load_night
from nightmode.night.next_fit import next_fits
from nightmode.night.telling import happenings
from nightmode.night.verdict import verdict_at, verdicts
from nightmode.sky.kernel import open_sky
from nightmode.walk.order import queue
from nightmode.walk.state import State
from nightmode.wording.planets import moment_line
from nightmode.wording.variables import how_sure, instant_text, light_text
from nightmode.words import Word

PLAN = """\
site = { name = "Here", latitude_deg = 48.0, longitude_deg = 11.0, sky_brightness = 20.5, timezone = "UTC" }
telescope = { name = "100 mm", aperture_mm = 100, focal_length_mm = 600 }
eyepiece = [{ name = "25 mm", focal_length_mm = 25 }]
"""


@pytest.fixture
def opened(tmp_path):
    def load(date, *names):
        tables = "".join(f'[[target]]\nname = "{name}"\n' for name in names)
        (tmp_path / "plan.toml").write_text(f"night = {date}\n{PLAN}{tables}")
        (tmp_path / "observer.toml").write_text("")
        return load_night(tmp_path / "plan.toml", tmp_path / "observer.toml", None, 0.0).night

    return load


def at(*when):
    return dt.datetime(*when, tzinfo=dt.UTC).timestamp()


# Algol's cycle 5489 by its printed elements, HJD 2445641.492 + 2.867342 E: 2461380.332, 19h58 Universal Time
# at the Sun; the Earth is 7.3 light minutes nearer on that day (Algol: ecliptic longitude 56°, latitude 22°;
# Sun in 253°): 0.985 au x 8.317 min x cos 22.4° x cos 16.8°.
ALGOL_S = at(2026, 12, 5, 19, 58) - 7.3 * 60


def test_an_eclipse_of_algol_is_a_moment_of_the_night(opened):
    (algol,) = opened("2026-12-05", "Algol").targets
    (moment,) = algol.moments
    assert moment.sight is Sight.STAR_ECLIPSE
    assert moment.deepest_s == pytest.approx(ALGOL_S, abs=90)
    assert moment.ends_s - moment.begins_s == pytest.approx(9.63 * 3600, abs=60)  # GCVS: 14 % of the period
    assert 30 * 60 < moment.error_s < 60 * 60


def test_the_eclipse_brings_the_star_to_the_front_ten_minutes_ahead(opened):
    night = opened("2026-12-05", "Algol", "M 15", "Deneb", "M 31")
    first = [queue(night.chances, State(), ALGOL_S + minutes * 60)[0] == 0 for minutes in (-30, -5, 15, 40)]
    assert first == [False, True, True, False]


@pytest.mark.parametrize("date", ["2026-12-04", "2026-12-06"])
def test_on_the_nights_beside_it_there_is_none(opened, date):
    (algol,) = opened(date, "Algol").targets
    assert algol.moments == ()


def test_an_eclipse_that_is_not_foreseen_is_no_moment(opened):
    for date in ("2026-12-05", "2026-12-06", "2026-12-07", "2026-12-08"):  # a whole period of Lambda Tauri
        (star,) = opened(date, "Lambda Tau").targets
        assert star.moments == ()


def test_the_verdict_follows_the_light_through_an_eclipse(opened):
    night = opened("2026-12-07", "U Cep")
    (moment,) = night.targets[0].moments
    deep, before = (verdict_at(night, 0, at_s).margin_dex for at_s in (moment.deepest_s, moment.begins_s))
    assert before - deep == pytest.approx(0.4 * (9.24 - 6.75), abs=0.1)


def test_a_mira_near_minimum_is_judged_by_the_light_of_the_night(opened):
    # Chi Cygni: at maximum in September 2016 and every 408 days, by mean extremes 5.2 and 13.4.
    faint, bright = opened("2027-06-05", "Chi Cyg"), opened("2026-10-10", "Chi Cyg")
    assert faint.targets[0].subject.magnitude > 11
    assert bright.targets[0].subject.magnitude < 5.5
    assert verdicts(faint)[0].word is not Word.EASY
    assert verdicts(bright)[0].word is Word.EASY


def test_a_star_too_faint_tonight_is_not_promised_for_tomorrow(opened):
    night = opened("2026-12-06", "U Gem")  # 14.9 between outbursts, far beyond 100 mm
    assert verdicts(night)[0].word is Word.OUT
    assert next_fits(open_sky(), night, [0]) == {0: None}


@pytest.mark.parametrize(
    ("name", "told", "coming"),
    [
        ("Algol", "eclipsing, EA/SD, 2.1 to 3.4", "± 40 min"),
        ("Delta Cep", "Cepheid, DCEP, 3.5 to 4.4", "± 90 min"),
        ("Mira", "Mira star, M, 2.0 to 10.1; about", "Feb ± 3 weeks"),
        ("Betelgeuse", "semi-regular, SRC, 0.0 to 1.3", "ups and downs cannot be foreseen"),
        ("R CrB", "R Coronae Borealis star, RCB, 5.7 to 14.8", "fadings cannot be foreseen"),
        ("SS Cyg", "dwarf nova, UGSS, 7.7 to 12.4", "outbursts cannot be foreseen"),
        ("Lambda Tau", "eclipsing, EA/DM, 3.4 to 3.9", "time not known any more: elements of 1917"),
    ],
)
def test_a_variable_star_tells_its_class_its_range_and_how_sure_it_is(opened, name, told, coming):
    night = opened("2026-12-04", name)
    tonight, now_s = night.targets[0].variable, at(2026, 12, 4, 20, 0)
    assert light_text(tonight, now_s).startswith(told)
    assert instant_text(tonight, now_s, night.site.zone).endswith(coming)


def test_the_line_of_an_eclipse_names_the_star(opened):
    night = opened("2026-12-05", "Beta Per")
    (moment,) = night.targets[0].moments
    assert moment_line(moment, -inf, night.site.zone) == "19:51 ± 40 min Beta Per at its faintest"


@pytest.mark.parametrize(
    ("seconds", "words"),
    [(0, "10 min"), (600, "10 min"), (2297, "40 min"), (5400, "90 min"), (5401, "2 h"), (129600, "36 h"),
     (129601, "2 days"), (86400 * 13, "13 days"), (86400 * 14, "2 weeks"), (86400 * 36, "6 weeks")],
)  # fmt: skip
def test_an_uncertainty_is_never_told_smaller_than_it_is(seconds, words):
    assert how_sure(seconds) == words


def test_a_voice_tells_an_eclipse_ten_minutes_ahead_with_the_stars_name(opened):
    night = opened("2026-12-05", "Algol")
    told = happenings(night, ALGOL_S - 720, ALGOL_S - 480)
    assert [one.sentence for one in told] == ["Algol, in about ten minutes: at its faintest."]
