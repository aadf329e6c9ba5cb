"""Comets, minor planets and variable stars in a draft: the bodies and their elements are invented."""

import re
import tomllib

import pytest
from cli.garden import GARDEN

from tests.night.test_moving import COMET, MINOR

OBSERVER = "[observer]\n{elements}" + GARDEN
#: When the invented comet stands high.
NIGHT = ("--night", "2026-12-20", "--hours", "01:00-05:00")


@pytest.fixture
def drafted(command, tmp_path):
    def draft(*words, elements=COMET + MINOR, code=0):
        named = 'elements = "moving.txt"' if elements else ""
        (tmp_path / "moving.txt").write_text(elements or "")
        (tmp_path / "observer.toml").write_text(OBSERVER.format(elements=named))
        return command("draft", *words, "--observer", tmp_path / "observer.toml", code=code)

    return draft


def names(text):
    return [target["name"] for target in tomllib.loads(text)["target"]]


def test_a_bright_comet_is_in_the_draft_of_its_night_with_the_caution_that_it_needs(drafted):
    text = drafted(*NIGHT)
    assert "C/2027 A1 (Invented)" in names(text)
    (remark,) = re.findall(r"# (comet in .*)", text)
    assert "comets are often one or two off" in remark
    assert "an hour" in remark


def test_a_draft_of_comets_alone_holds_nothing_else(drafted):
    assert set(names(drafted(*NIGHT, "--kinds", "comets"))) == {"C/2027 A1 (Invented)", "Ceres"}


def test_a_faint_comet_is_not_proposed(drafted):
    faint = COMET.replace("   6.5  4.0  ", "  15.5  4.0  ")
    assert names(drafted(*NIGHT, "--kinds", "comets", elements=faint + MINOR)) == ["Ceres"]


def test_comets_without_a_file_are_refused_with_what_to_write(drafted):
    told = drafted(*NIGHT, "--kinds", "comets", elements=None, code=2)
    assert 'elements = "FILE" in observer.toml' in told
    assert told.count("\n") == 1


def test_old_elements_are_told_by_their_age(drafted):
    bright = COMET.replace("   6.5  4.0  ", "   4.0  4.0  ") + MINOR
    summer = "--night", "2027-06-20", "--hours", "23:00-02:00"
    text = drafted(*summer, "--kinds", "comets", "--difficulty", "hard", elements=bright)
    (age,) = re.findall(r"2027 A1 .*its elements are (\d+) days away from this night", text)
    assert int(age) == pytest.approx(182.5, abs=1)  # 20 December to 20 June


LIST = 'title = "Mine"\n[[target]]\nname = "C/2027 A1"\nlook_for = "a tail"\n[[target]]\nname = "M 65"\n'


@pytest.mark.parametrize("name", ["C/2027 A1", "12P", "12P/Invented", "p/2027 a1"])
def test_a_comets_name_is_known_for_one_without_a_file(drafted, tmp_path, name):
    (tmp_path / "one.toml").write_text('[[target]]\nname = "M 65"\n')
    asks = ("--from-list", tmp_path / "one.toml", "--why", name)
    assert 'elements = "FILE" in observer.toml' in drafted(*NIGHT, *asks, elements=None, code=2)


@pytest.mark.parametrize("flag", ["--from-list", "--left"])
def test_a_list_may_hold_a_comet(drafted, tmp_path, flag):
    (tmp_path / "mine.toml").write_text(LIST)
    text = drafted(*NIGHT, flag, tmp_path / "mine.toml")
    assert set(names(text)) == {"C/2027 A1", "M 65"}
    assert 'look_for = "a tail"' in text


def test_a_list_with_elements_of_its_own_hands_them_on_to_the_plan(drafted, command, tmp_path):
    (tmp_path / "lists").mkdir()
    (tmp_path / "lists" / "orbits.txt").write_text(COMET)
    (tmp_path / "lists" / "mine.toml").write_text(f'elements = "orbits.txt"\n{LIST}')
    path = tmp_path / "plan.toml"
    drafted(*NIGHT, "--from-list", tmp_path / "lists" / "mine.toml", "-o", path, elements=None)
    found = {target["name"] for target in command.json("check", path)["targets"]}
    assert found == {"C/2027 A1", "M 65"}


def test_a_list_with_a_comet_and_no_file_is_refused_in_one_sentence(drafted, tmp_path):
    (tmp_path / "mine.toml").write_text(LIST.replace('C/2027 A1"', 'C/2027 A1"\nkind = "comet"'))
    told = drafted(*NIGHT, "--from-list", tmp_path / "mine.toml", elements=None, code=2)
    assert "C/2027 A1" in told
    assert 'elements = "FILE" in observer.toml' in told
    assert told.count("\n") == 1


def test_a_draft_of_variable_stars_takes_the_one_in_eclipse(drafted):
    text = drafted("--night", "2026-12-05", "--hours", "18:00-23:00", "--kinds", "variables", elements=None)
    assert "Algol" in names(text)
    kinds = re.findall(r"^# (variable star|double star|[a-z ]+?) in ", text, re.MULTILINE)
    assert set(kinds) == {"variable star"}
    assert "faintest 20:51 ± 40 min" in text


def test_a_draft_of_the_shipped_list_tells_what_to_compare_with(drafted):
    text = drafted("--night", "2026-12-05", "--hours", "18:00-23:00", "--left", "variables", elements=None)
    assert "Algol" in names(text)
    assert "Epsilon Persei (2.9)" in text


def test_a_usual_draft_holds_no_variable_star_that_nobody_asked_for(drafted):
    text = drafted("--night", "2026-12-05", elements=None)
    assert "# variable star" not in text
