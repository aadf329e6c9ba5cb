"""Open clusters by their names in smaller catalogues."""

import pytest
from rows import rows

from nightmode.catalog.clusters import cluster_key
from nightmode.catalog.resolve import lookup
from nightmode.catalog.tables import table, words
from nightmode.kinds import Kind
from nightmode.sky.constellation import constellation

#: How observers write the names of catalogues (from memory).
MEANT = {
    "Haffner 8": ("Haf 8", "haffner 08", "Haffner8"),
    "Berkeley 1": ("Be 1", "Berkeley 01", "Berk 1"),
    "Ruprecht 18": ("Rup 18", "ru 18"),
    "Pismis 24": ("Pis 24",),
    "Czernik 13": ("Cz 13",),
    "Dolidze 25": ("Do 25", "Dol 25"),
    "Dol-Dzim 9": ("DoDz 9", "Dolidze-Dzimselejsvili 9", "Dolidze Dzim 9"),
    "Lynga 6": ("Lyngå 6",),
    "Tombaugh 1": ("Tom 1", "To 1"),
    "Roslund 2": ("Ros 2",),
    "BH 99": ("VDBH 99", "van den Bergh-Hagen 99"),
    "Tr 5": ("Trumpler 5",),
    "Stock 2": ("St 2", "Stock2"),
    "Stock 23": ("St 23",),
    "Westerlund 1": ("Wes 1",),
}


@rows("usual", MEANT)
def test_a_cluster_is_found_however_its_catalogue_is_written(usual):
    found = {written: lookup(written) for written in MEANT[usual]}
    assert {written: cluster and cluster.name for written, cluster in found.items()} == dict.fromkeys(
        found, usual
    )


def test_every_cluster_is_found_by_each_of_its_names_and_stands_in_its_constellation():
    seen = set()
    for row in table("open_clusters"):
        for name in (row["name"], *words(row["other_names"])):
            cluster = lookup(name)
            assert (cluster.name, cluster.kind) == (row["name"], Kind.OPEN_CLUSTER), name
            assert f"|{cluster_key(name)}|" in row["keys"], name
        assert constellation(cluster.ra_deg, cluster.dec_deg) == cluster.constellation, cluster.name
        keys = set(row["keys"].strip("|").split("|"))
        assert not keys & seen
        seen |= keys
    assert sum(bool(row["size_arcmin"]) for row in table("open_clusters")) > 800


@rows(
    "name, magnitude, size, hours, degrees",
    # Lynga 1987, Catalogue of Open Cluster Data: integrated V, diameter; places of J2000 (CDS B/ocl).
    [
        ("Ruprecht 44", 7.2, 10, 7 + 59.1 / 60, -28.58),
        ("Ruprecht 98", 7.0, 14, 11 + 58.1 / 60, -64.48),
        ("Hogg 16", 8.4, 6, 13 + 29.3 / 60, -61.2),
        ("Tombaugh 5", 8.4, 17, 3 + 47.9 / 60, 59.05),
    ],
)
def test_published_values_stand_there(name, magnitude, size, hours, degrees):
    cluster = lookup(name)
    assert (cluster.magnitude, cluster.size_arcmin) == (magnitude, size)
    assert cluster.ra_deg == pytest.approx(15 * hours, abs=0.05)
    assert cluster.dec_deg == pytest.approx(degrees, abs=0.05)


def test_a_cluster_of_faint_stars_is_not_brighter_than_they_allow():
    """No cluster's tenth star is brighter than the cluster, and ten such stars give no more light than it."""
    for row in table("open_clusters"):
        if row["magnitude"] and row["tenth_star_magnitude"]:
            assert float(row["tenth_star_magnitude"]) > float(row["magnitude"]) + 1.0, row


@rows(
    "name",
    ["NGC 1981", "Christmas Tree Cluster", "NGC 2244", "NGC 6250", "NGC 6530", "NGC 6823", "NGC 6997"],
)
def test_a_cluster_whose_nebula_has_its_own_name_is_looked_at_for_its_stars(name):
    # Common practice: the Running Man, the Rosette, the Lagoon and the North America have their own entries.
    assert lookup(name).kind is Kind.OPEN_CLUSTER


def test_the_nebula_around_a_cluster_is_asked_for_by_its_own_name():
    # Dias et al. 2002: NGC 2264 is 39 arcmin wide; the nebula is Sharpless 273 (from memory).
    assert lookup("NGC 2264").size_arcmin == 39.0
    assert lookup("Fox Fur Nebula").kind is lookup("Sh2-273").kind is Kind.EMISSION_NEBULA
    assert lookup("Cone Nebula").kind is Kind.DARK_NEBULA


@rows("name, magnitude", [("Tr 37", 5.1), ("Cr 121", 5.8)])
def test_the_light_of_a_loose_cluster_is_not_that_of_a_supergiant_beside_it(name, magnitude):
    # Lynga 1987, source 50. Source 422 has 3.5 and B-V 1.37 for the blue stars of Tr 37: Mu Cephei is in it.
    assert lookup(name).magnitude == magnitude
