import datetime as dt

import pytest
from pydantic import ValidationError
from rows import rows

from nightmode.model.kit import Finder, Telescope, View
from nightmode.model.observer import Observer
from nightmode.model.plan import Plan
from nightmode.model.session import Entry, Head
from nightmode.model.site import Site
from nightmode.model.target import Target
from nightmode.model.theme import Theme
from nightmode.words import Word

HILL = {"name": "Hill", "latitude_deg": 47.0, "longitude_deg": 15.0}
TELESCOPE = {"name": "Tube", "aperture_mm": 200, "focal_length_mm": 1200}
TARGETS = ({"name": "M 13"},)
HEAD = {"plan": "P", "digest": "0" * 8, "night": dt.date(2027, 1, 9), "site": "Hill", "telescope": "Tube"}
AT = dt.datetime(2027, 1, 9, 18, 4, tzinfo=dt.UTC)


def test_models_are_frozen_and_refuse_unknown_keys():
    site = Site(**HILL)
    with pytest.raises(ValidationError):
        site.latitude_deg = 3.0
    with pytest.raises(ValidationError, match="height"):
        Site(**HILL, height=3)


@rows(
    "key, value",
    [
        ("latitude_deg", 90.01),
        ("latitude_deg", float("nan")),
        ("longitude_deg", float("inf")),
        ("longitude_deg", -180.5),
        ("elevation_m", 9000),
        ("bortle", 0),
        ("bortle", 4.5),
        ("bortle", True),
        ("sky_brightness", 25),
        ("extinction", 0),
        ("timezone", "Mars/Olympus"),
        ("timezone", "../../etc/passwd"),
        ("timezone", ""),
        ("timezone", "Europe"),
        ("horizon", ((0.0, 95.0),)),
        ("horizon", ((0.0,),)),
    ],
)
def test_a_site_with_an_impossible_value_is_refused(key, value):
    with pytest.raises(ValidationError):
        Site(**{**HILL, key: value})


def test_a_site_says_how_dark_it_is_in_one_way_only():
    assert Site(**HILL, bortle=4).bortle == 4
    with pytest.raises(ValidationError, match="keep one"):
        Site(**HILL, bortle=4, sky_brightness=21.0)


def test_a_telescope_cannot_be_all_obstruction():
    assert Telescope(**TELESCOPE, obstruction_mm=60).obstruction_mm == 60
    with pytest.raises(ValidationError, match="obstruction_mm"):
        Telescope(**TELESCOPE, obstruction_mm=200)


def test_the_circles_of_a_sight_have_a_width():
    assert Finder(name="Sight", kind="bullseye", rings_deg=(0.5, 2.0, 4.0)).rings_deg[0] == 0.5
    with pytest.raises(ValidationError):
        Finder(name="Sight", kind="bullseye", rings_deg=(-1.0,))


def test_a_plan_names_its_site_or_holds_it():
    assert Plan(target=TARGETS, site="Hill").site == "Hill"
    assert Plan(target=TARGETS, site=HILL).site == Site(**HILL)
    assert Plan(target=TARGETS, telescope=TELESCOPE).telescope == Telescope(**TELESCOPE)
    assert Plan(target=TARGETS).site is None


def test_an_error_in_an_inline_site_speaks_of_the_site_alone():
    with pytest.raises(ValidationError) as caught:
        Plan(target=TARGETS, site={**HILL, "latitude_deg": 100})
    assert [error["type"] for error in caught.value.errors()] == ["less_than_equal"]


def test_a_plan_can_be_dumped_and_built_again():
    plan = Plan(target=TARGETS, site=HILL, telescope="Tube", night=dt.date(2027, 1, 9))
    assert Plan.model_validate(plan.model_dump()) == plan


def test_a_plan_without_targets_or_with_one_twice_is_refused():
    with pytest.raises(ValidationError, match="holds no target"):
        Plan()
    with pytest.raises(ValidationError, match="target 1 and target 3"):
        Plan(target=({"name": "M 13"}, {"name": "M 31"}, {"name": "m 13"}))


def test_all_targets_that_a_plan_has_twice_are_told_at_once():
    names = [
        "M 13",
        "M 31",
        "m13",
        "M31",
        *(f"NGC {n}" for n in range(1, 10)),
        *(f"ngc{n}" for n in range(1, 7)),
    ]
    with pytest.raises(ValidationError, match="m13") as refused:
        Plan(target=tuple({"name": name} for name in names))
    told = str(refused.value)
    assert (
        'has "m13" twice, as target 1 and target 3; keep one (and see target 4 (M31), target 14 (ngc1),'
        in told
    )
    assert "and 2 more)" in told


def test_a_plan_may_hold_the_whole_catalogue():
    targets = tuple({"name": f"NGC {n}"} for n in range(1, 14_001))
    assert len(Plan(target=targets).target) == 14_000


def test_two_things_of_one_sort_have_two_names():
    with pytest.raises(ValidationError, match="site 1 and site 2"):
        Observer(site=(HILL, {**HILL, "latitude_deg": 48.0}))


def test_an_empty_observer_file_gives_usable_defaults():
    observer = Observer()
    assert observer.observer.phrases[0] == "bright"
    assert 2 <= observer.observer.pupil_mm <= 9


def test_a_position_without_a_kind_is_refused():
    with pytest.raises(ValidationError, match="add kind"):
        Target(name="Something", position="1h2m3s +4d5m6s")


@pytest.mark.parametrize("night", [dt.date(1850, 1, 1), dt.date(2060, 1, 1), "2027-01-09"])
def test_nights_outside_the_ephemeris_are_refused(night):
    with pytest.raises(ValidationError):
        Plan(target=TARGETS, night=night)


@pytest.mark.parametrize(
    "at",
    [AT.replace(tzinfo=None), dt.datetime(1, 1, 1, tzinfo=dt.UTC), dt.datetime(9999, 1, 1, tzinfo=dt.UTC)],
)
def test_an_entry_has_an_instant_that_every_zone_can_show(at):
    with pytest.raises(ValidationError):
        Entry(at=at, event="tick")


def test_an_entry_takes_words_and_gives_them_back():
    entry = Entry(at=AT, event="tick", target="M 13", outcome="not seen", seeing="III", note="a\nb")
    assert (entry.outcome, entry.note) == ("not seen", "a b")
    for bad in ({"outcome": "maybe"}, {"seeing": "VI"}, {"altitude_deg": 91}, {"event": "nap"}):
        with pytest.raises(ValidationError):
            Entry(**{"at": AT, "event": "tick", **bad})


def test_a_record_from_a_zone_this_machine_does_not_know_stays_legible():
    assert Head(**HEAD, timezone="Europe/Vienna").zone.key == "Europe/Vienna"
    assert Head(**HEAD, timezone="Mars/Olympus").zone.key == "UTC"


RED = {"strong": 170, "text": 120, "faint": 60, "line": 35, "alert": 220}


@rows("wrong", [{"text": 180}, {"line": 256}, {"faint": -1}, {"line": 35.5}, {"green": 10}])
def test_a_theme_is_rising_levels_of_red_and_nothing_else(wrong):
    assert Theme(name="ember", red=RED).red.text == 120
    with pytest.raises(ValidationError):
        Theme(name="ember", red={**RED, **wrong})


def test_a_theme_too_dark_to_read_is_refused():
    with pytest.raises(ValidationError, match="too dark"):
        Theme(name="night", red={"strong": 60, "text": 50, "faint": 20, "line": 10, "alert": 70})


@rows(
    "part, shows",
    [
        (Telescope(**TELESCOPE), View.MIRRORED),
        (Telescope(**TELESCOPE, obstruction_mm=50), View.TURNED),
        (Telescope(**TELESCOPE, obstruction_mm=50, view="mirrored"), View.MIRRORED),
        (Finder(name="F", kind="optical"), View.TURNED),
        (Finder(name="F", kind="bullseye"), View.UPRIGHT),
        (Finder(name="F", kind="optical", view="upright"), View.UPRIGHT),
    ],
)
def test_what_is_not_told_shows_the_field_as_most_of_its_sort_do(part, shows):
    assert part.shows is shows


def test_a_view_that_there_is_not_is_refused():
    with pytest.raises(ValidationError, match="turned"):
        Telescope(**TELESCOPE, view="sideways")


@rows("word", ["easy", "fair", "hard", "out of reach", "unknown"])
def test_the_words_of_a_verdict_in_journals_written_before_are_read(word):
    entry = Entry(at=dt.datetime(2027, 1, 9, 20, tzinfo=dt.UTC), event="tick", target="M 1", verdict=word)
    assert entry.verdict is Word(word)
