"""Double stars beyond the showpieces: names as people write them, orbits as their catalogue has them."""

from collections import Counter

import numpy as np
import pytest
from rows import rows

from nightmode.catalog.field import field_stars
from nightmode.catalog.pairs import beside, pair_named
from nightmode.catalog.resolve import lookup
from nightmode.catalog.stars import star_key, stars
from nightmode.catalog.tables import table, words
from nightmode.history.objects import identify
from nightmode.kinds import STARS, Kind
from nightmode.sky.binary import of_year
from nightmode.sky.constellation import constellation
from nightmode.sky.vectors import unit_vectors

#: What each pair is called; letters, numbers and discoverers' codes from memory, as handbooks have them.
MEANT = {
    "Eta Coronae Borealis": (
        *("Eta CrB", "η CrB", "2 CrB", "STF 1937", "Struve 1937", "Σ1937", "Σ 1937", "STF1937AB", "ADS 9617"),
        *("HIP 75312", "HR 5727", "HD 137107", "Eta CrB AB"),
    ),
    "Zeta Boötis": ("Zeta Bootis", "30 Boo", "HR 5477", "HR 5478", "STF 1865", "Zeta Bootis B"),
    "72 Pegasi": ("72 Peg", "BU 720", "β 720", "Burnham 720"),
    "Gamma Centauri": ("γ Cen", "h 4539", "HJ 4539", "John Herschel 4539"),
    "Gamma Lupi": ("γ Lup", "h4786"),
    "14 Orionis": ("14 Ori", "i Orionis", "STT 98", "OΣ 98", "Otto Struve 98", "HIP 23879"),
    "Gamma2 Andromedae": ("Gamma2 And", "STT 38", "Gamma Andromedae BC", "Almach BC", "HR 604"),
    "Delta Equulei": ("STT 535", "7 Equ"),
    "Kappa Pegasi": ("BU 989", "10 Peg"),
    "Dunlop 70": ("DUN 70", "dun70", "Δ 70", "HR 3359"),
    "Krueger 60": ("Krüger 60", "Kruger 60", "KR 60", "HIP 110893"),
    "Struve 1037": ("STF 1037", "HIP 34860"),
    "Struve 1126": ("STF 1126", "Σ 1126"),
    "H 3 96": ("H 3 96", "H3 96", "HR 4444", "HR 4443", "N Hydrae", "17 Crateris"),
    "H N 19": ("n Pup", "HN 19"),
    "Dunlop 141": ("Q Cen", "Δ141"),
    "STFB 6": ("Regulus B", "Regulus AB"),
    "Mu2 Boötis": ("STF 1938", "STF 1938 BC", "Alkalurops BC"),
    "H N 84": ("HN 84", "H N84"),
    "Struve 1196 AB": ("STF1196AB", "Zeta Cancri AB", "Tegmine AB"),
    "Tegmine": ("STF 1196", "STF 1196 AB,C", "Zeta Cancri AB,C", "Zeta2 Cancri"),
    "Almach": ("STF 205 A,BC", "Gamma Andromedae AB", "Gamma Andromedae"),
    "Algieba": ("Gamma2 Leonis", "ADS 7724", "HR 4058"),
    "Innes 365": ("Innes 365",),
    "Albireo": ("ΣI 43", "STFA 43", "Albireo A", "Albireo B"),
    "44 Boötis": ("i Boo", "44 Boo B"),
    "35 Piscium": ("35 Psc", "STF 12", "Struve 12", "HR 50"),
    "Pi Arietis": ("Pi Ari", "42 Ari", "STF 311"),
    "49 Leonis": ("49 Leo", "STF 1450"),
    "Theta Virginis": ("51 Vir", "STF 1724", "Theta Vir AB"),
    "Zeta Sagittae": ("8 Sge", "STF 2585"),
    "51 Piscium": ("51 Psc", "STF 36"),
    "Theta2 Orionis": ("43 Ori", "STFA 16", "Theta2 Ori AB"),
    "Trapezium": ("Theta1 Orionis", "Theta Orionis", "Theta1 Ori AB"),
    "Sheliak": ("Beta Lyr AB", "Sheliak AB", "STFA 39"),
    "Beta Monocerotis": ("Beta Mon ABC", "Herschel's Wonder Star"),
}


@rows("usual", MEANT)
def test_a_pair_is_found_however_it_is_written(usual):
    found = {written: lookup(written) for written in MEANT[usual]}
    assert {written: pair and pair.name for written, pair in found.items()} == dict.fromkeys(found, usual)
    assert all(pair.kind is Kind.DOUBLE for pair in found.values())


@rows(
    "name, angle_2026, separation_2026, angle_2030, separation_2030, separation_2035",
    # Sixth Catalog of Orbits of Visual Binary Stars (U.S. Naval Observatory), 2026-08-22: its ephemeris.
    [
        ("Eta Coronae Borealis", 4.7, 0.78, 21.0, 1.00, 1.02),
        ("72 Pegasi", 110.7, 0.59, 113.1, 0.60, 0.60),
        ("Gamma Centauri", 14.4, 0.83, 10.7, 1.03, 1.23),
        ("Gamma Lupi", 275.6, 0.80, 275.2, 0.78, 0.74),
        ("14 Orionis", 274.1, 1.02, 268.8, 1.05, 1.07),
        ("Gamma2 Andromedae", 113.9, 0.34, 111.9, 0.42, 0.49),
        ("STF 1037", 296.5, 0.67, 290.3, 0.54, 0.32),
        ("STF 1126", 181.0, 0.78, 182.9, 0.76, 0.73),
        ("STF 1196 AB", 343.4, 1.07, 328.0, 1.00, 0.89),
        ("STF 3062", 16.7, 1.49, 25.0, 1.42, 1.27),
        ("STF 2173", 354.1, 0.44, 341.2, 0.81, 1.08),
        ("Beta Delphini", 337.9, 0.48, 353.4, 0.59, 0.47),
        ("BU 648", 216.6, 1.04, 196.2, 0.69, 0.45),
        ("DUN 116", 83.0, 18.59, 83.0, 18.56, 18.53),
    ],
)
def test_pairs_with_an_orbit_stand_where_the_catalogue_of_orbits_has_them(
    name, angle_2026, separation_2026, angle_2030, separation_2030, separation_2035
):
    pair = lookup(name)
    places = [of_year(pair, year) for year in (2026.0, 2030.0, 2035.0)]
    separations = [place.separation_arcsec for place in places]
    assert separations == pytest.approx([separation_2026, separation_2030, separation_2035], abs=0.011)
    for place, angle in zip(places, (angle_2026, angle_2030), strict=False):
        assert (place.position_angle_deg - angle + 180) % 360 - 180 == pytest.approx(0, abs=0.8)


@rows(
    "name, angle, separation",
    # The Washington Double Star Catalog's last measures, from memory; Gaia DR3 has the places.
    [
        ("STF 98", 248, 19.7), ("STF 2452", 218, 5.6), ("STF 1835", 195, 6.2), ("STF 2840", 196, 18.0),
        ("Struve 1615", 88, 26.7), ("STF 1833", 175, 5.9), ("Dunlop 227", 148, 22.9), ("h 3869", 258, 24.9),
        ("SHJ 191", 342, 40.3), ("RMK 20", 146, 1.8), ("BSO 6", 166, 13.1), ("STF 2923", 47, 9.5),
    ],
)  # fmt: skip
def test_pairs_at_rest_stand_where_they_were_measured(name, angle, separation):
    pair = lookup(name)
    assert pair.separation_arcsec == pytest.approx(separation, rel=0.05, abs=0.1)
    assert (pair.position_angle_deg - angle + 180) % 360 - 180 == pytest.approx(0, abs=4)


def test_every_pair_is_whole_and_its_brighter_star_comes_first():
    for row in table("pairs"):
        pair = lookup(row["name"])
        assert pair.magnitude <= pair.companion_magnitude <= 13, pair.name
        assert 0.1 <= pair.separation_arcsec <= 500, pair.name
        assert constellation(pair.ra_deg, pair.dec_deg) == pair.constellation, pair.name
        assert (pair.position_angle_deg is None) == (pair.epoch_year is None), pair.name
        if pair.orbit:
            there = of_year(pair, pair.epoch_year).separation_arcsec
            assert there == pytest.approx(pair.separation_arcsec, abs=0.006), pair.name


def test_every_name_of_a_pair_means_it_and_no_other():
    names = Counter()
    for row in table("pairs"):
        for name in (row["name"], *words(row["other_names"])):
            assert f"|{star_key(name)}|" in row["keys"], name
            assert lookup(name).name == row["name"], name
            names[star_key(name)] += 1
    assert not stars().keys() & names.keys()
    assert len(table("pairs")) > 1900


def test_every_key_of_a_pair_is_found_and_is_its_own_alone():
    seen = {key for row in table("bright_stars") for key in row["keys"].strip("|").split("|")}
    for row in table("pairs"):
        keys = row["keys"].strip("|").split("|")
        assert row["keys"] == f"|{'|'.join(keys)}|"
        assert not seen & set(keys), row
        seen |= set(keys)
        assert pair_named(keys[-1]).name == row["name"], row


def test_the_light_of_the_two_together_is_what_hipparcos_saw():
    """The table of field stars has the light of all within a minute of arc, by Hipparcos's Hp."""
    field = field_stars()
    close = [pair for row in table("pairs") if (pair := lookup(row["name"])).separation_arcsec < 20]
    ra_deg, dec_deg, *magnitudes = (
        np.array([getattr(pair, column) for pair in close])
        for column in ("ra_deg", "dec_deg", "magnitude", "companion_magnitude")
    )
    cosines = unit_vectors(ra_deg, dec_deg) @ field.direction.T
    here = cosines.max(axis=1) > np.cos(np.radians(0.005))
    together = -2.5 * np.log10(sum(10 ** (-0.4 * magnitude) for magnitude in magnitudes))
    off = (together - field.magnitude[cosines.argmax(axis=1)])[here]
    assert len(off) > 800
    assert abs(np.median(off)) < 0.03
    # Of a third star's light, of a variable's, of another band, there are a few.
    assert np.mean(np.abs(off) < 0.15) > 0.9
    assert np.mean(np.abs(off) < 0.4) > 0.98


@rows(
    "name",
    # Stars to align on and to begin a way at (from memory): their companions are faint or far.
    [
        "Regulus", "Denebola", "Procyon", "Vega", "Arcturus", "Capella", "Aldebaran", "Spica", "Altair",
        "Deneb", "Fomalhaut", "Achernar", "Hadar", "Dubhe", "Alphard", "Hamal", "Rasalhague", "Sabik",
        "Nunki", "Scheat", "Mirach", "Gacrux", "Mimosa", "Alhena", "Ascella", "Aludra", "Zosma", "Muphrid",
        "Edasich", "Adhafera",
    ],
)  # fmt: skip
def test_a_star_that_looks_single_stays_a_star(name):
    assert lookup(name).kind in STARS


def test_a_star_with_a_pair_nobody_means_by_its_name_is_that_pair_under_the_pair_s_own():
    assert lookup("Denebola AD").kind is Kind.DOUBLE
    assert lookup("STFB 6").companion_magnitude == pytest.approx(8.2)  # Regulus: from memory
    assert lookup("BU 1118").separation_arcsec < 0.5


def test_a_star_knows_what_is_beside_it_and_a_plan_that_says_double_star_means_both(resolved):
    assert resolved("Sabik").companion.name == "BU 1118"
    assert resolved("Arcturus").companion is None
    both = resolved("Denebola", kind="double star")
    assert both.separation_arcsec == pytest.approx(236.79)  # Gaia DR3
    assert resolved("Vega", kind="double star", separation_arcsec=60.0).separation_arcsec == 60.0


def test_no_pair_is_hidden_from_the_name_of_its_star():
    """A pair known by its discoverer's code alone is found by its star too: as the pair, or beside it."""
    bright, pairs = table("bright_stars"), table("pairs")
    there, wanted = (
        unit_vectors(*(np.array([float(row[column]) for row in rows]) for column in ("ra_deg", "dec_deg")))
        for rows in (bright, pairs)
    )
    places = np.argwhere(wanted @ there.T > np.cos(np.radians(1 / 3600)))
    assert len(places) > 50
    lonely = {
        row["name"]
        for row in (bright[star] for _, star in places)
        if lookup(row["name"]).kind is not Kind.DOUBLE and beside(lookup(row["name"])) is None
    }
    assert lonely == set()


def test_a_kind_in_the_plan_tells_the_discoverer_s_number_from_a_catalogue_s(resolved):
    assert resolved("I 365").kind is Kind.GALAXY
    assert resolved("I 365", kind="double star").separation_arcsec == pytest.approx(0.39, abs=0.01)


def test_what_was_recorded_as_a_star_is_the_pair_now():
    for star, pair in (
        ("Eta Coronae Borealis", "STF 1937"),
        ("HR 5477", "zeta boo"),
        ("Gamma2 Leonis", "Algieba"),
    ):
        assert identify(star).key == identify(pair).key
