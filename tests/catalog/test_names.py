import re

from hypothesis import given
from hypothesis import strategies as st
from rows import rows

from nightmode.catalog.columns import all_objects
from nightmode.catalog.names import designation_key, display_name, number_out_of_range, plain_key
from nightmode.catalog.resolve import lookup


@rows(
    "written, key",
    [
        ("M 13", "M013"), ("m13", "M013"), ("Messier 13", "M013"), ("M013", "M013"), ("M-13", "M013"),
        ("NGC 7789", "NGC7789"), ("ngc7789", "NGC7789"), ("NGC  224", "NGC0224"), ("n 7789", "NGC7789"),
        ("IC 434", "IC0434"), ("ic0434", "IC0434"), ("Caldwell 14", "C014"), ("C14", "C014"),
        ("Barnard 33", "B033"), ("B33", "B033"), ("Mel 25", "MEL025"), ("Melotte 25", "MEL025"),
        ("Sh2-155", "SH2155"), ("Sh 2-155", "SH2155"), ("sharpless 155", "SH2155"), ("Cr 399", "CR399"),
        ("Collinder 399", "CR399"), ("NGC 7320C", "NGC7320C"), ("ngc 7320 c", "NGC7320C"),
        ("NGC 520 NED01", "NGC0520 NED01"), ("UGC 5470", "UGC05470"), ("PGC 143", "PGC000143"),
        ("Hickson 92", "HCG092"), ("ESO 56-115", "ESO056-115"), ("MCG +07-02-016", "MCG+07-02-016"),
        ("MCG-01-02-003", "MCG-01-02-003"),
    ],
)  # fmt: skip
def test_designations_are_read_as_people_write_them(written, key):
    assert designation_key(written) == key


@rows(
    "name", ["Saturn", "Albireo", "M", "13", "M 13 b", "NGC", "61 Cygni", "M 1234567", "", "Mizar 2", "IC-"]
)
def test_other_names_are_no_designations(name):
    assert designation_key(name) is None


@given(
    st.sampled_from([("M", 110, "M{:03d}"), ("NGC", 7840, "NGC{:04d}"), ("IC", 5386, "IC{:04d}")]),
    st.data(),
    st.sampled_from(["", " ", "  ", "-"]),
    st.sampled_from([str.upper, str.lower, str.title]),
    st.integers(0, 2),
)
def test_blanks_case_and_leading_zeros_make_no_difference(catalogue, data, joint, case, zeros):
    prefix, largest, key = catalogue
    number = data.draw(st.integers(1, largest))
    written = f" {case(prefix)}{joint}{'0' * zeros}{number} "
    assert designation_key(written) == key.format(number)


@given(st.text(max_size=80))
def test_any_text_has_a_plain_form_that_is_its_own_plain_form(text):
    once = plain_key(text)
    assert plain_key(once) == once
    designation_key(text)


@rows(
    "key, name",
    [("NGC0224", "NGC 224"), ("IC0434", "IC 434"), ("Mel022", "Mel 22"), ("Cl399", "Cr 399"),
     ("B033", "B 33"), ("SH2155", "Sh2-155"), ("NGC2024", "NGC 2024"), ("ESO056-115", "ESO 56-115"),
     ("PGC000143", "PGC 143")],
)  # fmt: skip
def test_keys_are_shown_as_people_write_them_and_read_back(key, name):
    assert display_name(key) == name
    assert designation_key(name).upper() in (key.upper(), key.upper().replace("CL", "CR"))


def test_numbers_beyond_a_catalogue_are_known():
    assert number_out_of_range("M111") == "M numbers run from 1 to 110"
    assert number_out_of_range("NGC7841") == "NGC numbers run from 1 to 7840"
    assert number_out_of_range("M110") is None


@given(st.text(st.characters(codec="ascii"), max_size=30))
def test_a_name_of_plain_letters_has_the_key_that_it_has_among_others(text):
    among_others = plain_key(f"é {text}").removeprefix("e").strip()
    while among_others.startswith("the "):
        among_others = among_others.removeprefix("the ")
    assert plain_key(text) == among_others


def test_every_object_is_shown_under_a_name_that_observers_use_and_that_is_read_back():
    """Not under a running number of the source ("NGC 520 NED01") nor a number of a list of names (C 41)."""
    names = all_objects().name
    assert len(set(names)) == len(names) > 12_000
    assert [name for name in names if "NED" in name or re.fullmatch(r"(C|MWSC) \d+", name)] == []
    components = [name for name in names if re.fullmatch(r"(NGC|IC) \d+[A-Z]", name)]
    assert len(components) > 700
    for name in (*components[::10], "Hyades", "Double Cluster", "Coalsack", "Sh2-155"):
        assert lookup(name).name == name


@rows(
    "written, shown",
    [("NGC 520 NED01", "NGC 520A"), ("ngc520b", "NGC 520B"), ("IC 186 NED03", "IC 186C"),
     ("NGC 2957A", "NGC 2957A"), ("NGC 2957 NED01", "NGC 2957B"), ("C 41", "Hyades")],
)  # fmt: skip
def test_a_component_is_shown_with_its_letter_however_it_is_written(written, shown):
    assert lookup(written).name == shown
