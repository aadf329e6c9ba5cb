"""How instruments are told."""

from nightmode.wording.kit import instrument_and, instruments_item, names_text


def test_the_name_of_the_instrument_gives_way_to_what_is_in_it():
    assert instrument_and("Grey tube", "12 mm", 29) == "Grey tube: 12 mm"
    assert instrument_and("Grey tube", "12 mm", 14) == "Grey t…: 12 mm"
    assert len(instrument_and("A very long telescope", "an eyepiece of a long name + filter", 29)) <= 29


def test_binoculars_are_told_once():
    assert instrument_and("Old 10x50", "Old 10x50", 29) == "Old 10x50"
    assert instrument_and("Old 10x50", "Old 10x50 + Narrow", 29) == "Old 10x50 + Narrow"
    assert instrument_and("2", "20 mm", 29) == "2: 20 mm"
    assert instrument_and("", "20 mm", 29) == "20 mm"


def test_what_goes_without_saying_goes_before_a_name_is_cut():
    assert instrument_and("Old tube", "17 mm eyepiece + O III filter", 29) == "Old tube: 17 mm + O III"
    assert instrument_and("", "17 mm eyepiece + narrowband filter", 29) == "17 mm + narrowband"
    assert instrument_and("", "17 mm eyepiece + O III filter", 29) == "17 mm eyepiece + O III filter"


def test_names_stand_in_a_row():
    assert names_text(["A"]) == "A"
    assert names_text(["A", "B"]) == "A and B"
    assert names_text(["A", "B", "C"]) == "A, B and C"
    assert instruments_item(["A"]) == ()
    assert instruments_item(["A", "B"]) == ("instruments: A and B",)
