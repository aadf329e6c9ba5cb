"""`draft --left LIST`: the next plan from what is left, scarce ones first; `check` on what was seen."""

import tomllib

import pytest
from history.keeping import keep, note, tick

from nightmode.files.places import observer_file, prepare

OBSERVER = """
[[site]]
name = "Hill"
latitude_deg = 47.1
longitude_deg = 15.4
timezone = "Europe/Vienna"
sky_brightness = 21.2
[[telescope]]
name = "Tube"
aperture_mm = 200
focal_length_mm = 1200
[[eyepiece]]
name = "Wide 30"
focal_length_mm = 30
apparent_field_deg = 68
[[eyepiece]]
name = "Small 8"
focal_length_mm = 8
apparent_field_deg = 60
"""
#: All of these stand well above Hill on a December evening; M 74 shows in few months, M 103 in all.
LIST = ("M 31", "M 33", "M 74", "M 77", "M 103", "M 52", "M 45")


@pytest.fixture
def some_list(tmp_path):
    prepare(observer_file()).write_text(OBSERVER)
    path = tmp_path / "some.toml"
    path.write_text('title = "Some"\n' + "".join(f'[[target]]\nname = "{name}"\n' for name in LIST))
    return path


WORDS = ("draft", "--night", "2026-12-12", "--hours", "18:30-22:30", "--difficulty", "hard")


def names(text):
    return {target["name"] for target in tomllib.loads(text)["target"]}


def drafted(command, *words):
    return names(command(*WORDS, *words))


def test_what_was_seen_is_left_out_under_any_of_its_names(command, some_list, tmp_path):
    keep(tick("NGC 224"), tick("Pleiades"), night="2026-10-12")
    told = command(*WORDS, "--left", some_list, "--why", "M 31", "-o", tmp_path / "plan.toml")
    assert "M 31: has been seen already" in told
    assert names((tmp_path / "plan.toml").read_text()) == set(LIST) - {"M 31", "M 45"}


def test_the_scarce_ones_come_first_and_what_was_tried_in_vain_last(command, some_list):
    assert drafted(command, "--left", some_list, "--count", "4") == {"M 33", "M 45", "M 74", "M 77"}
    keep(tick("M 74", "not seen"), tick("M 77", "suspected", 3), night="2026-10-12")
    again = drafted(command, "--left", some_list, "--count", "3")
    assert not {"M 74", "M 77"} & again
    assert {"M 74", "M 77"} <= drafted(command, "--left", some_list)


def test_a_list_that_is_done_and_two_lists_at_once_are_told_plainly(command, some_list):
    keep(*(tick(name, minute=place) for place, name in enumerate(LIST)), night="2026-10-12")
    assert "every target of it has been seen" in command("draft", "--left", some_list, code=2)
    said = command("draft", "--left", some_list, "--from-list", some_list, code=2)
    assert "keep one" in said


def test_check_says_what_was_seen_before(command, some_list):
    keep(tick("NGC 224"), note("dust on one side", "NGC 224", 2), night="2026-10-12")
    told = command("check", some_list, "--night", "2026-12-12")
    assert "M 31               seen before, 12 Oct: dust on one side" in told
    targets = {
        one["name"]: one for one in command.json("check", some_list, "--night", "2026-12-12")["targets"]
    }
    assert targets["M 31"]["seen_before"] == {
        "outcome": "seen",
        "night": "2026-10-12",
        "note": "dust on one side",
    }
    assert "seen_before" not in targets["M 33"]
