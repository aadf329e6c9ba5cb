"""setup writes an observer.toml that reads back, keeps what was there, and refuses what does not fit."""

import argparse
import os
import shlex
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from nightmode.cli import setup
from nightmode.errors import NightmodeError
from nightmode.files.places import observer_file
from nightmode.files.toml import read_toml
from nightmode.model.kit import Binoculars
from nightmode.model.observer import Observer, Person
from nightmode.model.site import Site
from nightmode.report.setup import setup_text
from nightmode.setup import changes
from nightmode.setup.interview import interview as interviewed
from nightmode.setup.local_zone import local_zone
from nightmode.setup.questions import questions

FIRST = [
    *("--site", "Garden", "--latitude", "48 12 36 N", "--longitude", "16.37E", "--elevation", "170 m"),
    *("--timezone", "Europe/Vienna", "--dark", "20.8", "--horizon", "0:12, 90:8, 180:3"),
    *(
        "--telescope",
        "200 mm reflector",
        "--aperture",
        "200",
        "--focal-length",
        "1200",
        "--obstruction",
        "50",
    ),
    *("--barrel", "2in", "--eyepieces", "30/68/2in, 14/70, Old one=9/60", "--barlows", "2x"),
    *("--filters", "O-III, narrowband", "--finder", "8x50/5.5", "--bullseye", "1 2.5 5"),
]


def run(*flags):
    parser = argparse.ArgumentParser()
    setup.add(parser.add_subparsers())
    args = parser.parse_args(["setup", *map(str, flags)])
    return args.run(args)


@pytest.fixture
def path(tmp_path):
    return tmp_path / "observer.toml"


def observer(path):
    return read_toml(path, Observer)


def test_flags_make_a_whole_observer(path):
    assert run("--observer", path, *FIRST) == 0
    made = observer(path)
    site, telescope = made.site[0], made.telescope[0]
    assert (site.name, site.latitude_deg, site.longitude_deg) == ("Garden", pytest.approx(48.21), 16.37)
    assert (site.elevation_m, site.timezone, site.sky_brightness) == (170.0, "Europe/Vienna", 20.8)
    assert site.horizon == ((0.0, 12.0), (90.0, 8.0), (180.0, 3.0))
    assert (telescope.aperture_mm, telescope.focal_length_mm, telescope.barrel_in) == (200.0, 1200.0, 2)
    assert [(one.name, one.apparent_field_deg) for one in made.eyepiece] == [
        ("30 mm eyepiece", 68.0),
        ("14 mm eyepiece", 70.0),
        ("Old one", 60.0),
    ]
    assert [one.passband for one in made.filter] == ["oiii", "narrowband"]
    assert [one.kind for one in made.finder] == ["optical", "bullseye"]
    assert (made.observer.site, made.observer.telescope) == ("Garden", "200 mm reflector")


def test_the_file_says_where_it_is_and_is_for_the_user_alone(path, capsys):
    run("--observer", path, *FIRST)
    assert "observer.toml" in capsys.readouterr().out
    assert path.stat().st_mode & 0o077 == 0


def test_without_a_file_named_the_usual_one_is_made_with_its_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    run(*FIRST)
    assert observer(observer_file()).observer.site == "Garden"


def test_a_folder_that_is_not_there_is_not_made_for_a_file_that_was_named(tmp_path):
    with pytest.raises(NightmodeError, match="no such file or folder"):
        run("--observer", tmp_path / "mistyped" / "observer.toml", *FIRST)


def test_the_file_explains_its_keys(path):
    run("--observer", path, *FIRST)
    lines = path.read_text().splitlines()
    assert any(line.startswith("latitude_deg = 48.21 ") and "# north is positive" in line for line in lines)


def test_running_again_with_one_flag_changes_that_alone(path):
    run("--observer", path, *FIRST)
    before = observer(path)
    run("--observer", path, "--eyepieces", "6/60")
    after = observer(path)
    assert [one.name for one in after.eyepiece] == [*(one.name for one in before.eyepiece), "6 mm eyepiece"]
    assert after.model_copy(update={"eyepiece": before.eyepiece}) == before


OWN_HAND = """# my own head line

[observer]   # me
pupil_mm = 5.5   # measured last winter
site = "Garden"
theme = "coal"

# the garden is damp
[[site]]
name = "Garden"   # behind the shed
latitude_deg = 48.123456789
longitude_deg = 16.37
sky_brightness = 20.8
horizon = [
  [0, 12],   # the tree
  [90, 8],
]

[[telescope]]
name = "200 mm reflector"
aperture_mm = 200
focal_length_mm = 1200

[[eyepiece]]
name = "Wide"
focal_length_mm = 30   # heavy

[[eyepiece]]
name = "14"
focal_length_mm = 14

# the rest is lent out
"""


def test_running_again_keeps_every_remark_and_every_value_that_no_flag_names(path):
    path.write_text(OWN_HAND)
    run("--observer", path, "--pupil", "6", "--dark", "5.8mag", "--eyepieces=-14,9/60")
    changed = path.read_text()
    assert changed == (
        OWN_HAND.replace("pupil_mm = 5.5 ", "pupil_mm = 6.0 ")
        .replace('theme = "coal"\n', 'theme = "coal"\ntelescope = "200 mm reflector"\n')
        .replace("sky_brightness = 20.8\n", "")
        .replace("  [90, 8],\n]\n", "  [90, 8],\n]\nnaked_eye_limit_mag = 5.8\n")
        .replace('[[eyepiece]]\nname = "14"\nfocal_length_mm = 14\n\n', "")
        + changed[changed.index('\n[[eyepiece]]\nname = "9 mm') :]
    )
    assert [one.name for one in path.parent.glob("*.bak")] == []


def test_a_file_in_one_line_style_is_changed_too(path):
    path.write_text(
        'observer.pupil_mm = 5 # mine\nsite = [{ name = "A", latitude_deg = 1, longitude_deg = 2 }] # hill\n'
        'telescope = [{ name = "T", aperture_mm = 100, focal_length_mm = 900 }]'
    )
    run("--observer", path, "--site", "B", "--latitude", "3", "--longitude", "4")
    assert [site.name for site in observer(path).site] == ["A", "B"]
    assert "# mine\n" in path.read_text()
    assert "# hill\n" in path.read_text()


def test_what_cannot_be_changed_line_by_line_is_written_anew_and_the_old_text_kept(path, monkeypatch):
    path.write_text(OWN_HAND)
    monkeypatch.setattr(changes, "_change_rows", lambda *_: None)  # as if nothing could be changed
    run("--observer", path, "--eyepieces", "6/60")
    assert [one.focal_length_mm for one in observer(path).eyepiece] == [30.0, 14.0, 6.0]
    assert path.with_name("observer.toml.1.bak").read_text() == OWN_HAND


def test_a_new_site_stands_beside_the_old_one_and_becomes_the_usual(path):
    run("--observer", path, *FIRST)
    run("--observer", path, "--site", "Hill", "--latitude", "46.9", "--longitude", "-3.5", "--dark", "2")
    made = observer(path)
    assert [site.name for site in made.site] == ["Garden", "Hill"]
    assert made.observer.site == "Hill"
    assert (made.site[1].bortle, made.site[1].horizon) == (2, ())
    assert made.site[0].horizon


def test_another_figure_for_the_sky_replaces_the_one_there(path):
    run("--observer", path, *FIRST)
    run("--observer", path, "--dark", "5.8mag")
    site = observer(path).site[0]
    assert (site.sky_brightness, site.naked_eye_limit_mag, site.bortle) == (None, 5.8, None)


def test_a_minus_takes_an_eyepiece_away(path):
    run("--observer", path, *FIRST)
    run("--observer", path, "--eyepieces=-14")
    assert [one.focal_length_mm for one in observer(path).eyepiece] == [30.0, 9.0]


@pytest.mark.parametrize(
    ("flag", "text", "says"),
    [
        ("--latitude", "98", "98 is more than 90; write a number from -90 to 90"),
        ("--latitude", "north", "not an angle"),
        ("--aperture", "2", "2 is less than 20"),
        ("--aperture", "wide", "not a number"),
        ("--obstruction", "200", "aperture"),
        ("--dark", "12", "Bortle"),
        ("--timezone", "Mars/Base", "time zone"),
        ("--eyepieces", "25/5", "less than 20"),
        ("--eyepieces", "25/50/70/80", "not an eyepiece"),
        ("--filters", "purple", "narrowband"),
        ("--finder", "big", "8x50"),
        ("--horizon", "90", "azimuth:altitude"),
        ("--horizon", "0:95", "95 is more than 89; write a number from -5 to 89"),
        ("--barrel", "1.5", "is 1.5; write one of 0.965, 1.25, 2"),
        ("--site", "\x1b[31m", "control character"),
        ("--pupil", "nan", "is not a finite number; write a number from 2 to 9"),
        ("--site", "x" * 200, "has 200 characters; write at most 80"),
        ("--binoculars", "0x0", "0 is less than 2; write a number from 2 to 100"),
        ("--horizon", "nan:2", "is not a finite number; write a number from 0 to 360"),
        ("--latitude", "x" * 10_000, "xxx' is not an angle; write it like 48.21"),
        ("--timezone", "x" * 10_000, "write the name of a large city"),
    ],
)
def test_an_answer_that_does_not_fit_is_one_sentence_and_changes_nothing(path, flag, text, says):
    run("--observer", path, *FIRST)
    before = path.read_text()
    with pytest.raises(NightmodeError, match=says) as refused:
        run("--observer", path, flag, text)
    assert "\n" not in str(refused.value)
    assert path.read_text() == before
    assert not path.with_name("observer.toml.1.bak").exists()


def test_without_a_latitude_the_flag_is_named(path):
    with pytest.raises(NightmodeError, match="--latitude"):
        run("--observer", path, "--site", "Garden")
    assert not path.exists()


def interview(there, *answers):
    said, left = [], iter(answers)

    def ask(prompt):
        said.append(prompt)
        try:
            return next(left)
        except StopIteration:
            raise EOFError from None

    given = interviewed(there or Observer(), questions("Europe/Vienna"), ask, said.append)
    return given, said


def test_a_wrong_answer_is_explained_and_asked_again():
    answers = ["Garden", "95", "", "48.2", "16.4", *[""] * 4, "", "100", "900", *[""] * 9]
    given, said = interview(None, *answers)
    assert given["latitude"] == "48.2"
    assert sum(line.startswith("Latitude") for line in said) == 3
    assert any("95 is more than 90" in line for line in said)
    assert any("needed, for example" in line for line in said)


def test_every_question_offers_what_is_there(path):
    run("--observer", path, *FIRST)
    there = observer(path)
    given, said = interview(there, *[""] * len(questions("UTC")))
    assert "binoculars" not in given  # who has a telescope is not asked for them
    assert (given["latitude"], given["finder"], given["dark"]) == ("48.21", "8x50/5.5", "20.8")
    assert any("[30 mm eyepiece, 14 mm eyepiece, Old one]" in line for line in said)


def test_the_view_of_a_telescope_is_asked_last_and_offers_what_is_usual(path):
    answers = ["Garden", "48.2", "16.4", *[""] * 5, "100", "900"]
    given, _ = interview(None, *answers, *[""] * 9)
    assert given["view"] == "mirrored"
    given, _ = interview(None, *answers, "40", *[""] * 8)
    assert given["view"] == "turned"
    # Common practice: a reflector of f/12 or so is looked into from behind, through a star diagonal.
    given, _ = interview(None, *answers[:-1], "1300", "40", *[""] * 8)
    assert given["view"] == "mirrored"


def test_a_long_telescope_that_is_known_keeps_the_view_it_has(path):
    run("--observer", path, *FIRST, "--focal-length", "2400", "--view", "turned")
    assert observer(path).telescope[0].shows == "turned"
    run("--observer", path, "--pupil", "5")
    assert observer(path).telescope[0].shows == "turned"


def test_a_view_is_kept_only_where_it_is_not_the_usual_one(path):
    run("--observer", path, *FIRST, "--view", "turned", "--finder", "8x50/5.5 upright")
    made = observer(path)
    assert (made.telescope[0].view, made.telescope[0].shows) == (None, "turned")
    assert made.finder[0].view == "upright"
    run("--observer", path, "--view", "mirrored")
    assert observer(path).telescope[0].view == "mirrored"
    run("--observer", path, "--pupil", "5")
    assert observer(path).telescope[0].view == "mirrored"
    assert observer(path).finder == made.finder
    with pytest.raises(NightmodeError, match="upright, turned, mirrored"):
        run("--observer", path, "--view", "sideways")


def test_answers_that_end_early_write_nothing(path):
    with pytest.raises(NightmodeError, match="nothing was written"):
        interview(None, "Garden", "48.2")


def test_the_file_is_toml_with_awkward_names(path):
    run("--observer", path, *FIRST, "--site", 'Back "field" \\ north, déjà vu')
    assert tomllib.loads(path.read_text())["site"][0]["name"] == 'Back "field" \\ north, déjà vu'


@pytest.mark.parametrize(
    ("zone", "longitude_deg", "odd"),
    [("Europe/Vienna", 16.4, False), ("Europe/Vienna", -116.4, True), ("Pacific/Auckland", 174.8, False)],
)
def test_a_zone_far_from_the_sun_is_remarked_on(zone, longitude_deg, odd):
    there = Observer(
        observer=Person(site="A", telescope="8x42"),
        site=(Site(name="A", latitude_deg=48.0, longitude_deg=longitude_deg, timezone=zone),),
        binoculars=(Binoculars(name="8x42", magnification=8, aperture_mm=42, true_field_deg=7.5),),
    )
    assert ("is longitude east positive" in setup_text(there, "observer.toml", "")) is odd


@pytest.mark.parametrize("zone", ["Europe/Vienna", "Mars/Base", "/etc/passwd", "", "x" * 300])
def test_the_zone_of_the_machine_is_offered_if_there_is_one_of_that_name(monkeypatch, zone):
    monkeypatch.setenv("TZ", zone)
    monkeypatch.setattr(os.path, "realpath", lambda _: "/usr/share/zoneinfo/Asia/Tokyo")
    assert local_zone() == ("Europe/Vienna" if zone == "Europe/Vienna" else "Asia/Tokyo")


def test_the_real_program_asks_and_writes(tmp_path):
    answers = ["Garden", "95", "48.21", "16.37", *[""] * 5, "", "70", "700", *[""] * 9]
    done = subprocess.run(
        [sys.executable, "-m", "nightmode", "setup"],
        input="\n".join(answers) + "\n",
        env={**os.environ, "XDG_CONFIG_HOME": str(tmp_path / "config"), "TZ": "Europe/Vienna"},
        capture_output=True,
        text=True,
        check=False,
        cwd=Path(setup.__file__).parents[2],
    )
    assert done.returncode == 0, done.stderr
    assert "95 is more than 90" in done.stdout
    made = observer(tmp_path / "config" / "nightmode" / "observer.toml")
    assert (made.site[0].latitude_deg, made.site[0].timezone) == (48.21, "Europe/Vienna")
    assert made.telescope[0].aperture_mm == 70


def test_the_real_program_answers_a_bad_flag_in_one_sentence(tmp_path):
    done = subprocess.run(
        [sys.executable, "-m", "nightmode", "setup", "--latitude", "95"],
        env={**os.environ, "XDG_CONFIG_HOME": str(tmp_path)},
        capture_output=True,
        text=True,
        check=False,
        cwd=Path(setup.__file__).parents[2],
    )
    assert done.returncode == 2
    assert "--latitude: 95 is more than 90; write a number from -90 to 90." in done.stderr
    assert list(tmp_path.rglob("*.toml")) == []


def test_an_eyepiece_too_wide_for_the_focuser_is_told_at_once(path, capsys):
    run("--observer", path, *FIRST, "--barrel", "1.25", "--eyepieces", "30/68/2in,14/70")
    assert "30 mm eyepiece (2 inch) does not go into the focuser (1.25 inch)" in capsys.readouterr().out
    run("--observer", path, "--eyepieces=-14")
    told = capsys.readouterr().out
    assert "does not go into the focuser" in told
    assert "No eyepieces yet" not in told
    run("--observer", path, "--barrel", "2")
    assert "does not go" not in capsys.readouterr().out


def test_the_example_of_its_help_makes_a_kit_that_goes_together(path, capsys):
    words = shlex.split(setup.EXAMPLE.split("Without")[0].replace("\\\n", " "))
    run("--observer", path, *words[words.index("setup") + 1 :])
    assert "does not go" not in capsys.readouterr().out


def test_a_file_that_setup_wrote_itself_is_changed_without_a_copy(path, capsys):
    run("--observer", path, *FIRST)
    run("--observer", path, "--dark", "19.5")
    assert observer(path).site[0].sky_brightness == 19.5
    assert [one.name for one in path.parent.glob("*.bak")] == []
    assert "the old one" not in capsys.readouterr().out
