"""Variable stars are known under every name that people write, and stay one object under all of them."""

import pytest
from rows import rows

from nightmode.catalog.hints import near_matches
from nightmode.catalog.resolve import lookup, resolve
from nightmode.catalog.tables import table
from nightmode.catalog.variables import is_variable_designation, variable_names
from nightmode.errors import NightmodeError
from nightmode.history.objects import identify
from nightmode.kinds import Kind
from nightmode.model.target import Double, Star, Target
from nightmode.model.variable import Course
from nightmode.sky.constellation import constellation


@rows(
    "names",
    [
        ("Algol", "Beta Per", "β Persei", "bet Per", "26 Per", "HIP 14576"),
        ("Mira", "Omicron Cet", "o Cet", "ο Ceti"),
        ("R Leo", "r leonis", "R  Leonis", "R. Leo"),
        ("RZ Cas", "rz cassiopeiae", "RZ CAS"),
        ("V335 Hya", "V0335 Hya", "V 335 Hydrae"),
        ("BU Tau", "Pleione", "28 Tau"),
        ("R Lep", "Hind's Crimson Star"),
        ("Y CVn", "La Superba"),
        ("g Her", "30 Her"),
        ("Mu Cep", "Garnet Star", "mu. Cep"),
    ],
)
def test_all_names_of_a_variable_star_mean_one_object(names):
    assert len({identify(name).key for name in names}) == 1
    assert {lookup(name).kind for name in names} == {Kind.VARIABLE}
    assert all(lookup(name).varies for name in names)


@rows(
    "name, type_, course",
    [
        # General Catalogue of Variable Stars: the types, of the beginning of the list of every observer.
        ("Algol", "EA/SD", Course.ECLIPSES),
        ("Beta Lyr", "EB", Course.ECLIPSES),
        ("Delta Cep", "DCEP", Course.PULSATES),
        ("Eta Aql", "DCEP", Course.PULSATES),
        ("Zeta Gem", "DCEP", Course.PULSATES),
        ("Mira", "M", Course.LONG_PERIOD),
        ("R Aqr", "M+ZAND", Course.LONG_PERIOD),
        ("Betelgeuse", "SRC", Course.LOOSE),
        ("R CrB", "RCB", Course.LOOSE),
        ("Eta Gem", "SRA+EA", Course.LOOSE),
    ],
)
def test_the_class_is_the_catalogues_and_says_what_can_be_foreseen(name, type_, course):
    varies = lookup(name).varies
    assert (varies.type, varies.course) == (type_, course)


def test_a_double_star_that_varies_stays_a_double():
    assert isinstance(lookup("Delta Cep"), Double)
    assert lookup("Delta Cep").varies.period_d == pytest.approx(5.3662, abs=1e-4)


def test_a_star_without_change_has_none():
    assert lookup("Vega").varies is None
    assert lookup("Vega").kind is Kind.STAR


def test_a_plan_may_call_a_variable_star_a_star_and_keeps_its_change():
    assert resolve(Target(name="Algol", kind=Kind.STAR)).varies.type == "EA/SD"


def test_a_variable_star_given_by_hand_has_a_place_and_no_forecast():
    mine = resolve(Target(name="X Leo", kind=Kind.VARIABLE, position="09h51m01s +11d52m31s", magnitude=12.3))
    assert isinstance(mine, Star)
    assert mine.varies is None
    assert mine.magnitude == 12.3


@rows("name", ["X Leo", "V1234 Ori", "QZ Vir"])
def test_an_unknown_variable_star_is_refused_with_what_to_write(name):
    with pytest.raises(NightmodeError, match="variable star") as error:
        resolve(Target(name=name))
    assert "position" in error.value.instead


@rows("name", ["M 31", "Vega", "NGC 7789", "R 136 Leo", "Alpha Leo", "Z"])
def test_other_names_are_no_designations_of_variable_stars(name):
    assert not is_variable_designation(name)


def test_a_name_spelt_nearly_right_is_suggested():
    assert "Chi Cygni" in near_matches("Chi Cigni")
    assert "R Leonis" in near_matches("R Leoniss")


@rows("row", table("variables"))
def test_every_row_is_found_by_its_name_and_stands_in_its_constellation(row):
    subject = lookup(row["name"])
    assert subject.varies is not None
    assert constellation(subject.ra_deg, subject.dec_deg) == subject.constellation
    assert abs(subject.dec_deg - float(row["dec_deg"])) < 0.02
    assert float(row["brightest"]) < float(row["faintest"])


def test_no_star_stands_in_the_table_twice():
    assert len(set(variable_names())) == len(variable_names())


def test_a_dwarf_nova_is_expected_faint_and_a_star_that_fades_bright():
    """The classes of the General Catalogue of Variable Stars: UGSU flares up, RCB fades."""
    assert lookup("SU UMa").magnitude > 13.5
    assert lookup("SU Tau").magnitude < 11.5
