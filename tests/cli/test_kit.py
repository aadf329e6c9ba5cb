"""`nightmode kit` through the real command."""

import json
import tomllib
from pathlib import Path

import pytest

REFERENCE = Path(__file__).parent.parent / "reference"
OPTICS = {c["id"]: c for c in tomllib.loads((REFERENCE / "optics.toml").read_text(encoding="utf-8"))["check"]}
TRADE = {c["id"]: c for c in tomllib.loads((REFERENCE / "trade.toml").read_text(encoding="utf-8"))["check"]}


def telescope(aperture, focal, more=""):
    return f'[telescope]\nname = "t"\naperture_mm = {aperture}\nfocal_length_mm = {focal}\n{more}\n'


def eyepiece(name, focal, field=50, more=""):
    return f'[[eyepiece]]\nname = "{name}"\nfocal_length_mm = {focal}\napparent_field_deg = {field}\n{more}\n'


BOX = (
    telescope(70, 700)
    + eyepiece("25 mm", 25)
    + eyepiece("4 mm", 4)
    + '[[barlow]]\nname = "3x"\nfactor = 3.0\n'
)


@pytest.fixture
def kit_plan(tmp_path):
    def write(text):
        path = tmp_path / "plan.toml"
        path.write_text(f'{text}\n[[target]]\nname = "M 13"\n', encoding="utf-8")
        return path

    return write


def test_figures_of_combinations_are_those_of_geometric_optics(command, kit_plan):
    check = OPTICS["magnification-exit-pupil"]
    for given, wanted in zip(check["inputs"]["rows"], check["expected"]["rows"], strict=True):
        aperture, focal, eyepiece_focal, barlow, field, stop = given
        glass = f'[[barlow]]\nname = "b"\nfactor = {barlow}\nbarrel_in = 2.0\n' if barlow > 1 else ""
        text = telescope(aperture, focal, "barrel_in = 2.0") + eyepiece(
            "e", eyepiece_focal, field, f"field_stop_mm = {stop}"
        )
        made = command.json("kit", kit_plan(text + glass))["combinations"]
        one = next(one for one in made if (one["barlow"] is not None) == (barlow > 1))
        assert one["power"] == pytest.approx(wanted[0], abs=0.05)
        assert one["exit_pupil_mm"] == pytest.approx(wanted[1], abs=0.006)
        assert one["true_field_deg"] == pytest.approx(wanted[4], abs=0.002)


def test_limits_are_the_published_ones(command, kit_plan):
    dawes = OPTICS["resolution-limits"]
    for aperture, split, rayleigh in zip(
        dawes["inputs"]["D_mm"],
        dawes["expected"]["dawes_arcsec"],
        dawes["expected"]["rayleigh_550nm_arcsec"],
        strict=True,
    ):
        limits = command.json("kit", kit_plan(telescope(aperture, 1000)))["limits"]
        assert limits["dawes_arcsec"] == pytest.approx(split, abs=dawes["tolerance"]["arcsec"])
        assert limits["rayleigh_arcsec"] == pytest.approx(rayleigh, abs=dawes["tolerance"]["arcsec"])
        assert limits["highest_power"] == 2 * aperture


def test_a_printed_power_is_answered_in_one_sentence(command, kit_plan):
    fact = TRADE["box-power"]
    said = command("kit", kit_plan(BOX), "--claim", fact["claim"])
    assert said.count("\n") == 1
    assert said.startswith("525x is 7.5 times the aperture in mm; 70 mm carries at most 140x")
    assert command.json("kit", kit_plan(BOX), "--claim", "525x")["claim"]["power"] == fact["claim"]
    assert "carries it" in command("kit", kit_plan(BOX), "--claim", fact["highest"])
    assert "wider than the eye's pupil" in command("kit", kit_plan(BOX), "--claim", "8")


def test_a_power_claimed_for_binoculars_meets_the_one_they_have(command, kit_plan):
    pair = '[binoculars]\nname = "10x50"\nmagnification = 10\naperture_mm = 50\ntrue_field_deg = 6.5\n'
    assert "has 10x and no other power" in command("kit", kit_plan(pair), "--claim", "30")
    assert "in a beam of 5.0 mm" in command("kit", kit_plan(pair), "--claim", "10")


def test_the_box_s_combination_is_called_too_much(command, kit_plan):
    made = command.json("kit", kit_plan(BOX))["combinations"]
    fitness = {(one["eyepiece"], one["barlow"]): (one["power"], one["fitness"]) for one in made}
    assert fitness[("4 mm", "3x")] == (525.0, "too much")
    assert fitness[("25 mm", None)] == (28.0, "good")
    assert "too much for 70 mm" in command("kit", kit_plan(BOX))


def test_what_does_not_go_together_is_left_out_and_said(command, kit_plan):
    wide = eyepiece("wide", 32, 70, "barrel_in = 2.0")
    barlow = '[[barlow]]\nname = "2x"\nfactor = 2.0\n'
    small = command.json("kit", kit_plan(telescope(100, 600) + wide + eyepiece("10 mm", 10) + barlow))
    assert {one["eyepiece"] for one in small["combinations"]} == {"10 mm"}
    assert small["not_together"] == ["wide (2 inch) does not go into the focuser (1.25 inch)"]
    large = command.json("kit", kit_plan(telescope(100, 600, "barrel_in = 2.0") + wide + barlow))
    assert [(one["eyepiece"], one["barlow"]) for one in large["combinations"]] == [("wide", None)]
    assert large["not_together"] == ["wide (2 inch) does not go into 2x (1.25 inch)"]


def test_a_wide_beam_is_too_little_power(command, kit_plan):
    made = command.json("kit", kit_plan(telescope(200, 800) + eyepiece("40 mm", 40)))["combinations"]
    assert made[0]["exit_pupil_mm"] == 10
    assert made[0]["fitness"] == "too little"


@pytest.mark.parametrize("name", ["hillside", "balcony"])
def test_the_table_of_a_demo_plan_fits_80_columns(command, name):
    table = command("kit", Path(__file__).parents[2] / "plans" / f"{name}.toml")
    assert max(map(len, table.splitlines())) <= 80
    for word in ("Dawes", "Rayleigh", "highest useful power", "lowest useful power", "faintest star"):
        assert word in table


def test_where_the_air_holds_the_power_down_the_key_that_sets_it_is_named(command, tmp_path):
    def table(aperture, seeing):
        path = tmp_path / "observer.toml"
        large = telescope(aperture, 1600).replace("[telescope]", "[[telescope]]") + eyepiece("5 mm", 5)
        path.write_text(f"[observer]\nseeing_arcsec = {seeing}\n{large}", encoding="utf-8")
        return command("kit", "--observer", path)

    assert "seeing_arcsec in observer.toml" in table(400, 1.5)
    assert "too much for air of 1.5″" in table(400, 1.5)
    assert "too much for air" not in table(400, 0.8)  # 5 arcmin / 0.8″ is 375x, more than the 320x
    assert "seeing_arcsec" not in table(90, 1.5)  # twice the aperture is less than the air carries
    assert max(map(len, table(2000, 1.5).splitlines())) <= 80


def test_the_telescope_comes_from_observer_toml_without_a_plan(command, tmp_path):
    path = tmp_path / "observer.toml"
    path.write_text(BOX.replace("[telescope]", "[[telescope]]"), encoding="utf-8")
    assert command.json("kit", "--observer", path)["aperture_mm"] == 70


def test_without_any_telescope_the_way_out_is_said(command, tmp_path):
    path = tmp_path / "observer.toml"
    path.write_text("[observer]\n", encoding="utf-8")
    said = command("kit", "--observer", path, code=2)
    assert "nightmode setup" in said
    assert said.count("\n") == 1


def test_a_kit_without_eyepieces_still_tells_the_limits(command, kit_plan):
    table = command("kit", kit_plan(telescope(100, 1000)))
    assert "no eyepiece" in table
    assert "200x" in table


@pytest.mark.parametrize("claim", ["abc", "0", "-5", "1e9", "nan", ""])
def test_a_claim_that_is_no_power_gets_one_sentence(command, kit_plan, claim):
    said = command("kit", kit_plan(BOX), f"--claim={claim}", code=2)
    assert "is not a power" in said
    assert said.count("\n") == 1


def test_json_is_one_object(command, kit_plan):
    found = json.loads(command("kit", kit_plan(BOX), "--json"))
    assert set(found) == {
        "telescope", "aperture_mm", "focal_length_mm", "limits", "combinations", "not_together",
    }  # fmt: skip


@pytest.mark.parametrize("extinction", [0.1, 0.25, 0.6])
def test_the_air_takes_its_magnitudes_from_the_faintest_star(command, kit_plan, extinction):
    """In the zenith a star loses one airmass of extinction: magnitudes per airmass are its very unit."""
    site = '[site]\nname = "s"\nlatitude_deg = 40\nlongitude_deg = 0\nsky_brightness = 21.0\n'
    limits = {
        air: command.json("kit", kit_plan(BOX + site + f"extinction = {air}\n"))["limits"]
        for air in (0.05, extinction)
    }
    lost = limits[0.05]["faintest_star_mag"] - limits[extinction]["faintest_star_mag"]
    assert lost == pytest.approx(extinction - 0.05, abs=0.011)
