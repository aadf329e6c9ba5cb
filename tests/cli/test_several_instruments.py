"""The commands of the day before with several instruments: draft, sheet, when; with one nothing changes."""

import re

import pytest
from two_instruments import HILL

from nightmode.cli.main import main
from nightmode.files.places import shipped
from nightmode.files.toml import read_toml
from nightmode.model.plan import Plan

OBSERVER = f"""{HILL}
[[eyepiece]]
name = "Wide 30"
focal_length_mm = 30
apparent_field_deg = 82
barrel_in = 2
[[eyepiece]]
name = "12 mm"
focal_length_mm = 12
apparent_field_deg = 68
"""
BOTH = ["--telescope", "Grey tube", "--telescope", "Old 10x50"]


@pytest.fixture
def observer(tmp_path):
    path = tmp_path / "observer.toml"
    path.write_text(OBSERVER)
    return ["--observer", str(path)]


@pytest.fixture(scope="module")
def drafted(tmp_path_factory):
    folder = tmp_path_factory.mktemp("two")
    (folder / "observer.toml").write_text(OBSERVER)
    words = ["--observer", str(folder / "observer.toml"), "-o", str(folder / "draft.toml")]
    assert main(["draft", "--night", "2026-12-12", "--count", "14", *BOTH, *words]) == 0
    return folder / "draft.toml"


def test_a_draft_for_two_carries_both_and_check_finds_each_target_as_it_says(command, drafted):
    plan = read_toml(drafted, Plan)
    assert [one.name for one in plan.instruments] == ["Grey tube", "Old 10x50"]
    remark = r"; (Grey tube|Old 10x50)[^;\n]*\n\[\[target]]\nname = \"(.+)\""
    told = {name: used for used, name in re.findall(remark, drafted.read_text())}
    assert set(told.values()) == {"Grey tube", "Old 10x50"}
    checked = command.json("check", drafted)
    assert {one["name"]: one["telescope"] for one in checked["targets"]} == told
    assert not [one for one in checked["targets"] if one["verdict"]["word"] == "out of reach"]


def test_a_draft_for_one_is_as_if_there_were_no_other(command, observer):
    listed = ["--from-list", shipped("plans") / "lists" / "first-light.toml", "--count", "6"]
    words = ["draft", "--night", "2026-12-12", *listed, *observer]
    alone = command(*words, "--telescope", "Grey tube")
    assert "Old 10x50" not in alone
    assert "[telescope]" in alone
    assert alone == command(*words)


def test_a_draft_from_a_list_keeps_the_instruments_that_come_along_and_no_others(command, observer, tmp_path):
    path = tmp_path / "list.toml"
    path.write_text(
        '[[target]]\nname = "M 42"\ntelescope = "Old 10x50"\n'
        '[[target]]\nname = "M 35"\ntelescope = "A friend\'s"\n'
    )
    words = ["draft", "--night", "2027-01-09", "--from-list", path, *observer]
    assert "telescope = " not in command(*words)
    both = command(*words, *BOTH)
    assert both.count('telescope = "Old 10x50"') == 1
    assert "friend" not in both


def test_what_two_instruments_show_is_what_either_shows(command, observer, tmp_path):
    """Nothing that one of them shows is out of reach of both."""
    path, names = tmp_path / "list.toml", ("Mel 25", "NGC 891")
    path.write_text("".join(f'[[target]]\nname = "{name}"\n' for name in names))
    asks = [word for name in names for word in ("--why", name)]
    words = ["draft", "--night", "2026-12-12", "--from-list", path, *observer, *asks]
    tube, binoculars = (command(*words, "--telescope", one).splitlines() for one in BOTH[1::2])
    assert "is in the plan" in tube[1]
    assert ["is in the plan" in told for told in binoculars] == [True, False]
    assert all("is in the plan" in told for told in command(*words, *BOTH).splitlines())


def test_the_sheet_tells_what_to_find_and_to_look_with_in_which(command, drafted, tmp_path):
    told = command("sheet", drafted)
    assert "Grey tube and Old\n10x50" in told or "Grey tube and Old 10x50" in told
    assert "Find with Wide 30, 50x, 1.6° in Grey tube." in told
    assert "look with Grey tube: 12 mm" in told
    assert "look with Old 10x50 10x, 6.5°" in told
    assert told.count("[ ] instruments: Grey tube and Old 10x50") == 2
    assert max(map(len, told.splitlines())) <= 79
    command("sheet", drafted, "-o", tmp_path / "sheet.html")
    page = (tmp_path / "sheet.html").read_text()
    assert "Grey tube and Old 10x50." in page
    assert "Grey tube: 12 mm" in page


def test_when_judges_by_the_instrument_that_suits(command, observer):
    """M 45 is too wide for the telescope and too easy to be anything but easy in binoculars."""
    told = command("when", "NGC 891", "--year", "2027", *BOTH, *observer)
    assert "Hill, Grey tube and Old 10x50, Jan 2027" in told
    alone = command("when", "NGC 891", "--year", "2027", "--telescope", "Grey tube", *observer)
    assert told.splitlines()[2:] == alone.splitlines()[2:]


@pytest.mark.parametrize(
    ("words", "names", "told"),
    [
        (["draft"], ["X"], "'X' is not in observer.toml; known there: Grey tube, Old 10x50"),
        (["draft"], ["Grey tube", "grey tube"], 'names the instrument "grey tube" twice'),
        (["when", "M 31"], ["Old 10x50", "old 10x50"], 'names the instrument "old 10x50" twice'),
    ],
)
def test_a_wrong_instrument_is_told_in_one_sentence(command, observer, words, names, told):
    flags = [word for name in names for word in ("--telescope", name)]
    error = command(*words, *flags, *observer, code=2)
    assert told in error
    assert len(error.strip().splitlines()) == 1
