"""What people type who have not read the help: words without quotes, misspelt commands, endings of files."""

import json
import re
import tomllib

import pytest
from cli.garden import GARDEN

from nightmode.cli.main import COMMANDS, main
from nightmode.files.observer import load_observer
from nightmode.planning.inquiry import inquiry


@pytest.fixture
def observer(tmp_path):
    path = tmp_path / "observer.toml"
    path.write_text("[observer]" + GARDEN)
    return path


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("chek", "plan.toml"), "'chek' is no command; did you mean check?\n"),
        (("nite",), "'nite' is no command; did you mean nights?\n"),
        (("setup", "--zone", "Vienna"), "did you mean --timezone? Else see nightmode setup --help"),
        (("walk", "p.toml", "--star-red"), "did you mean --stay-red? Else see nightmode walk --help"),
        (("check", "p.toml", "--frob"), "unrecognized arguments: --frob; see nightmode check --help"),
        (
            ("plan.toml",),
            "plan.toml: is a plan, and the command before it is missing; write nightmode check plan.toml",
        ),
        (("walk", "p.toml", "--rate", "fast"), "--rate: 'fast' is not a number; write digits like 60"),
        (("say", "p.toml", "--wpm", "fast"), "--wpm: 'fast' is not a whole number; write digits like 160"),
        (("frobnicate",), "'frobnicate' is no command; write one of setup, nights"),
        (("",), "'' is no command"),
    ],
)
def test_what_is_no_command_and_no_number_is_told_what_to_write(command, words, said):
    told = command(*words, code=2)
    assert said in told
    assert told.count("\n") == 1


@pytest.mark.parametrize(
    ("words", "name", "right"),
    [
        (("sheet",), "sheet.pdf", ".html or .txt; a browser prints the page into a PDF"),
        (("say",), "night.mp3", ".wav or .txt"),
    ],
)
def test_a_file_is_not_written_under_an_ending_that_it_would_belie(
    command, plan, tmp_path, words, name, right
):
    out = tmp_path / name
    told = command(*words, plan(["M 42"]), "-o", out, code=2)
    assert told == f"-o: {name} would not be what its ending says; end the name in {right}.\n"
    assert not out.exists()


def test_the_ending_decides_what_a_year_is_written_as(command, observer, tmp_path):
    asked = ("when", "M", "42", "--year", "2027", "--observer", observer)
    page, data, text = (tmp_path / name for name in ("m42.html", "m42.json", "m42.txt"))
    for path in (page, data, text):
        command(*asked, "-o", path)
    assert page.read_text().startswith("<!doctype html>")
    assert json.loads(data.read_text())["name"] == "M 42"
    assert text.read_text().startswith("M 42 from Garden")
    assert "would not be" in command(*asked, "-o", tmp_path / "m42.pdf", code=2)


@pytest.mark.parametrize(
    ("names", "count"),
    [(["M 31", "Albireo"], 2), (["M", "31", "Albireo"], 2), (["M", "31", "M", "33", "NGC", "7789"], 3)],
)
def test_several_objects_for_when_are_sent_into_a_list(command, observer, names, count):
    told = command("when", *names, "--observer", observer, code=2)
    assert told == f"when: {count} objects at once; ask for one, or put them into a list.\n"


def test_a_list_that_comes_along_is_named_without_its_folder_and_a_body_before_a_list(command, observer):
    listed = inquiry(["first-light"], load_observer(observer), observer, 1.8e9)
    assert (listed.title, listed.is_list) == ("First light, 25 showpieces", True)
    assert command("when", "moon", "--observer", observer).startswith("moon from Garden")


def test_an_unknown_name_after_a_command_is_not_told_what_a_plan_may_give(command, observer):
    told = command("when", "Nothing", "at", "all", "--observer", observer, code=2)
    assert told == (
        "Nothing at all: is not in the catalogue; write it like M 31, NGC 7789, Albireo or Saturn.\n"
    )


def test_all_unknown_names_of_a_plan_are_told_at_once(command, plan):
    names = ["M 42", "Foo", "M 31", "Sun", *(f"Zork {number}" for number in range(6))]
    told = command("check", plan(names), code=2)
    assert "target 2, Foo: is not in the catalogue" in told
    assert "(and see target 4 (Sun), target 5 (Zork 0), target 6 (Zork 1)" in told
    assert told.endswith("and 2 more).\n")
    assert told.count("\n") == 1


def test_a_question_ends_with_its_own_mark(command):
    told = command("log", "Albirio", code=2)
    assert "did you mean Albireo" in told
    assert "? Else write a name as the session has it" in told
    assert told.endswith("2026-09..2027-03.\n")
    assert command("chekc", code=2).endswith("did you mean check?\n")
    assert "a date like 2026-12-06" in command("log", "yesterday", code=2)


def test_an_object_that_stands_in_a_list_under_two_names_is_told(command, plan):
    """NGC 104 is 47 Tucanae, NGC 5139 is Omega Centauri (any catalogue); NGC 869 and 884 are two clusters."""
    path = plan(["47 Tuc", "NGC 869", "NGC 5139", "NGC 884", "NGC 104", "Omega Centauri"])
    for told in (command("check", path), command("tally", path)):
        same = [line for line in told.splitlines() if "the same object" in line]
        assert same == ["- the same object: 47 Tuc, NGC 104", "- the same object: NGC 5139, Omega Centauri"]


def test_a_list_that_comes_along_is_a_plan_by_its_name_alone(command, observer, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    asked = ("--observer", observer, "--night", "2026-12-09")
    assert command("check", "first-light", *asked).startswith(
        "First light, 25 showpieces: night of 9 December"
    )
    out = tmp_path / "plan.toml"
    command("draft", "--from-list", "messier", "--count", "2", *asked, "-o", out)
    assert all(re.match(r"M \d+$", target["name"]) for target in tomllib.loads(out.read_text())["target"])
    (tmp_path / "messier").write_text('title = "My own"\n[[target]]\nname = "M 42"\n')
    assert command("check", "messier", *asked).startswith("My own: ")
    assert "nolist: not read, there is no such file" in command("check", "nolist", *asked, code=2)


def test_kinds_and_hours_are_taken_or_answered_in_their_own_words(command, observer, tmp_path):
    asked = (
        "draft",
        "--observer",
        observer,
        "--night",
        "2026-12-09",
        "--count",
        "2",
        "-o",
        tmp_path / "p.toml",
    )
    command(*asked, "--kinds", "Galaxy,nebula,planetary,double")
    told = command(*asked, "--force", "--hours", "9pm-1am", code=2)
    assert told == "--hours: '9pm' is not a time; write it like 21:00-01:00.\n"
    assert "is a folder; name a file in it" in command(*asked[:-1], tmp_path, code=2)


def test_a_part_of_a_name_is_enough_for_site_and_instrument_if_only_one_has_it(command, observer):
    two = (
        observer.read_text()
        + """
[[binoculars]]
name = "15x70 binoculars mounted"
magnification = 15
aperture_mm = 70
true_field_deg = 4.4
mounted = true
[[site]]
name = "Gardener's hill"
latitude_deg = 47
longitude_deg = 15
"""
    )
    observer.write_text(two)
    asked = ("when", "M 45", "--observer", observer)
    assert "from Gardener's hill, 15x70 binoculars mounted," in command(
        *asked, "--telescope", "15X70", "--site", "hill"
    )
    assert "from Garden, 150 mm," in command(*asked, "--telescope", "150 mm", "--site", "garden")
    told = command(*asked, "--site", "gar", code=2)
    assert "'gar' is not in observer.toml; known there: Garden, Gardener's hill" in told
    assert "Gardener's hill" in command("nights", "--days", "1", "--site", "hill", "--observer", observer)


@pytest.mark.parametrize("name", COMMANDS)
def test_help_fits_a_terminal_of_80_columns(capsys, monkeypatch, name):
    monkeypatch.setenv("COLUMNS", "80")
    with pytest.raises(SystemExit):
        main([name, "--help"])
    lines = capsys.readouterr().out.splitlines()
    assert [line for line in lines if len(line) > 80] == []


def test_a_latitude_that_lost_its_sign_is_asked_about(command, tmp_path):
    flags = (
        "--site",
        "Ridge",
        "--longitude",
        "138.6",
        "--timezone",
        "Australia/Adelaide",
        "--telescope",
        "none",
    )
    asked = ("setup", "--observer", tmp_path / "o.toml", *flags, "--binoculars", "10x50", "--latitude")
    assert "Australia/Adelaide has the summer of the south: is latitude" in command(*asked, "35")
    assert "summer" not in command(*asked, "35 S")


def test_the_short_account_of_the_lists_names_each_as_it_is_asked_for(command):
    assert "dark-sky: Under a dark sky" in command("tally")


@pytest.mark.parametrize("words", [("nights",), ("when", "M 42"), ("kit",)])
def test_who_has_set_up_nothing_is_sent_to_setup(command, words):
    assert "nightmode setup" in command(*words, code=2)


def test_a_feature_of_the_moon_under_too_high_a_sun_all_night_does_not_fit_and_is_told_when_it_does(
    command, observer, plan
):
    """The Moon is six days old (new on 9 December, any almanac): the Sun is high over Cleomedes."""
    path = plan(["Cleomedes", "Moon"], night="2026-12-15")
    told = command("check", path, "--observer", observer)
    assert "over  " not in told
    assert re.search(r"^Fits tonight: 1 ", told, re.MULTILINE)
    assert re.search(r"^Does not fit: 1 .*\nCleomedes .*good light on .* from \d+ \w{3}$", told, re.MULTILINE)
    data = command.json("check", path, "--observer", observer)
    assert [target["name"] for target in data["targets"] if "next_fit" in target] == ["Cleomedes"]
