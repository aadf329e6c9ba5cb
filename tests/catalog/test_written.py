"""Names as people write them, found: what they mean is from memory, as every handbook has it."""

from rows import rows

from nightmode.catalog.bright import bright_star
from nightmode.catalog.resolve import lookup
from nightmode.catalog.stars import star_key, stars
from nightmode.catalog.tables import table, words
from nightmode.kinds import STARS
from nightmode.sky.constellation import constellation
from nightmode.sky.vectors import separation_deg

MEANT = {
    "NGC 104": ("47 Tuc", "47 Tucanae"),
    "NGC 5139": ("omega Cen", "ω Centauri", "Omega Centauri"),
    "NGC 6543": ("Cat's Eye", "Cats Eye Nebula"),
    "M 20": ("Trifid", "the Trifid Nebula"),
    "M 8": ("Lagoon",),
    "M 27": ("Dumbbell",),
    "NGC 7293": ("Helix",),
    "NGC 2392": ("Eskimo",),
    "NGC 2024": ("Flame",),
    "NGC 4038": ("Antennae", "Antennae Galaxies"),
    "Coalsack": ("Coalsack", "Caldwell 99"),
    "NGC 4490": ("Cocoon Galaxy",),
    "IC 5146": ("Cocoon Nebula", "Cocoon"),
    "B 86": ("B86", "Barnard 86", "Ink Spot"),
    "Mel 20": ("Mel20", "Melotte 20", "Alpha Persei Cluster"),
    "Cr 70": ("Collinder 70", "cr70"),
    "Tr 37": ("Trumpler 37", "tr 37"),
    "Stock 2": ("stock2", "Muscle Man Cluster"),
    "Sh2-101": ("Sharpless 101", "sh 2-101", "Tulip Nebula", "Tulip"),
    "Pal 5": ("Palomar 5", "pal5"),
    "NGC 1499": ("California", "Sh2-220"),
    "M 11": ("Wild Duck", "wild duck cluster"),
    "M 97": ("Owl",),
    "Mizar": ("79 UMa", "zeta UMa", "HIP 65378", "HD 116656"),
    "Cor Caroli": ("12 CVn", "alpha2 CVn", "HIP 63125"),
    "Mira": ("o Cet", "omicron Ceti", "68 Cet", "HD 14386"),
    "Betelgeuse": ("HIP27989", "HIP 27989", "58 Ori", "HR 2061"),
    "Tegmine": ("STF 1196", "Struve 1196", "zeta Cnc"),
    "Suhail": ("lambda Vel", "HIP 44816"),
    "Dschubba": ("δ Sco", "7 Scorpii"),
    "Eta Carinae": ("η Car", "HD 93308"),
}


@rows("usual", MEANT)
def test_a_name_is_found_however_it_is_written(usual):
    assert {written: lookup(written).name for written in MEANT[usual]} == dict.fromkeys(MEANT[usual], usual)


def test_every_star_brighter_than_two_and_a_half_is_found_by_its_name():
    """Names: IAU Catalog of Star Names (2022). Magnitudes: Bright Star Catalogue (V/50)."""
    brightest = [row for row in table("bright_stars") if float(row["magnitude"] or 9) < 2.5]
    assert len(brightest) > 85
    for row in brightest:
        found = lookup(row["name"])
        assert found is not None, row["name"]
        apart = separation_deg(found.ra_deg, found.dec_deg, float(row["ra_deg"]), float(row["dec_deg"]))
        assert apart < 0.01, row["name"]


@rows(
    "name",
    # IAU Catalog of Star Names: the proper names of stars that observers use, from memory.
    [
        "Alioth", "Alkaid", "Dubhe", "Merak", "Phecda", "Megrez", "Alcor", "Kochab", "Thuban",
        "Eltanin", "Schedar", "Caph", "Ruchbah", "Alderamin", "Errai", "Mirfak", "Algol", "Hamal",
        "Sheratan", "Menkar", "Diphda", "Alphard", "Denebola", "Zosma", "Alphecca", "Rasalhague",
        "Kaus Australis", "Nunki", "Shaula", "Lesath", "Sargas", "Enif", "Markab", "Scheat",
        "Algenib", "Alpheratz", "Mirach", "Peacock", "Alnair", "Ankaa", "Miaplacidus", "Avior",
        "Aspidiske", "Naos", "Regor", "Atria", "Gacrux", "Imai", "Menkent", "Wezen", "Adhara",
        "Aludra", "Mirzam", "Alnitak", "Alnilam", "Mintaka", "Saiph", "Bellatrix", "Elnath",
    ],
)  # fmt: skip
def test_named_stars_are_stars(name):
    assert lookup(name).kind in STARS


def test_a_star_that_our_other_tables_have_is_the_one_they_have():
    assert bright_star("12 CVn") is stars()["cor caroli"]
    assert bright_star("Copernicus") is None


def test_the_keys_in_the_table_are_those_of_the_names():
    seen = set()
    for row in table("bright_stars"):
        keys = row["keys"].strip("|").split("|")
        assert row["keys"] == f"|{'|'.join(keys)}|"
        assert not seen & set(keys), row
        seen |= set(keys)
        numbers = ("hip ", "hr ", "hd ", "ads ")
        named = {star_key(name) for name in (row["name"], *words(row["other_names"]))}
        # A letter without its number stands for the brightest of that letter.
        loose = {key for key in keys if key not in named and not key.startswith(numbers)}
        assert all(any(name.startswith(key.split(" ")[0]) for name in named) for key in loose), row
    assert len(seen) > 11000


def test_bright_stars_stand_in_the_constellation_they_name():
    for row in table("bright_stars")[::20]:
        assert constellation(float(row["ra_deg"]), float(row["dec_deg"])) == row["constellation"], row["name"]
