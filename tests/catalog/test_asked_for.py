"""Objects that keen observers ask for beyond the great catalogues: names, places and values against facts."""

import math

import numpy as np
import pytest
from rows import rows

from nightmode.catalog.database import planetary_rows
from nightmode.catalog.planetaries import galactic_deg
from nightmode.catalog.resolve import lookup
from nightmode.catalog.tables import table, words
from nightmode.errors import NightmodeError
from nightmode.kinds import Kind
from nightmode.sky.vectors import separation_deg

#: Planetary nebulae and their PN G numbers, which are galactic places cut or rounded to a tenth of a degree:
#: Acker et al. 1992 (Strasbourg-ESO Catalogue of Galactic Planetary Nebulae), from memory.
PLANETARIES = [
    ("Stingray Nebula", "331.3-12.1"), ("Hen 2-104", "315.4+09.4"), ("Hen 2-111", "315.0-00.3"),
    ("SuWt 2", "311.0+02.4"), ("MyCn 18", "307.5-04.9"), ("Soap Bubble", "075.5+01.7"),
    ("Abell 2", "122.1-04.9"), ("Abell 3", "131.5+02.6"), ("Abell 4", "144.3-15.5"),
    ("Abell 6", "136.1+04.9"), ("Abell 7", "215.5-30.8"), ("Abell 12", "198.6-06.3"),
    ("Abell 13", "204.0-08.5"), ("Abell 16", "153.7+22.8"), ("Abell 18", "216.0-00.2"),
    ("Abell 20", "214.9+07.8"), ("Abell 24", "217.1+14.7"), ("Abell 28", "158.8+37.1"),
    ("Abell 30", "208.5+33.2"), ("Abell 31", "219.1+31.2"), ("Abell 33", "238.0+34.8"),
    ("Abell 34", "248.7+29.5"), ("Abell 35", "303.6+40.0"), ("Abell 36", "318.4+41.4"),
    ("Abell 43", "036.0+17.6"), ("Abell 46", "055.4+16.0"), ("Abell 51", "017.6-10.2"),
    ("Abell 53", "040.3-00.4"), ("Abell 55", "033.0-05.3"), ("Abell 57", "058.6+06.1"),
    ("Abell 59", "053.3+03.0"), ("Abell 61", "077.6+14.7"), ("Abell 62", "047.1-04.2"),
    ("Abell 63", "053.8-03.0"), ("Abell 65", "017.3-21.9"), ("Abell 66", "019.8-23.7"),
    ("Abell 70", "038.1-25.4"), ("Abell 71", "084.9+04.4"), ("Abell 72", "059.7-18.7"),
    ("Abell 74", "072.7-17.1"), ("Abell 78", "081.2-14.9"), ("Abell 79", "102.9-02.3"),
    ("Abell 80", "102.8-05.0"), ("Abell 82", "114.0-04.6"), ("Abell 84", "112.9-10.2"),
    ("PuWe 1", "158.9+17.8"), ("Longmore-Tritton 5", "339.9+88.4"), ("Sh2-68", "030.6+06.2"),
    ("Sh2-71", "036.0-01.3"), ("Sh2-188", "128.0-04.1"), ("Sh2-216", "158.5+00.7"),
    ("Minkowski 1-64", "064.9+15.5"), ("Minkowski 1-79", "093.3-02.4"), ("Minkowski 2-9", "010.8+18.0"),
    ("Minkowski 2-51", "103.2+00.6"), ("Minkowski 2-55", "116.2+08.5"), ("Hubble 12", "111.8-02.8"),
    ("Humason 2-1", "051.4+09.6"), ("Jonckheere 320", "190.3-17.7"), ("Jonckheere 900", "194.2+02.5"),
    ("Vyssotsky 1-2", "053.3+24.0"), ("Vyssotsky 2-2", "045.4-02.7"), ("Merrill 2-1", "342.1+27.5"),
    ("Merrill 2-2", "100.0-08.7"), ("Menzel 3", "331.7-01.0"), ("Shapley 1", "329.0+01.9"),
    ("Fleming 1", "290.5+07.9"), ("Kohoutek 1-16", "094.0+27.4"), ("Kohoutek 1-22", "283.6+25.3"),
    ("Cannon 3-1", "038.2+12.0"), ("HFG 1", "136.3+05.5"),
]  # fmt: skip


@rows("name, number", PLANETARIES)
def test_planetaries_stand_where_their_numbers_say(name, number):
    found = lookup(name)
    longitude, latitude = galactic_deg(found.ra_deg, found.dec_deg)
    # Sh2-216 is 1.6 degrees across, and the number is that of another middle.
    off = 0.3 if name == "Sh2-216" else 0.11
    assert longitude == pytest.approx(float(number[:5]), abs=off)
    assert latitude == pytest.approx(float(number[5:]), abs=off)


def test_galactic_places_are_those_of_the_poles_and_the_middle_of_the_milky_way():
    # IAU 1958, as in ESA 1997, volume 1, section 1.5.3; Sagittarius A* by Reid & Brunthaler
    # 2004: from memory.
    assert galactic_deg(192.85948, 27.12825)[1] == pytest.approx(90.0, abs=0.001)
    longitude, latitude = galactic_deg(266.41684, -29.00781)
    assert (longitude, latitude) == (pytest.approx(359.944, abs=0.002), pytest.approx(-0.046, abs=0.002))


def test_numbers_of_planetaries_listed_by_openngc_lead_to_them():
    listed = [
        (name, word.strip())
        for name, _, _, identifiers in planetary_rows()
        for word in identifiers.split(",")
        if word.strip().startswith(("PK", "PN G"))
    ]
    assert len(listed) > 150
    astray = [
        (name, number)
        for name, number in listed
        if (found := lookup(number)) is None or found != lookup(name)
    ]
    assert astray == []


@rows(
    "number, name",
    # Perek & Kohoutek 1967 (Catalogue of Galactic Planetary Nebulae), from memory.
    [
        ("PK 64+5.1", "Campbell's Hydrogen Star"), ("PK 064+05 1", "Campbell's Hydrogen Star"),
        ("pk 63+13.1", "M 57"), ("PK 36-57.1", "NGC 7293"), ("PK 231+4.2", "NGC 2438"),
        ("PK 148+57.1", "M 97"), ("PK 3-4.5", "NGC 6565"), ("PK 219+31.1", "Abell 31"),
    ],
)  # fmt: skip
def test_planetaries_go_by_the_numbers_of_perek_and_kohoutek(number, name):
    assert lookup(number) == lookup(name)


@rows("number", ["PK 3-2.1", "PK 36-57.2", "PK 400+5.1", "PN G200.0+89.0", "PK", "PK 64"])
def test_a_number_of_another_planetary_leads_to_none(number):
    assert lookup(number) is None


@rows(
    "catalogue, first_deg",
    # All are numbered by galactic longitude: Sharpless 1959 from 345 degrees, Lynds 1962 from 0; Rodgers,
    # Campbell and Whiteoak 1960 from 220. From memory. Large clouds have no one middle.
    [("Sh2-", 345), ("LDN ", 0), ("RCW ", 220)],
)
def test_nebulae_stand_in_the_order_of_their_numbers(catalogue, first_deg):
    found = []
    for row in table("extras"):
        places = galactic_deg(float(row["ra_deg"]), float(row["dec_deg"]))
        for name in (row["name"], *words(row["other_names"])):
            number = name.removeprefix(catalogue)
            if name.startswith(catalogue) and number.isdigit():
                found.append((int(number), (places[0] - first_deg) % 360, float(row["size_arcmin"]) / 60))
    found.sort()
    assert len(found) > 3
    furthest = np.maximum.accumulate([along - size for _, along, size in found])
    behind = [one for one, most in zip(found, furthest, strict=True) if one[1] + one[2] + 2.5 < most]
    assert behind == []


@rows(
    "name, same",
    # From memory: cross-references that catalogues agree on.
    [
        ("Abell 37", "IC 972"), ("Abell 50", "NGC 6742"), ("Abell 75", "NGC 7076"),
        ("Abell 81", "IC 1454"), ("Abell 31", "Sh2-290"), ("Abell 35", "Sh2-313"),
        ("Abell 426", "NGC 1275"), ("Abell 1656", "NGC 4889"), ("Arp 220", "IC 1127"),
        ("UGC 9913", "IC 4553"), ("Berkeley 42", "NGC 6749"), ("UGC 10822", "Draco Dwarf"),
        ("Djorgovski 1", "Djorg 1"), ("Ruprecht 106", "Rup 106"), ("LDN 1630", "B 33"),
        ("G1", "Mayall II"), ("UGC 12613", "Pegasus Dwarf"), ("UGC 8091", "GR 8"),
        ("HCG 57", "Copeland Septet"), ("Hickson 90", "NGC 7173"), ("Hickson 40", "Arp 321"),
        ("Arp 273", "UGC 1810"), ("Sh2-255", "IC 2162"), ("R Coronae Australis", "NGC 6729"),
        ("Coal Sack", "C 99"), ("Vela SNR", "Gum 16"), ("3C273", "3C 273"), ("Omicron Cygni", "31 Cygni"),
        ("Sirius B", "Sirius"), ("Mizar AB", "Mizar"), ("M 2-9", "Minkowski 2-9"),
        ("Be 17", "Berkeley 17"), ("king13", "King 13"), ("Cassiopeia A", "Cas A"), ("STT 525", "SHJ 282"),
        ("rcw38", "RCW 38"), ("Lynds 1622", "LDN 1622"), ("Mrk 205", "Markarian 205"),
        ("Arp 142", "NGC 2936"), ("Arp 188", "Tadpole Galaxy"), ("Arp 331", "NGC 383"),
        ("Arp244", "NGC 4038"), ("M1-67", "Sh2-80"), ("M1-92", "Minkowski 92"), ("OΣΣ 123", "STTA 123"),
        ("blanco1", "Blanco 1"), ("Perseus Cluster", "Abell 426"), ("BD +30 3639", "PK 64+5.1"),
        ("Ced 201", "vdB 152"), ("Wild's Triplet", "Arp 248"), ("STF 2398", "Struve 2398"),
    ],
)  # fmt: skip
def test_what_observers_write_is_the_object_they_mean(name, same):
    assert lookup(name) is not None
    assert lookup(name) == lookup(same)


@rows(
    "name, kind, ra_deg, dec_deg, magnitude",
    # From memory: the usual reference works, to a few minutes of arc and tenths of a magnitude.
    [
        ("3C 273", Kind.STAR, 187.278, 2.052, 12.9), ("Blanco 1", Kind.OPEN_CLUSTER, 1.03, -29.83, 4.5),
        ("G 1", Kind.GLOBULAR_CLUSTER, 8.194, 39.578, 13.7),
        ("Cetus Dwarf", Kind.GALAXY, 6.546, -11.044, 13.1),
        ("Pegasus Dwarf", Kind.GALAXY, 352.15, 14.74, 12.6),
        ("Andromeda I", Kind.GALAXY, 11.42, 38.04, 12.7),
        ("Abell 36", Kind.PLANETARY_NEBULA, 205.17, -19.88, 11.8),
        ("UGC 3697", Kind.GALAXY, 107.84, 71.84, 13.1),
        ("Abell 30", Kind.PLANETARY_NEBULA, 131.72, 17.88, 13.0),
        ("AM 1", Kind.GLOBULAR_CLUSTER, 58.76, -49.61, 15.7),
        ("Arp 220", Kind.GALAXY, 233.74, 23.50, 13.2),
        ("Berkeley 21", Kind.OPEN_CLUSTER, 87.93, 21.78, 11.1),
        ("RCW 38", Kind.EMISSION_NEBULA, 134.77, -47.51, None),
        ("Cas A", Kind.SUPERNOVA_REMNANT, 350.86, 58.81, None),
        ("B 68", Kind.DARK_NEBULA, 260.66, -23.83, None), ("T Lyrae", Kind.VARIABLE, 278.083, 37.0, None),
    ],
)  # fmt: skip
def test_what_is_asked_for_is_there_with_its_place_and_light(name, kind, ra_deg, dec_deg, magnitude):
    found = lookup(name)
    assert found.kind is kind
    assert separation_deg(found.ra_deg, found.dec_deg, ra_deg, dec_deg) < 0.06
    if magnitude is not None:
        assert found.magnitude == pytest.approx(magnitude, abs=0.15)


@rows("name", ["STF 163", "STF 1932", "STF 2474", "STF 331", "STF 401", "STF 1694", "STF 2840", "HJ 5014"])
def test_a_pair_s_light_together_is_that_of_the_star_hipparcos_saw(name):
    pair = lookup(name)
    places = np.array([(float(row["ra_deg"]), float(row["dec_deg"])) for row in table("field_stars")])
    nearest = int(np.argmin(separation_deg(places[:, 0], places[:, 1], pair.ra_deg, pair.dec_deg)))
    light = 10 ** (-0.4 * pair.magnitude) + 10 ** (-0.4 * pair.companion_magnitude)
    seen = float(table("field_stars")[nearest]["magnitude"])
    assert -2.5 * math.log10(light) == pytest.approx(seen, abs=0.25)


@rows(
    "name, said, instead",
    [
        ("Titan", "a moon of Saturn", 'write Saturn, with note = "Titan"'),
        ("Triton", "a moon of Neptune", "write Neptune"),
        ("Pease 1", "planetary nebula within M 15", "write M 15"),
        ("Q0957+561", "two images of one quasar", 'kind = "star", position = "10h01m21s'),
        ("Einstein Cross", "images of a quasar", "Huchra's Lens"),
        ("Mizar C", "a part of Mizar", "write Mizar"),
        ("Crab Pulsar", "a star of magnitude 16.6 within M 1", "write M 1"),
        ("Lunar X", "light on crater rims by Werner", "write Werner"),
        ("Big Dipper", "a figure of bright stars", "name a star or an object in it"),
        ("the Milky Way", "a light of the sky", "name an object"),
        ("Procyon B", "a part of Procyon", "write Procyon"),
    ],
)
def test_what_lies_within_something_known_says_so_and_what_to_write(name, said, instead, resolved):
    with pytest.raises(NightmodeError) as caught:
        resolved(name)
    assert said in str(caught.value)
    assert instead in str(caught.value)


#: Names in use and what they mean, from memory.
MEANT = {
    "NGC 2070": ("30 Doradus", "30 Dor"),
    "NGC 1049": ("Fornax 3",),
    "M 42": ("Orion's Sword",),
    "NGC 457": ("Phi Cas Cluster", "Owl Cluster"),
    "Rigil Kentaurus": ("Rigil Kent", "Bungula", "Alpha Cen"),
    "Algol": ("Demon Star",),
    "IC 4628": ("Gum 56", "Prawn Nebula"),
    "Gum 15": ("RCW 32",),
    "G 1": ("G1", "Mayall II"),
    "GLIMPSE-C01": ("GLIMPSE01",),
    "Hen 2-104": ("Southern Crab", "He 2-104"),
    "Cygnus X-1": ("HDE 226868", "HD 226868"),
    "T Coronae Borealis": ("Blaze Star", "T CrB"),
    "DY Crucis": ("Ruby Crucis",),
    "Garnet Star": ("Herschel's Garnet Star", "Mu Cephei"),
    "Egg Nebula": ("CRL 2688",),
    "B 59": ("B 65", "Pipe Stem"),
    "Eta Carinae": ("Homunculus Nebula",),
    "Rima Hadley": ("Apollo 15",),
    "Sh2-27": ("Sharpless 27",),
}


@rows("usual", MEANT)
def test_a_name_in_use_is_found(usual):
    found = {written: lookup(written) for written in MEANT[usual]}
    assert {written: one and one.name for written, one in found.items()} == dict.fromkeys(found, usual)


def test_near_stars_stand_where_hipparcos_has_them_and_move():
    """Motions of a year in seconds of arc: Hipparcos (van Leeuwen 2007), from memory, rounded."""
    for name, motion in {
        "Lacaille 9352": 6.9,
        "Luyten's Star": 3.7,
        "Wolf 1061": 1.2,
        "Ross 154": 0.67,
    }.items():
        star = lookup(name)
        assert math.hypot(star.motion_ra_mas, star.motion_dec_mas) / 1000 == pytest.approx(
            motion, rel=0.03
        ), name
