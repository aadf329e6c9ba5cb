"""Several instruments on one night: each target gets the one that suits it, or the one the plan names."""

import itertools
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st
from turns import costly
from two_instruments import SITE

from nightmode.cli.main import main
from nightmode.eyepiece.instrument import Offer, least_changes, suited
from nightmode.kinds import Kind
from nightmode.model.target import DeepSky
from nightmode.night import each_target
from nightmode.night import verdict as judging
from nightmode.night.loading import load_night
from nightmode.night.verdict import verdicts
from nightmode.words import Word

OBSERVER = f"""
[observer]
site = "Hill"
{SITE}
[[telescope]]
name = "300 mm"
aperture_mm = 300
focal_length_mm = 1500
obstruction_mm = 70
barrel_in = 2
[[telescope]]
name = "80 mm"
aperture_mm = 80
focal_length_mm = 480
[[binoculars]]
name = "10x50"
magnification = 10
aperture_mm = 50
true_field_deg = 6.5
[[eyepiece]]
name = "30 mm"
focal_length_mm = 30
apparent_field_deg = 82
barrel_in = 2
[[eyepiece]]
name = "20 mm"
focal_length_mm = 20
apparent_field_deg = 68
[[eyepiece]]
name = "7 mm"
focal_length_mm = 7
apparent_field_deg = 68
[[filter]]
name = "Narrow"
passband = "narrowband"
"""
#: Where each is looked at with a 300 mm telescope and 10x50 binoculars to hand, under a dark sky: common
#: practice, no published source.
PRACTICE = {
    "M 45": "10x50",
    "Mel 25": "10x50",
    "M 31": "10x50",
    "Kemble's Cascade": "10x50",
    "NGC 7000": "10x50",
    "Mel 111": "10x50",
    "M 44": "10x50",
    "Collinder 399": "10x50",
    "M 57": "300 mm",
    "Jupiter": "300 mm",
    "Saturn": "300 mm",
    "Albireo": "300 mm",
    "Castor": "300 mm",
    "M 13": "300 mm",
    "M 42": "300 mm",
    "NGC 869": "300 mm",
    "M 1": "300 mm",
    "NGC 891": "300 mm",
}
BOTH = 'telescope = ["300 mm", "10x50"]'


def load(folder, head, targets, night="2026-10-10"):
    """Open a plan of names, or of (name, instrument named)."""
    folder.mkdir(exist_ok=True)
    (folder / "observer.toml").write_text(OBSERVER)
    rows = [one if isinstance(one, tuple) else (one, None) for one in targets]
    tables = [
        f'[[target]]\nname = "{name}"\n' + (f'telescope = "{named}"\n' if named else "")
        for name, named in rows
    ]
    (folder / "plan.toml").write_text(f"night = {night}\n{head}\n" + "".join(tables))
    return load_night(folder / "plan.toml", folder / "observer.toml", None, 0.0).night


def instrument_of(night):
    return {target.subject.name: target.kit.telescope.name for target in night.targets}


def test_each_target_gets_the_instrument_that_practice_gives_it(tmp_path):
    assert instrument_of(load(tmp_path, BOTH, PRACTICE)) == PRACTICE


def test_what_a_field_overflows_goes_back_to_it_where_the_other_does_not_show_it(tmp_path):
    """From a bright site the North America Nebula is beyond binoculars."""
    bright = OBSERVER.replace("21.4", "20.0")
    load(tmp_path, BOTH, ["NGC 7000", "M 45"])
    (tmp_path / "observer.toml").write_text(bright)
    night = load_night(tmp_path / "plan.toml", tmp_path / "observer.toml", None, 0.0).night
    assert instrument_of(night) == {"NGC 7000": "300 mm", "M 45": "10x50"}


def test_the_plan_has_the_last_word_and_may_name_one_for_a_single_target(tmp_path):
    night = load(tmp_path, BOTH, [("M 45", "300 mm"), ("M 57", "10X50"), ("M 13", "80 mm"), "Mel 20"])
    assert instrument_of(night) == {"M 45": "300 mm", "M 57": "10x50", "M 13": "80 mm", "Mel 20": "10x50"}
    assert night.instruments.names == ("300 mm", "10x50", "80 mm")
    # What a single target names serves no other.
    alone = load(tmp_path, 'telescope = "300 mm"', [("M 45", "10x50"), "Mel 20"])
    assert instrument_of(alone) == {"M 45": "10x50", "Mel 20": "300 mm"}


@pytest.mark.parametrize(
    "head",
    [
        'telescope = "300 mm"\nbinoculars = "10x50"',
        'telescope = ["300 mm"]\nbinoculars = ["10x50"]',
        'telescope = ["300 MM", "10X50"]',
    ],
)
def test_binoculars_may_be_named_under_either_key(tmp_path, head):
    assert load(tmp_path, head, ["M 31"]).instruments.names == ("300 mm", "10x50")


def test_a_plan_carries_its_instruments_with_it(tmp_path):
    tables = (
        '[[telescope]]\nname = "own"\naperture_mm = 120\nfocal_length_mm = 900\n'
        '[[telescope]]\nname = "small"\naperture_mm = 60\nfocal_length_mm = 360\n'
        '[binoculars]\nname = "pair"\nmagnification = 8\naperture_mm = 40\ntrue_field_deg = 8\n'
    )
    night = load(tmp_path, tables, ["Mel 25", "M 57"])
    assert night.instruments.names == ("own", "small", "pair")
    assert instrument_of(night) == {"Mel 25": "pair", "M 57": "own"}


SINGLE = ("300 mm", "80 mm", "10x50")
NAMES = ("M 31", "M 57", "Albireo", "Saturn", "M 42", "Mu Cephei", "Moon", "B 33")


@pytest.fixture(scope="module")
def alone(tmp_path_factory):
    """The night of every name opened with one instrument alone, and its verdicts."""
    nights = {name: load(tmp_path_factory.mktemp("alone"), f'telescope = "{name}"', NAMES) for name in SINGLE}
    return {name: (night, verdicts(night)) for name, night in nights.items()}


@costly(4)
@given(
    st.permutations(SINGLE).flatmap(lambda names: st.integers(2, 3).map(lambda count: names[:count])),
    st.lists(st.sampled_from(NAMES), min_size=1, unique=True),
    st.data(),
)
def test_whatever_instrument_is_chosen_all_is_as_with_it_alone(alone, tmp_path_factory, carried, names, data):
    named = [(name, data.draw(st.sampled_from([None, *SINGLE]))) for name in names]
    night = load(tmp_path_factory.getbasetemp() / "mixed", f"telescope = {json.dumps(list(carried))}", named)
    for row, (target, verdict) in enumerate(zip(night.targets, verdicts(night), strict=True)):
        wanted = named[row][1]
        assert target.kit.telescope.name == wanted or (
            wanted is None and target.kit.telescope.name in carried
        )
        one, told = alone[target.kit.telescope.name]
        same = one.row(target.chance.key)
        other = one.targets[same]
        assert (target.find, target.look, target.choices) == (other.find, other.look, other.choices)
        assert target.usable == other.usable
        judged = told[same]
        assert (verdict.word, verdict.cause) == (judged.word, judged.cause)
        assert verdict.margin_dex == (pytest.approx(judged.margin_dex) if judged.margin_dex else None)
        assert night.pairs.get(row) == one.pairs.get(same)
        for place, name in enumerate(night.instruments.names):
            changed, other = (
                each_target.with_kit(night, row, place).targets[row],
                alone[name][0].targets[same],
            )
            assert (changed.kit, changed.look, changed.choices) == (other.kit, other.look, other.choices)


@given(st.lists(st.sets(st.integers(0, 2), min_size=1), max_size=7))
def test_instruments_change_as_seldom_as_can_be(places):
    chosen = least_changes([sorted(one) for one in places])
    assert len(chosen) == len(places)
    assert all(one in some for one, some in zip(chosen, places, strict=True))
    fewest = min(map(changes, itertools.product(*places)))
    assert changes(chosen) == fewest


def changes(chosen):
    return sum(one != after for one, after in itertools.pairwise(chosen))


@given(
    st.lists(
        st.tuples(st.sampled_from(Word), st.floats(0.2, 10), st.floats(40, 500)), min_size=1, max_size=4
    ),
    st.floats(1, 400),
)
def test_what_is_chosen_is_not_worse_in_everything_than_another(found, size_arcmin):
    subject = DeepSky(name="X", kind=Kind.NEBULA, ra_deg=0, dec_deg=0, size_arcmin=size_arcmin)
    offers = [Offer(*one) for one in found]
    for place in suited(subject, offers):
        chosen = offers[place]
        for other in offers:
            frames = other.field_deg >= size_arcmin / 60 or other.field_deg > chosen.field_deg
            better = other.word.rank < chosen.word.rank and other.aperture_mm > 1.3 * chosen.aperture_mm
            assert not (better and frames)


def test_a_telescope_without_eyepieces_is_left_aside(tmp_path):
    load(tmp_path, BOTH, ["M 57", "Saturn"])
    bare = OBSERVER.split("[[eyepiece]]")[0]
    (tmp_path / "observer.toml").write_text(bare)
    night = load_night(tmp_path / "plan.toml", tmp_path / "observer.toml", None, 0.0).night
    assert set(instrument_of(night).values()) == {"10x50"}


def test_a_plan_of_one_instrument_is_judged_for_no_choice(tmp_path, monkeypatch):
    monkeypatch.setattr(judging, "words_at", lambda *_: pytest.fail("nothing is to be chosen"))
    assert not load(tmp_path, "", ["M 57"]).has_several


@pytest.mark.parametrize(("head", "target", "told"), [
    ('telescope = ["300 mm", "12x60"]', "", "'12x60' is not in observer.toml; known there: 300 mm, 80 mm"),
    ('telescope = ["300 mm", "300 MM"]', "", 'names the instrument "300 MM" twice; keep one'),
    ("telescope = []", "", "has an empty list of telescope; name one, or leave telescope out"),
    ("binoculars = []", "", "has an empty list of binoculars; name one"),
    ("telescope = [7]", "", "telescope, item 1: is 7; write text in quotes or a table"),
    ("telescope = 7", "", "telescope: is 7; write text in quotes or a table, or a list of them"),
    (BOTH, 'telescope = "12x60"', "target 1 (\"M 13\"), telescope: '12x60' is neither in the plan nor in"),
    (BOTH, 'telescope = ["10x50"]', 'target 1 ("M 13"), telescope: is a list; write text in quotes'),
    (BOTH, 'telescope = "a\\u001bb"', 'target 1 ("M 13"), telescope: '),
])  # fmt: skip
def test_a_wrong_instrument_is_told_in_one_sentence(tmp_path, capsys, head, target, told):
    (tmp_path / "observer.toml").write_text(OBSERVER)
    plan = tmp_path / "plan.toml"
    plan.write_text(f'night = 2026-10-10\n{head}\n[[target]]\nname = "M 13"\n{target}\n')
    assert main(["check", str(plan), "--observer", str(tmp_path / "observer.toml")]) == 2
    err = capsys.readouterr().err
    assert told in err
    assert len(err.strip().splitlines()) == 1
    assert not any(tmp_path.joinpath("data").rglob("*.toml"))


def test_check_tells_the_instrument_of_each_target(tmp_path, capsys):
    load(tmp_path, BOTH, ["M 31", "M 57", ("M 13", "80 mm")])
    words = ["check", str(tmp_path / "plan.toml"), "--observer", str(tmp_path / "observer.toml")]
    assert main(words) == 0
    table = capsys.readouterr().out
    assert "300 mm, 10x50 and 80 mm; times are" in table
    lines = {line[:18].strip(): line for line in table.splitlines()}
    assert "  10x50  " in lines["M 31"]
    assert "300 mm: " in lines["M 57"]
    assert "80 mm: " in lines["M 13"]
    assert max(map(len, table.splitlines())) <= 80
    assert main([*words, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["telescope"] == "300 mm"
    assert found["telescopes"] == ["300 mm", "10x50", "80 mm"]
    told = {one["name"]: one["telescope"] for one in found["targets"]}
    assert told == {"M 31": "10x50", "M 57": "300 mm", "M 13": "80 mm"}


def test_kit_tells_of_each_instrument(tmp_path, capsys):
    load(tmp_path, BOTH, ["M 31"])
    words = ["kit", str(tmp_path / "plan.toml"), "--observer", str(tmp_path / "observer.toml")]
    assert main(words) == 0
    assert capsys.readouterr().out.count("highest useful power") == 1  # binoculars have their one
    assert main([*words, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert (found["telescope"], [one["telescope"] for one in found["others"]]) == ("300 mm", ["10x50"])
