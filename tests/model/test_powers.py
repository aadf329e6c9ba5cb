"""Several powers, and a zoom, of binoculars and spotting scopes: invented, the arithmetic by hand."""

import json
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rows import rows

from nightmode import eyepiece
from nightmode.cli.main import main
from nightmode.errors import NightmodeError
from nightmode.files.toml import as_model, parse_toml, read_toml
from nightmode.model.kit import Binoculars, Kit
from nightmode.model.observer import Observer, Person
from nightmode.night.glass import glass_at
from nightmode.setup.answers import binoculars
from nightmode.wording.kit import instrument_text

SCOPE = """
[[binoculars]]
name = "scope"
magnification = [20, 60]
aperture_mm = 80
true_field_deg = [2.2, 1.1]
eyes = 1
mounted = true
"""


def read(text):
    return as_model("observer.toml", parse_toml("observer.toml", text), Observer)


def test_a_zoom_stands_for_its_ends_and_three_steps_of_equal_ratio():
    (scope,) = read(SCOPE).binoculars
    # 20 x 3^(1/4) = 26.3, 20 x 3^(1/2) = 34.6, 20 x 3^(3/4) = 45.6.
    assert [power for power, _ in scope.settings] == [20, 26, 35, 46, 60]
    # 2.2 x 1.1 under a root: 1.556 in the middle.
    assert [field for _, field in scope.settings][::2] == [2.2, pytest.approx(1.556, abs=0.005), 1.1]


def test_fixed_powers_are_combinations_of_their_own_lowest_first():
    some = Binoculars(name="S", magnifications=(20, 40, 60), true_field_deg=(2.4, 1.4, 1.0), aperture_mm=80)
    made = eyepiece.combinations(Kit(telescope=some))
    assert [(one.power, one.true_field_deg) for one in made] == [(20, 2.4), (40, 1.4), (60, 1.0)]
    assert [one.exit_pupil_mm for one in made] == [4.0, 2.0, pytest.approx(1.333, abs=0.001)]
    assert {one.eyepiece for one in made} == {"S"}


def test_a_spotting_scope_is_for_one_eye():
    (scope,) = read(SCOPE).binoculars
    assert glass_at(scope, Person(), 20).eyes == 1.0
    assert glass_at(scope.model_copy(update={"eyes": 2}), Person(), 20).eyes == 2.0
    assert instrument_text(scope) == "scope: 80 mm, 20-60x, one eye, on a mount"


@rows(
    "old, new, what, instead",
    [
        ("[20, 60]", "[60, 20]", "do not grow", "lowest first"),
        ("[20, 60]", "[20, 20]", "do not grow", "lowest first"),
        ("[2.2, 1.1]", "2.2", "2 of magnification and 1 of true_field_deg", "as many"),
        ("[2.2, 1.1]", "[2.2, 1.5, 1.1]", "2 of magnification and 3 of true_field_deg", "as many"),
        ("magnification = [20, 60]", "", "gives no magnification", "magnifications ="),
        ("[20, 60]", "[20, 60]\nmagnifications = [20, 40]", "both magnification and magnifications", "one"),
        ("[20, 60]", "[20, 600]", "magnification", "100"),
        ("[20, 60]", '"much"', "magnification", ""),
        ("[20, 60]", "[20, 40, 60]", "magnification", ""),
        ("[2.2, 1.1]", "[1.1, 2.2]", "true_field_deg that grows", "widest first"),
        ("eyes = 1", "eyes = 3", "eyes", "1"),
    ],
)
def test_what_does_not_fit_gets_one_clear_sentence(old, new, what, instead):
    with pytest.raises(NightmodeError) as error:
        read(SCOPE.replace(old, new))
    assert what in str(error.value)
    assert instead in str(error.value)
    assert "\n" not in str(error.value)


@given(st.floats(8, 40), st.floats(1.2, 4), st.floats(0.5, 4), st.floats(0.65, 1.0))
def test_a_zooms_powers_grow_and_its_true_fields_shrink(low, ratio, low_deg, share):
    scope = Binoculars(
        name="S",
        magnification=(low, min(low * ratio, 100.0)),
        true_field_deg=(low_deg, low_deg * share),
        aperture_mm=80,
    )
    powers, fields = zip(*scope.settings, strict=True)
    assert list(powers) == sorted(set(powers))
    assert all(later <= earlier + 0.006 for earlier, later in pairwise(fields))


@pytest.mark.parametrize(
    ("answer", "settings", "eyes"),
    [
        ("10x50/6.5", [(10, 6.5)], 2),
        ("20-60x80/2.2-1.1 mounted one eye", [(20, 2.2), (60, 1.1)], 1),
        ("20+40x80/2.2+1.3", [(20, 2.2), (40, 1.3)], 2),
    ],
)
def test_setup_takes_them_in_an_answer(answer, settings, eyes):
    made = binoculars(answer, "binoculars")
    assert (made.settings[0], made.settings[-1]) == (settings[0], settings[-1])
    assert made.eyes == eyes
    assert len(made.settings) == (5 if "-" in answer else len(settings))


OBSERVER = """
[[site]]
name = "Garden"
latitude_deg = 48.2
longitude_deg = 16.4
sky_brightness = 20.8
"""


def test_a_draft_for_a_spotting_scope_travels_with_it_and_check_reads_it(tmp_path, capsys):
    (tmp_path / "observer.toml").write_text(OBSERVER + SCOPE)
    words = ["draft", "--night", "2026-12-05", "--count", "6", "--observer", str(tmp_path / "observer.toml")]
    assert main([*words, "-o", str(tmp_path / "plan.toml")]) == 0
    capsys.readouterr()
    assert main(["check", str(tmp_path / "plan.toml"), "--json"]) == 0
    targets = json.loads(capsys.readouterr().out)["targets"]
    assert len(targets) == 6
    assert {target["look"]["power"] for target in targets} <= {20.0, 26.0, 35.0, 46.0, 60.0}


def test_setup_writes_a_spotting_scope_that_is_read_again(tmp_path):
    path = tmp_path / "observer.toml"
    place = [
        "--site",
        "Field",
        "--latitude",
        "48",
        "--longitude",
        "15",
        "--timezone",
        "UTC",
        "--dark",
        "20.8",
    ]
    scope = ["--binoculars", "scope=20-60x80/2.2-1.1 mounted one eye"]
    assert main(["setup", "--observer", str(path), *place, *scope]) == 0
    (found,) = read_toml(path, Observer).binoculars
    assert (found.magnification, found.true_field_deg, found.eyes) == ((20.0, 60.0), (2.2, 1.1), 1)
