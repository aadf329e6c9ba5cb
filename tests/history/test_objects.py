"""Who is who. The pairs are cross references of SIMBAD (CDS, Strasbourg), from memory."""

import pytest

from nightmode.history.objects import identify


@pytest.mark.parametrize(
    "names",
    [
        ("M 102", "NGC 5866", "m102", "ngc5866"),
        ("Albireo", "Beta Cygni", "β Cyg", "beta cyg", "bet Cyg"),
        ("M 31", "NGC 224", "Andromeda Galaxy", "UGC 454", "PGC 2557"),
        ("M 45", "Pleiades", "Melotte 22"),
        ("NGC 869", "ngc  869"),
        ("Moon", "moon", "Luna"),
        ("My own asterism", "my own  asterism"),
    ],
)
def test_names_of_one_object_have_one_key(names):
    assert len({identify(name).key for name in names}) == 1


def test_names_of_two_objects_have_two():
    names = ("M 31", "M 32", "NGC 205", "Albireo", "Almach", "Saturn", "Copernicus", "nobody's star")
    assert len({identify(name).key for name in names}) == len(names)


def test_what_the_catalogue_does_not_know_has_no_kind():
    assert identify("nobody's star").kind == ""
    assert identify("NGC 891").kind == "galaxy"
