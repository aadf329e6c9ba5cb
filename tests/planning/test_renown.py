"""How well known an object is: what many lists name, and has a name in words, is best known."""

from nightmode.planning.renown import renown


def test_what_more_lists_name_has_more_renown():
    """From memory: the Ring Nebula is Messier's, the Jewel Box Caldwell's; NGC 6755 has no name."""
    ring, jewel_box, nameless = renown(["M 57", "NGC 4755", "NGC 6755"])
    assert ring > jewel_box > nameless == 0.0


def test_of_two_in_one_list_the_one_with_a_name_of_its_own_is_better_known():
    """The Owl Cluster against NGC 559, both Caldwell's (Moore 1995)."""
    named, unnamed = renown(["NGC 457", "NGC 559"])
    assert named > unnamed > 0.0


def test_objects_are_known_under_the_names_that_the_catalogue_gives_them():
    """From memory: Caldwell 41, Melotte 20 and Collinder 399 have names that everybody uses."""
    assert (renown(["Hyades", "Mel 20", "Cr 399"]) > 0.0).all()


def test_pairs_of_the_bundled_list_are_better_known_than_others():
    albireo, other = renown(["Albireo", "Struve 2486"])
    assert albireo > other == 0.0
