import math
from collections import Counter

import numpy as np
import pytest
from rows import rows

from nightmode.catalog.columns import all_objects
from nightmode.catalog.corrections import TABLES
from nightmode.catalog.database import caldwell, find_row
from nightmode.catalog.deepsky import own_deepsky, same_object
from nightmode.catalog.light import lights_of
from nightmode.catalog.lunar import lunar_features
from nightmode.catalog.names import plain_key
from nightmode.catalog.resolve import lookup
from nightmode.catalog.stars import constellations, star_key, stars
from nightmode.catalog.tables import table, words
from nightmode.kinds import Kind
from nightmode.records import replace
from nightmode.sky.binary import of_year
from nightmode.sky.constellation import constellation
from nightmode.visibility.glass import Glass
from nightmode.visibility.margin import margin

OWN = [*stars().values(), *own_deepsky().values()]


def test_lunar_features_are_those_of_the_gazetteer(check):
    case = check("lunar-features-iau")
    for name, latitude, longitude, diameter in case["expected"]["rows"]:
        found = lunar_features()[plain_key(name)]
        assert found.latitude_deg == pytest.approx(latitude, abs=case["tolerance"]["deg"])
        assert found.longitude_deg == pytest.approx(longitude, abs=case["tolerance"]["deg"])
        # Seen from 384,400 km, the Moon's mean distance.
        assert found.size_arcmin == pytest.approx(
            math.degrees(diameter / 384400) * 60, rel=case["tolerance"]["km_relative"], abs=0.0006
        )


def test_lunar_features_lie_where_libration_can_show_them():
    # The Moon sways by about 8 degrees in longitude and 7 in latitude (any textbook).
    assert all(abs(f.latitude_deg) < 80 and abs(f.longitude_deg) < 98 for f in lunar_features().values())
    assert len(table("lunar")) >= 190


def test_rilles_and_chains_of_craters_count_as_lines_and_domes_and_peaks_do_not():
    lines = {one.detail for one in lunar_features().values() if one.detail_is_line}
    details = {one.detail for one in lunar_features().values()}
    assert {detail for detail in details if "rille" in detail or "chain" in detail} <= lines
    assert not lines & {"domes", "peaks", "central peak", "the pit itself", "floor craterlets"}


def test_our_own_places_lie_in_the_constellation_they_name():
    for subject in OWN:
        assert constellation(subject.ra_deg, subject.dec_deg) == subject.constellation, subject.name


def test_a_star_s_letter_names_the_constellation_it_stands_in():
    shortened = {key.casefold(): key for key in constellations()}
    compared = 0
    for subject in stars().values():
        for name in (subject.name, *subject.other_names):
            last = star_key(name).split(" ")[-1]
            if last in shortened and " " in star_key(name):
                assert shortened[last] == subject.constellation, name
                compared += 1
    assert compared > 150


def doubles():
    return list({s.name: s for s in stars().values() if s.kind == Kind.DOUBLE}.values())


def test_doubles_are_whole_and_their_brighter_star_comes_first():
    assert len(doubles()) >= 200
    assert sum(double.dec_deg < -10 for double in doubles()) >= 60
    for double in doubles():
        assert 0.5 <= double.separation_arcsec <= 400, double.name
        assert 0 <= double.position_angle_deg <= 360, double.name
        assert 2010 <= double.epoch_year <= 2030, double.name
        assert double.magnitude <= double.companion_magnitude + 0.15, double.name


def test_every_orbit_belongs_to_a_double_and_meets_its_measured_place():
    # The measured places are Gaia's of 2016; orbits come from the U.S. Naval Observatory's catalogue.
    names = {double.name for double in doubles()}
    assert {row["name"] for row in table("orbits")} <= names
    for double in (double for double in doubles() if double.orbit and double.epoch_year == 2016):
        then = of_year(double, 2016.0)
        measured = pytest.approx(double.separation_arcsec, rel=0.12, abs=0.12)
        assert then.separation_arcsec == measured, double.name
        # Of equal stars either one may be called the first.
        turned = (then.position_angle_deg - double.position_angle_deg + 90) % 180 - 90
        assert abs(turned) < 7, double.name


def test_a_pair_s_light_together_is_not_taken_for_its_brighter_star():
    # Meeus, Astronomical Algorithms, equation 56.1; combined V of the Bright Star Catalogue (V/50).
    combined = {"Zeta Aquarii": 3.65, "Mesarthim": 3.86, "Alrescha": 3.79, "Porrima": 2.74, "Acrux": 0.76}
    known = {double.name: double for double in doubles()}
    for name, together in combined.items():
        light = 10 ** (-0.4 * known[name].magnitude) + 10 ** (-0.4 * known[name].companion_magnitude)
        assert -2.5 * math.log10(light) == pytest.approx(together, abs=0.15), name


def test_there_are_eighty_eight_constellations():
    assert len(constellations()) == 88
    assert len({genitive for _, genitive in constellations().values()}) == 88


@rows("name", [*TABLES, "same", "nicknames", "usual"])
def test_our_tables_speak_of_objects_that_openngc_has(name):
    own = {row["name"] for row in table("extras")} if name == "tellings" else set()
    for row in table(name):
        assert row["object"] in own or find_row(row["object"])["name"] == row["object"], row


def test_a_name_in_use_is_given_to_one_object_alone():
    """Starfish Cluster is M 38's, though NGC 6752 has been called so too; Cone Nebula the dark one's."""
    names = Counter(plain_key(row["name"]) for row in table("nicknames"))
    names.update(
        plain_key(name) for row in table("extras") for name in (row["name"], *words(row["other_names"]))
    )
    assert [name for name, count in names.items() if count > 1] == []
    assert lookup("Starfish Cluster").name == "M 38"


def test_what_observers_tell_moves_the_margin_and_gives_way_to_a_figure_of_the_plan(resolved):
    """M 106 is told easier than its figures say, and a magnitude by hand makes that void."""
    told, by_hand = resolved("M 106"), resolved("M 106", magnitude=8.4)
    assert told.told_dex > 0.0
    assert by_hand.told_dex is None
    dex = [
        margin(light, 21.0, 0.3, Glass(aperture_mm=150.0, magnification=50.0, true_field_deg=1.2)).margin_dex
        for light in (lights_of([told]), lights_of([replace(told, told_dex=None)]))
    ]
    assert dex[0] - dex[1] == pytest.approx(told.told_dex)


def test_designations_added_are_not_in_openngc_already():
    """But for two that it gives to the wrong object: M 102, and Caldwell 49 to a piece of the Rosette."""
    for key in same_object().keys() - {"C049"}:
        row = find_row(key)
        assert row is None or row["type"] == "Dup" or row["messier"] == "101", key


def test_caldwell_49_is_the_whole_rosette(resolved):
    """The list of Moore 1995 (from memory): 49 is NGC 2237-9, the Rosette Nebula."""
    assert resolved("C 49").other_names[0] == "NGC 2237"
    assert "NGC2237" in caldwell()
    assert "NGC2238" not in caldwell()


def test_the_cluster_round_the_planetary_ngc_2818_has_a_brightness_of_its_own(resolved):
    """Lynga 1987 (CDS VII/92A), his source 422: V 8.2, 9' across, 40 stars; OpenNGC has B 12.5."""
    cluster = resolved("NGC 2818A")
    assert (cluster.kind, cluster.magnitude, cluster.size_arcmin) == (Kind.OPEN_CLUSTER, 8.2, 9.0)
    assert resolved("NGC 2818").kind is Kind.PLANETARY_NEBULA


def test_the_whole_catalogue_comes_as_columns():
    columns = all_objects()
    assert len(columns.name) > 12_700
    assert max(Counter(columns.name).values()) == 1
    assert np.isfinite(columns.ra_deg).all()
    assert np.isfinite(columns.dec_deg).all()
    assert ((columns.ra_deg >= 0) & (columns.ra_deg < 360) & (np.abs(columns.dec_deg) <= 90)).all()
    assert not columns.is_blue[np.isnan(columns.magnitude)].any()
    assert set(columns.constellation) - {""} <= set(constellations())


def test_a_row_of_the_columns_is_what_its_name_resolves_to():
    columns = all_objects()
    own = [row for row, name in enumerate(columns.name) if name.startswith(("M ", "ESO", "Cr", "Mel", "C "))]
    for row in (*range(0, len(columns.name), 97), *own, *range(len(columns.name) - 130, len(columns.name))):
        found = lookup(columns.name[row])
        assert found.kind == columns.kind[row], columns.name[row]
        for field in (
            "ra_deg",
            "dec_deg",
            "magnitude",
            "size_arcmin",
            "size_minor_arcmin",
            "separation_arcsec",
        ):
            value = getattr(columns, field)[row]
            expected = getattr(found, field, None)
            assert (np.isnan(value) and expected is None) or value == pytest.approx(expected, abs=1e-9)
        assert columns.is_blue[row] == (found.magnitude_band == "B")
        assert columns.constellation[row] == found.constellation


def test_pairs_that_go_round_stand_in_the_columns_as_they_do_in_a_year():
    # Sixth Catalog of Orbits (U.S. Naval Observatory), Sirius: 11.03 arcsec in 2027.0, 8.36 in 2035.0.
    for year, separation in ((2027.0, 11.03), (2035.0, 8.36)):
        columns = all_objects(year)
        row = columns.name.index("Sirius")
        assert columns.separation_arcsec[row] == pytest.approx(separation, abs=0.02)
