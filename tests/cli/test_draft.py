"""draft: a plan that fits the night, the telescope and the evening, and that says why."""

import argparse
import contextlib
import datetime as dt
import io
import json
import math
import re

import ephem
import pytest
from turns import rarely

from nightmode.catalog.resolve import resolve
from nightmode.cli import draft
from nightmode.cli.main import main
from nightmode.errors import NightmodeError
from nightmode.files.places import shipped
from nightmode.files.toml import read_toml
from nightmode.kinds import GROUP_OF, GROUPS
from nightmode.model.kit import Barlow, Eyepiece, Telescope
from nightmode.model.observer import Observer
from nightmode.model.plan import Plan
from nightmode.model.session import Entry, Event, Head, Outcome
from nightmode.model.target import Body
from nightmode.night.loading import load_night
from nightmode.night.verdict import verdicts
from nightmode.planning.sources import seen_keys
from nightmode.session.journal import create
from nightmode.setup.observer_file import observer_text
from nightmode.walk.state import target_key
from nightmode.wording.figures import power
from nightmode.wording.suggestion import look_text


def observer_of(name):
    plan = read_toml(shipped("plans") / f"{name}.toml", Plan)
    return Observer(
        site=(plan.site,),
        telescope=(plan.telescope,),
        eyepiece=plan.eyepiece,
        barlow=plan.barlow,
        filter=plan.filter,
    )


@pytest.fixture(scope="module")
def observers(tmp_path_factory):
    folder = tmp_path_factory.mktemp("observers")
    for name in ("hillside", "balcony"):
        (folder / f"{name}.toml").write_text(observer_text(observer_of(name)), encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def run(observers):
    def call(*flags, observer="hillside"):
        parser = argparse.ArgumentParser()
        draft.add(parser.add_subparsers())
        file = str(observers / f"{observer}.toml")
        args = parser.parse_args(["draft", "--observer", file, *map(str, flags)])
        out = io.StringIO()
        with contextlib.redirect_stdout(out):
            assert args.run(args) == 0
        return out.getvalue()

    return call


WINTER = ("hillside", "2026-12-13")
NIGHTS = [WINTER, rarely(("balcony", "2027-01-15")), rarely(("hillside", "2027-06-05"))]


@pytest.fixture(scope="module", params=NIGHTS, ids="-".join)
def drafted(request, run, tmp_path_factory):
    name, night = request.param
    path = tmp_path_factory.mktemp("draft") / "plan.toml"
    path.with_name("said").write_text(run("--night", night, "-o", path, *why(REASONS), observer=name))
    empty = path.with_name("observer.toml")
    empty.write_text("")
    return path, load_night(path, empty, None, 0.0)


#: What is said of some names on a winter evening on the hill. NGC 1365 culminates at 90 - 46.9 - 36.1°.
REASONS = {
    "NGC 1365": "is not up in these hours, clear of the horizon and in the dark (at most 7°)",
    "M 31": "is in the plan",
    "M 32": "is in one view with M 31",
    "Jupiter": "is not up in these hours",
    "IC 1": "no published brightness",
    "NGC 6543": "others are worth more",
    "IC 10": "harder than asked for",
    "Andromeda Galaxy": "is in the plan",
    "36 Oph": "is not up in these hours",  # 36 Ophiuchi by its usual name
}


def why(names):
    return [word for name in names for word in ("--why", name)]


@pytest.fixture
def few(tmp_path):
    """A short list, where the rule asked about is not one of the whole catalogue."""
    path = tmp_path / "few.toml"
    names = ("M 31", "M 33", "M 42", "M 45", "M 37", "NGC 457", "NGC 869", "Saturn")
    path.write_text("".join(f'[[target]]\nname = "{name}"\n' for name in names))
    return "--from-list", path


def test_the_plan_passes_check_with_nothing_out_of_reach(drafted, capsys):
    path, loaded = drafted
    assert main(["check", str(path), "--json", "--observer", str(path.with_name("observer.toml"))]) == 0
    checked = json.loads(capsys.readouterr().out)
    assert checked["problems"] == []
    assert all(target["usable"] for target in checked["targets"])
    assert {verdict.word for verdict in verdicts(loaded.night)} <= {"easy", "fair"}


def test_every_setting_time_agrees_with_ephem(drafted):
    _, loaded = drafted
    night, compared = loaded.night, 0
    here = ephem.Observer()
    here.lat, here.lon, here.elevation = str(night.site.latitude_deg), str(night.site.longitude_deg), 0
    here.pressure, here.temp = 1010, 10
    for row, target in enumerate(night.targets):
        floor = target.subject.min_altitude_deg or night.person.min_altitude_deg
        if (
            target.sets_s is None
            or isinstance(target.subject, Body)
            or night.azimuth_at(row, target.sets_s) > 355
        ):
            continue
        body = ephem.FixedBody()
        body._ra, body._dec = math.radians(target.ra_deg), math.radians(target.dec_deg)
        assert above_floor(here, body, night.site, floor, target.sets_s - 5) > 0
        assert above_floor(here, body, night.site, floor, target.sets_s + 5) < 0
        compared += 1
    assert compared >= 5


def above_floor(here, body, site, floor_deg, unix_s):
    here.date = dt.datetime.fromtimestamp(unix_s, dt.UTC).replace(tzinfo=None)
    body.compute(here)
    return math.degrees(body.alt) - max(floor_deg, horizon_line(site, math.degrees(body.az)))


def horizon_line(site, azimuth_deg):
    points = sorted(site.horizon)
    points = [(points[-1][0] - 360, points[-1][1]), *points, (points[0][0] + 360, points[0][1])]
    right = next(index for index, point in enumerate(points) if point[0] >= azimuth_deg)
    (left_az, left), (right_az, high) = points[right - 1], points[right]
    return left + (high - left) * (azimuth_deg - left_az) / (right_az - left_az)


def test_the_plan_travels_alone_and_is_explained(drafted):
    path, loaded = drafted
    text = path.read_text(encoding="utf-8")
    assert loaded.plan.site.name
    assert loaded.plan.telescope.aperture_mm
    assert len(loaded.plan.eyepiece) >= 3
    assert text.startswith("# Drafted for ")
    assert text.count("; about ") == len(loaded.plan.target)


def test_the_draft_is_mixed(drafted):
    _, loaded = drafted
    groups = [GROUP_OF[target.subject.kind] for target in loaded.night.targets]
    assert len(set(groups)) >= 4
    assert max(groups.count(group) for group in groups) <= len(groups) * 0.6


def test_two_targets_are_never_in_one_view(drafted):
    _, loaded = drafted
    places = [
        (math.radians(one.ra_deg), math.radians(one.dec_deg))
        for one in loaded.night.targets
        if not isinstance(one.subject, Body)
    ]
    apart = [ephem.separation(a, b) for index, a in enumerate(places) for b in places[:index]]
    assert math.degrees(min(apart)) > 0.5


@pytest.mark.parametrize("drafted", [WINTER], indirect=True, ids="-".join)
def test_a_winter_evening_on_the_hill_holds_what_every_observer_would_look_at(drafted):
    names = {target.name for target in drafted[1].plan.target}
    assert {"M 31", "M 42", "Saturn", "Moon"} <= names
    assert len(names) == 24


@pytest.mark.parametrize("drafted", [WINTER], indirect=True, ids="-".join)
def test_why_answers_each_name_in_one_line(drafted):
    lines = [line for line in drafted[0].with_name("said").read_text().splitlines() if ": " in line]
    assert len(lines) == len(REASONS)
    for line, (name, says) in zip(lines, REASONS.items(), strict=True):
        assert line.startswith(f"{name}: ")
        assert says in line


def test_what_stands_high_and_cannot_be_seen_is_told_what_is_in_the_way(tmp_path, capsys):
    """Polaris stands 52° high in the north of a balcony that looks south; Copernicus has its sunrise on 18
    December 2026 (colongitude 20°).
    """
    balcony = tmp_path / "balcony.toml"
    balcony.write_text(
        '[[site]]\nname = "B"\nlatitude_deg = 52\nlongitude_deg = 13\ntimezone = "Europe/Berlin"\n'
        "horizon = [[0, 89], [50, 89], [51, 10], [219, 10], [220, 89]]\n"
        '[[telescope]]\nname = "t"\naperture_mm = 90\nfocal_length_mm = 900\n'
        '[[eyepiece]]\nname = "e"\nfocal_length_mm = 20\napparent_field_deg = 60\n'
    )

    def told(*words):
        capsys.readouterr()
        assert main(["draft", "--observer", str(balcony), "--night", "2026-12-13", *words]) == 0
        return capsys.readouterr().out

    high = "cannot be observed in these hours: "
    assert told("--why", "Polaris") == f"Polaris: {high}behind the horizon line while it is dark.\n"
    moon = told("--kinds", "moon", "--why", "Copernicus")
    assert moon == f"Copernicus: {high}in shadow; good light on 18 Dec.\n"


def test_hours_are_kept_and_targets_are_spread_over_them(run, tmp_path, observers):
    path = tmp_path / "plan.toml"
    run("--night", "2026-12-13", "--hours", "23:00-01:30", "--count", "10", "-o", path)
    first = dt.datetime(2026, 12, 13, 22, tzinfo=dt.UTC).timestamp()
    for target in load_night(path, observers / "hillside.toml", None, 0.0).night.targets:
        spans = [(one.start_s, one.end_s) for one in target.usable]
        assert any(end > first and start < first + 2.5 * 3600 for start, end in spans)
    text = path.read_text(encoding="utf-8")
    assert "15 minutes a target" in text
    times = re.findall(r"about (\d\d):(\d\d) at", text)
    minutes = [(int(hour) * 60 + int(minute)) % 1440 for hour, minute in times]
    since = [(minute - 23 * 60) % 1440 for minute in minutes]
    assert len(since) == 10
    assert since == sorted(since)
    assert 125 <= since[-1] < 150


def test_a_target_is_judged_by_the_hours_and_not_by_its_best(run, tmp_path):
    """NGC 2985 rises through the night: from the hill it is easy towards morning.

    Where it rises on at the end, the plan has the walk wait until it has three quarters of its height then,
    30 degrees at most.
    """
    path = tmp_path / "one.toml"
    path.write_text('[[target]]\nname = "NGC 2985"\n')
    early, late = (
        run("--night", "2026-12-13", "--hours", hours, "--count", "1", "--from-list", path)
        for hours in ("21:00-22:00", "02:00-03:00")
    )
    assert "# galaxy in UMa; fair; about 21:0" in early
    assert "# galaxy in UMa; easy; about 02:00" in late
    here, galaxy = ephem.Observer(), ephem.readdb("NGC 2985,f|G,9:50:22,72:16:44,10.4,2000")
    here.lat, here.lon, here.pressure, here.date = "46.93", "14.62", 0, "2026/12/13 21:00"
    galaxy.compute(here)
    assert f"min_altitude_deg = {min(30, math.floor(0.75 * math.degrees(galaxy.alt)))}.0\n" in early


def test_kinds_are_kept(run, tmp_path):
    path = tmp_path / "plan.toml"
    run("--night", "2026-12-13", "--kinds", "doubles, globulars", "--count", "10", "-o", path)
    kinds = {resolve(target).kind for target in read_toml(path, Plan).target}
    assert kinds == {*GROUPS["globulars"], GROUPS["doubles"][0]}


def test_a_harder_wish_lets_harder_targets_in(run, tmp_path, observers):
    faint = tmp_path / "faint.toml"
    faint.write_text("".join(f'[[target]]\nname = "{name}"\n' for name in ("IC 10", "NGC 7331")))
    path = tmp_path / "plan.toml"
    for difficulty, names in (("fair", {"NGC 7331"}), ("hard", {"IC 10", "NGC 7331"})):
        run("--night", "2026-12-13", "--from-list", faint, "--difficulty", difficulty, "-o", path, "--force")
        assert {target.name for target in read_toml(path, Plan).target} == names


def test_when_nothing_fits_it_says_so(run, tmp_path):
    faint = tmp_path / "faint.toml"
    faint.write_text('[[target]]\nname = "NGC 1365"\n')
    with pytest.raises(NightmodeError, match="nothing fits"):
        run("--night", "2026-12-13", "--from-list", faint)
    assert "is not up" in run("--night", "2026-12-13", "--from-list", faint, "--why", "NGC 1365")


def test_a_brighter_sky_leaves_fewer_galaxies(run, tmp_path):
    path = tmp_path / "one.toml"
    path.write_text('[[target]]\nname = "NGC 891"\n')

    def fit(sky):
        return run("--night", "2026-12-13", "--from-list", path, "--sky", sky, "--why", "NGC 891")

    assert re.search(r"NGC 891: is out of reach: needs a sky of \d\d\.\d\.", fit("18.0"))
    assert "out of reach" not in fit("21.8")


def test_only_a_list_is_chosen_from_and_its_words_come_along(run, tmp_path):
    path = tmp_path / "plan.toml"
    source = shipped("plans") / "lists" / "first-light.toml"
    run("--night", "2026-12-13", "--from-list", source, "--count", "10", "-o", path)
    listed = {target.name: target.look_for for target in read_toml(source, Plan).target}
    chosen = read_toml(path, Plan).target
    assert len(chosen) == 10
    assert all(target.look_for == listed[target.name] for target in chosen)


def test_what_was_seen_is_left_out_by_list_and_by_session(run, tmp_path, few):
    seen = tmp_path / "seen.toml"
    seen.write_text('[[target]]\nname = "NGC 224"\n[[target]]\nname = "M 42"\n')
    head = Head(plan="p", digest="0" * 16, night=dt.date(2026, 12, 1), site="s", telescope="t")
    journal = create(tmp_path / "session.toml", head)
    at = dt.datetime(2026, 12, 1, 20, tzinfo=dt.UTC)
    journal.append(Entry(at=at, event=Event.TICK, target="M 45", outcome=Outcome.SEEN))
    journal.append(Entry(at=at, event=Event.TICK, target="Saturn", outcome=Outcome.NOT_SEEN))
    path = tmp_path / "plan.toml"
    session = tmp_path / "session.toml"
    left_out = ("--seen", seen, "--seen", session, *why(["M 31", "M 45"]))
    said = run("--night", "2026-12-13", *few, *left_out, "-o", path)
    names = {target.name for target in read_toml(path, Plan).target}
    assert not names & {"M 31", "M 42", "M 45"}
    assert "Saturn" in names
    assert "M 31: has been seen already." in said
    assert "M 45: has been seen already." in said


def test_what_was_seen_counts_under_the_short_form_of_its_usual_name(tmp_path):
    (tmp_path / "seen.toml").write_text('[[target]]\nname = "61 Cyg"\n')
    assert {target_key("61 Cygni"), target_key("STF 2758")} <= seen_keys(tmp_path / "seen.toml")


def test_without_a_file_the_plan_is_printed(run, tmp_path, few):
    path = tmp_path / "plan.toml"
    path.write_text(run("--night", "2026-12-13", *few, "--count", "6"))
    assert len(read_toml(path, Plan).target) == 6


def test_a_file_that_is_there_is_kept(run, tmp_path, few):
    path = tmp_path / "plan.toml"
    path.write_text("mine")
    with pytest.raises(NightmodeError, match="force"):
        run("--night", "2026-12-13", *few, "-o", path)
    assert path.read_text() == "mine"


@pytest.mark.parametrize(
    ("flags", "says"),
    [
        (["--count", "0"], "--count"),
        (["--count", "many"], "--count"),
        (["--hours", "21:00"], "21:00-01:00"),
        (["--hours", "01:00-21:00"], "ends before it begins"),
        (["--hours", "late-later"], "not a time"),
        (["--hours", "21:00-21:30"], "ask for at most 6"),
        (["--kinds", "quasars"], "galaxies"),
        (["--sky", "dark"], "not a number"),
        (["--sky", "30"], "more than 22.2"),
        (["--night", "soon"], "not a date"),
        (["--site", "moonbase"], "moonbase"),
        (["--telescope", "giant"], "giant"),
        (["--from-list", "nowhere.toml"], "no such file"),
        (["--seen", "nowhere.toml"], "no such file"),
    ],
)
def test_bad_flags_are_one_sentence(run, flags, says):
    with pytest.raises(NightmodeError, match=says) as refused:
        run("--night", "2026-12-13", *flags)
    assert "\n" not in str(refused.value)


def test_where_nobody_knows_any_of_the_names_it_is_a_mistake_and_no_plan_is_written(run, few, tmp_path):
    plan = tmp_path / "plan.toml"
    with pytest.raises(NightmodeError, match="Big Dipper") as refused:
        run("--night", "2026-12-13", *few, *why(["Big Dipper", "My own star"]), "-o", plan)
    assert "My own star" in str(refused.value)
    assert not plan.exists()


def test_a_name_that_nobody_knows_gets_a_line_beside_the_answers_to_the_others(run, few):
    told = run("--night", "2026-12-13", *few, *why(["Big Dipper", "M 45", "Sun", "N" * 90])).splitlines()
    assert [line.split(":")[0] for line in told] == ["Big Dipper", "M 45", "Sun", "--why"]
    assert "is not in the catalogue" in told[0]
    assert "Sun" in told[2]


def test_a_sun_that_does_not_set_is_said_honestly(tmp_path):
    north = observer_of("hillside")
    site = north.site[0].model_copy(update={"latitude_deg": 69.0})
    path = tmp_path / "north.toml"
    path.write_text(observer_text(north.model_copy(update={"site": (site,)})))
    parser = argparse.ArgumentParser()
    draft.add(parser.add_subparsers())
    args = parser.parse_args(["draft", "--observer", str(path), "--night", "2026-06-21"])
    with pytest.raises(NightmodeError, match="the Sun does not set there"):
        args.run(args)


@pytest.mark.parametrize("table", ["site", "telescope", "eyepiece"])
def test_what_is_missing_to_judge_by_is_named(tmp_path, table):
    path = tmp_path / "observer.toml"
    path.write_text(observer_text(observer_of("hillside").model_copy(update={table: ()})))
    parser = argparse.ArgumentParser()
    draft.add(parser.add_subparsers())
    args = parser.parse_args(["draft", "--observer", str(path), "--night", "2026-12-13"])
    with pytest.raises(NightmodeError, match=f"no {table} is known yet; run nightmode setup first"):
        args.run(args)


def test_the_kinds_offered_are_the_groups_there_are():
    assert tuple(GROUPS) == draft.KIND_WORDS


EYEPIECE = {"name": "40 mm", "focal_length_mm": 40, "apparent_field_deg": 50}


@pytest.fixture
def fast_reflector(run, observers):
    """A telescope of 800 mm with one eyepiece, too low a power without the Barlow."""

    def draft_with(*flags, **eyepiece):
        telescope = {"name": "200 mm f/4", "aperture_mm": 200, "focal_length_mm": 800, "barrel_in": 1.25}
        observer = Observer(
            site=observer_of("hillside").site,
            telescope=(Telescope.model_validate(telescope),),
            eyepiece=(Eyepiece.model_validate(EYEPIECE | eyepiece),),
            barlow=(Barlow(name="2x", factor=2.0),),
        )
        (observers / "fast.toml").write_text(observer_text(observer), encoding="utf-8")
        return run("--night", "2026-12-06", "--count", "6", *flags, observer="fast")

    return draft_with


def test_a_draft_judges_through_the_barlow_where_nothing_else_serves(fast_reflector):
    said = fast_reflector("--difficulty", "easy", *why(["M 27", "IC 133"]))
    assert "M 27: fits" in said or "M 27: is in the plan" in said
    assert "no published" not in said


def test_eyepieces_that_do_not_fit_are_told_apart_from_none(fast_reflector):
    with pytest.raises(NightmodeError, match=r"no eyepiece goes into 200 mm f/4.*nightmode kit"):
        fast_reflector(barrel_in=2.0)


def test_a_remark_names_the_filter_and_the_barlow_that_the_eyepiece_goes_with(drafted):
    path, loaded = drafted
    remarks = [line for line in path.read_text().splitlines() if line.startswith("# ")]
    looks = [target.look for target in loaded.night.targets if target.look]
    assert any(look.filter or look.combination.barlow for look in looks)
    for look in looks:
        assert any(f"; {look_text(look)} {power(look.combination.power)}" in remark for remark in remarks)
