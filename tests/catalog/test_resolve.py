import subprocess
import sys

import pytest
from rows import rows

from nightmode.catalog.hints import near_matches
from nightmode.catalog.resolve import lookup
from nightmode.errors import NightmodeError
from nightmode.kinds import Kind
from nightmode.model.target import Body, Double
from nightmode.sky.bodies import PLANETS
from nightmode.sky.vectors import separation_deg


def test_named_stars_stand_where_hipparcos_has_them(check, resolved):
    case = check("hipparcos-stars-j2000")
    for name, hip, ra, dec, motion_ra, motion_dec, _, hp_mag in case["expected"]["rows"]:
        found = resolved(name)
        assert separation_deg(found.ra_deg, found.dec_deg, ra, dec) < case["tolerance"]["deg"], name
        assert (found.motion_ra_mas, found.motion_dec_mas) == pytest.approx((motion_ra, motion_dec), abs=0.01)
        assert f"HIP {hip}" in found.other_names
        # Hp is not V: for these stars they differ by less than half a magnitude.
        assert found.magnitude == pytest.approx(hp_mag, abs=0.5)


@rows("number", range(1, 111))
def test_every_messier_object_is_something_to_look_at(number, resolved):
    found = resolved(f"M {number}")
    assert found.ra_deg is not None
    assert found.magnitude_band == "V"
    assert 1 < found.magnitude < 11
    assert found.separation_arcsec if isinstance(found, Double) else found.size_arcmin
    assert found.constellation
    assert found.kind not in (Kind.NEBULA, Kind.STAR)


@rows(
    "name, kind, magnitude, size",
    # From memory, values that catalogues agree on to the digits given.
    [
        ("M 45", Kind.OPEN_CLUSTER, 1.6, 110), ("M 73", Kind.ASTERISM, 9.0, 2.8),
        ("M 24", Kind.OPEN_CLUSTER, 4.6, 90), ("M 102", Kind.GALAXY, 9.9, 6.3),
        ("M 14", Kind.GLOBULAR_CLUSTER, 7.6, None), ("M 10", Kind.GLOBULAR_CLUSTER, 6.6, None),
        ("M 8", Kind.CLUSTER_NEBULA, 5.8, 45), ("M 44", Kind.OPEN_CLUSTER, 3.1, 95),
    ],
)  # fmt: skip
def test_the_odd_ones_among_messier_s_are_put_right(name, kind, magnitude, size, resolved):
    found = resolved(name)
    assert found.kind == kind
    assert found.magnitude == pytest.approx(magnitude, abs=0.15)
    if size:
        assert found.size_arcmin == pytest.approx(size, rel=0.15)


def test_m40_is_a_double_star(resolved):
    found = resolved("M 40")
    assert (found.kind, found.separation_arcsec) == (Kind.DOUBLE, 52)
    assert found.magnitude < found.companion_magnitude


@rows("number", range(1, 110))
def test_every_caldwell_number_resolves(number, resolved):
    assert resolved(f"C {number}").ra_deg is not None


@rows("name", ["saturn", "Saturn", " SATURN ", "neptune", "Mercury"])
def test_planets_are_bodies(name, resolved):
    found = resolved(name)
    assert isinstance(found, Body)
    assert (found.kind, found.body) == (Kind.PLANET, name.strip().lower())
    assert found.body in PLANETS


def test_the_moon_and_its_features_stand_where_the_moon_stands(check, resolved):
    assert (resolved("moon").kind, resolved("the Moon").body) == (Kind.MOON, "moon")
    for name, *_ in check("lunar-features-iau")["expected"]["rows"]:
        found = resolved(name, kind=Kind.LUNAR_FEATURE)
        assert (found.kind, found.body) == (Kind.LUNAR_FEATURE, "moon")
    assert resolved("Copernicus").kind == Kind.LUNAR_FEATURE
    assert resolved("Rimae Nowhere", kind=Kind.LUNAR_FEATURE).body == "moon"


@rows(
    "name, feature",
    [
        ("Straight Wall", "Rupes Recta"),
        ("the Alpine Valley", "Vallis Alpes"),
        ("Schröter's Valley", "Vallis Schröteri"),
        ("Sea of Crises", "Mare Crisium"),
        ("apennines", "Montes Apenninus"),
        ("Bay of Rainbows", "Sinus Iridum"),
        ("crater Plato", "Plato"),
    ],
)
def test_features_of_the_moon_go_by_the_names_that_observers_use(name, feature, resolved):
    found = resolved(name)
    assert found.name == name
    assert feature in found.other_names
    assert found.look_for


def test_a_place_on_the_moon_makes_a_target_of_what_no_table_has(resolved):
    found = resolved("my pit", selenographic="+5.0 +23.7", look_for="a hole")
    assert (found.kind, found.body) == (Kind.LUNAR_FEATURE, "moon")
    assert (found.latitude_deg, found.longitude_deg, found.look_for) == (5.0, 23.7, "a hole")
    assert resolved("Plato", selenographic="+51.0 -9.0").latitude_deg == 51.0


@rows(
    "written, star",
    [
        ("STF 1965", "Zeta Coronae Borealis"),
        ("stf1196", "Tegmine"),
        ("Struve 2382", "Epsilon1 Lyrae"),
        ("Σ 1888", "Xi Boötis"),
        ("OΣ 545", "Mahasim"),
        ("Dunlop 252", "Acrux"),
        ("h 3945", "145 Canis Majoris"),
        ("AGC 1", "Sirius"),
        ("GNT 1", "Antares"),
    ],
)
def test_double_stars_go_by_their_discoverers_numbers(written, star, resolved):
    found = resolved(written)
    assert found.kind == Kind.DOUBLE
    assert star in found.other_names


def test_what_a_plan_says_of_a_pair_stands_above_its_orbit(resolved):
    assert resolved("Sirius").orbit is not None
    own = resolved("Sirius", separation_arcsec=7.0, position_angle_deg=90.0)
    assert (own.separation_arcsec, own.position_angle_deg, own.orbit) == (7.0, 90.0, None)


@rows("name", ["Sun", "sun", " THE SUN ", "Sol", "ＳＵＮ"])
@rows("kind", [None, Kind.STAR, Kind.PLANET])
def test_the_sun_is_never_a_target(name, kind, resolved):
    with pytest.raises(NightmodeError, match=r"never a target.*blinds"):
        resolved(name, kind=kind)
    if kind == Kind.STAR:
        with pytest.raises(NightmodeError, match="never a target"):
            resolved(name, kind=kind, position="10h00m +10d00m")


@rows(
    "written, other",
    [
        ("Andromeda Galaxy", "M 31"), ("andromeda galaxy", "NGC 224"), ("the Eskimo Nebula", "NGC 2392"),
        ("Double Cluster", "C 14"), ("Flame Nebula", "NGC 2024"), ("Hyades", "Mel 25"), ("Mel 25", "C 41"),
        ("Coathanger", "Cr 399"), ("Horsehead Nebula", "B 33"), ("Sh2-155", "C 9"), ("M 102", "NGC 5866"),
        ("Bode’s Galaxy", "M 81"), ("LMC", "ESO 56-115"), ("NGC 2239", "NGC 2244"), ("Pleiades", "M 45"),
        ("gamma leonis", "Algieba"), ("γ Leo", "Algieba"), ("Gam Leo", "Algieba"), ("Beta Cygni", "Albireo"),
        ("β Cyg", "Albireo"), ("61 Cyg", "61 Cygni"), ("Epsilon Bootis", "Izar"), ("ε Boötis", "Izar"),
        ("Theta1 Ori", "Trapezium"), ("θ¹ Orionis", "Trapezium"), ("omicron 2 Eri", "Keid"),
        ("HIP 95947", "Albireo"), ("alpha lyr", "Vega"),
    ],
)  # fmt: skip
def test_the_same_thing_is_found_by_its_other_names(written, other, resolved):
    found, expected = resolved(written), resolved(other)
    assert (found.ra_deg, found.dec_deg, found.kind) == (expected.ra_deg, expected.dec_deg, expected.kind)
    assert found.name == written


@rows("other, usual", [("NGC 2239", "NGC 2244"), ("NGC 6882", "NGC 6885"), ("NGC 3189", "NGC 3190")])
def test_of_two_numbers_for_one_thing_the_one_in_use_is_shown(other, usual):
    # Common practice: Caldwell 50, Caldwell 37, the brightest of Hickson 44.
    assert lookup(other).name == lookup(usual).name == usual


def test_other_names_do_not_repeat_the_name_the_plan_uses(resolved):
    assert resolved("m31").other_names[0] == "NGC 224"
    assert "M 31" not in resolved("Messier 31").other_names
    assert resolved("NGC 224").other_names[0] == "M 31"
    assert resolved("γ Leo").other_names[0] == "Algieba"
    assert "Gamma Leonis" not in resolved("γ Leo").other_names
    assert "Flame Nebula" not in resolved("IC 434").other_names


def test_doubles_bring_what_is_needed_to_split_them(resolved):
    found = resolved("Albireo")
    assert found.kind == Kind.DOUBLE
    assert (found.magnitude, found.companion_magnitude) == (3.1, 5.1)
    assert found.separation_arcsec == pytest.approx(34.5, abs=0.5)


def test_values_by_hand_stand_above_the_catalogue(resolved):
    found = resolved(
        "M 13", magnitude=5.5, size_arcmin=25.0, note="try 120x", eyepiece="10 mm", min_altitude_deg=30.0
    )
    assert (found.magnitude, found.size_arcmin, found.size_minor_arcmin) == (5.5, 25.0, None)
    assert (found.note, found.eyepiece, found.min_altitude_deg) == ("try 120x", "10 mm", 30.0)
    assert found.kind == Kind.GLOBULAR_CLUSTER
    moved = resolved("M 13", kind=Kind.OPEN_CLUSTER, position="5h00m +0d30m")
    assert (moved.kind, moved.ra_deg, moved.dec_deg, moved.constellation) == (
        Kind.OPEN_CLUSTER,
        75,
        0.5,
        "Ori",
    )


def test_a_magnitude_by_hand_is_v_even_where_the_catalogue_has_blue(resolved):
    assert resolved("IC 421").magnitude_band == "B"
    assert resolved("IC 421", magnitude=12.3).magnitude_band == "V"


def test_a_magnitude_by_hand_stands_above_a_catalogued_surface_brightness(resolved):
    assert resolved("NGC 7000").surface_brightness_mag is not None
    assert resolved("NGC 7000", magnitude=4.0).surface_brightness_mag is None


@rows("name", ["NGC 1499", "NGC 6888", "IC 5146"])
def test_a_magnitude_that_is_not_the_nebula_s_is_none(name, resolved):
    assert resolved(name).magnitude is None
    assert resolved(name, magnitude=9.0).magnitude == 9.0


@rows(
    "name, magnitude",
    [("NGC 253", 7.2), ("NGC 4945", 8.6), ("NGC 4565", 9.6), ("M 84", 9.1), ("NGC 5128", 6.8)],
)
def test_bright_galaxies_have_the_magnitude_that_catalogues_agree_on(name, magnitude, resolved):
    # RC3 (de Vaucouleurs et al. 1991), from memory; OpenNGC is up to four magnitudes off.
    assert resolved(name).magnitude == pytest.approx(magnitude, abs=0.2)


def test_a_hand_written_target_needs_kind_and_position(resolved):
    found = resolved("My comet", kind=Kind.GALAXY, position="23h57m24s +56d42m30s", magnitude=9.0)
    assert (found.kind, found.constellation, found.magnitude) == (Kind.GALAXY, "Cas", 9.0)
    assert found.ra_deg == pytest.approx(359.35, abs=0.001)
    for fields in ({}, {"kind": Kind.GALAXY}):
        with pytest.raises(NightmodeError, match=r"not in the catalogue.*kind.*position"):
            resolved("My comet", **fields)


@rows("kind", [Kind.MOON, Kind.PLANET, Kind.LUNAR_FEATURE])
def test_what_moves_may_not_be_given_a_position(kind, resolved):
    with pytest.raises(NightmodeError, match="moves"):
        resolved("Saturn", kind=kind, position="10h00m +10d00m")


def test_a_planet_that_is_none_is_refused(resolved):
    with pytest.raises(NightmodeError, match="not in the catalogue"):
        resolved("Vulcan", kind=Kind.PLANET)


@rows(
    "name, said",
    [
        ("Andromida galaxy", "Andromeda Galaxy"), ("Satrun", "Saturn"), ("Copernicos", "Copernicus"),
        ("Albirio", "Albireo"), ("M 111", "1 to 110"), ("NGC 9999", "1 to 7840"), ("M 0", "1 to 110"),
    ],
)  # fmt: skip
def test_what_is_not_known_says_so_and_what_comes_near(name, said, resolved):
    with pytest.raises(NightmodeError, match="not in the catalogue") as caught:
        resolved(name)
    assert said in str(caught.value)


def test_a_number_with_nothing_behind_it_says_what_was_noted(resolved):
    with pytest.raises(NightmodeError, match="noted there"):
        resolved("NGC 412")


def test_near_matches_are_few_and_the_nearest_comes_first():
    assert near_matches("x" * 80) == []
    assert near_matches("Ring Nebul")[0] == "Ring Nebula"
    assert len(near_matches("Ring Nebul")) <= 3


def test_resolving_loads_none_of_the_heavy_libraries():
    code = """
import sys
from nightmode.model.target import Target
from nightmode.catalog.resolve import resolve
for number in range(1, 31):
    resolve(Target(name=f"M {number}"))
assert not {"numpy", "skyfield", "pyongc"} & set(sys.modules), sorted(sys.modules)
"""
    subprocess.run([sys.executable, "-c", code], check=True)


@rows(
    "name, said, never",
    [
        ("Pluto", "orbit", "Plato"),
        ("Ceres", "orbit", "Cetus"),
        ("Ganymede", "moon of Jupiter", "did you mean"),
        ("Orion", "a constellation", "Orion B"),
        ("Andromida", "Andromeda", "59"),
        ("Betelguese", "Betelgeuse", "HIP"),
    ],
)
def test_hints_lead_nobody_astray(name, said, never, resolved):
    with pytest.raises(NightmodeError) as caught:
        resolved(name)
    assert said in str(caught.value)
    assert never not in str(caught.value).replace(name, "")
