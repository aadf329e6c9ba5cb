"""How well known an object is: what many lists name, and has a name in words, is best known."""

from nightmode.planning.renown import renown, showpiece_renown


def known(*names, aperture_mm=150, darkest_mag=20.0):
    return renown(names, aperture_mm, darkest_mag)


def test_what_more_lists_name_has_more_renown():
    """From memory: the Ring Nebula is Messier's, the Jewel Box Caldwell's; NGC 6755 has no name."""
    ring, jewel_box, nameless = known("M 57", "NGC 4755", "NGC 6755")
    assert ring > jewel_box > nameless == 0.0


def test_of_two_in_one_list_the_one_with_a_name_of_its_own_is_better_known():
    """The Owl Cluster against NGC 559, both Caldwell's (Moore 1995)."""
    named, unnamed = known("NGC 457", "NGC 559")
    assert named > unnamed > 0.0


def test_objects_are_known_under_the_names_that_the_catalogue_gives_them():
    """From memory: Caldwell 41, Melotte 20 and Collinder 399 have names that everybody uses."""
    assert (known("Hyades", "Mel 20", "Cr 399") > 0.0).all()


def test_pairs_of_the_bundled_list_are_better_known_than_others():
    albireo, other = known("Albireo", "Struve 2486")
    assert albireo > other == 0.0


def test_what_wants_darkness_is_better_known_to_a_large_telescope_in_the_dark():
    """Common practice, no published source: NGC 891 is what 500 mm are carried to a dark place for."""
    small, in_town, large = (
        known("NGC 891", aperture_mm=aperture_mm, darkest_mag=darkest_mag)[0]
        for aperture_mm, darkest_mag in ((114, 21.8), (500, 19.0), (500, 21.8))
    )
    assert small == in_town < large
    assert known("M 13", aperture_mm=500, darkest_mag=21.8) == known("M 13")


def test_a_number_of_a_survey_is_not_what_a_list_is_made_of():
    assert known("ESO 121-006") < known("NGC 6755")


def test_only_showpieces_have_the_renown_of_showpieces():
    """Common practice, no published source: M 13 is shown to everybody, M 72 to few."""
    cluster, little_known, southern = showpiece_renown(["M 13", "M 72", "NGC 5139"])
    assert cluster == southern > little_known == 0.0
