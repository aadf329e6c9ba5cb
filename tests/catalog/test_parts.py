"""Names that hold more than one name, as lists and books have them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rows import rows

from nightmode.catalog.parts import parts_of
from nightmode.catalog.resolve import lookup, resolve
from nightmode.errors import NightmodeError
from nightmode.model.target import Target

#: Usual catalogues: M 44 is NGC 2632, Praesepe, the Beehive; Struve 2470 is in Lyra, h 3945 in Canis Major.
TWICE = (
    ("Praesepe (M44)", "M 44"),
    ("M44 Praesepe", "M 44"),
    ("M 44, Beehive", "M 44"),
    ("M 44 = NGC 2632", "M 44"),
    ("NGC 7789 - Caroline's Rose", "NGC 7789"),
    ("M 42 (Orion)", "M 42"),
    ("h 3945 CMa", "145 Canis Majoris"),
    ("Struve 2470 Lyr", "Struve 2470"),
    ("γ And (Almach)", "Almach"),
    ("h and chi Persei", "Double Cluster"),
    ("40/41 Dra", "41 Draconis"),
)
SEVERAL = (
    ("M81/82", ("M 81", "M 82")),
    ("M 81 & M 82", ("M 81", "M 82")),
    ("M 108/97", ("M 108", "M 97")),
    ("NGC 6960/92", ("NGC 6960", "NGC 6992")),
    ("NGC 4038/9", ("NGC 4038", "NGC 4039")),
    ("B142-143", ("B 142", "B 143")),
    ("M31 + M32 and M110", ("M 31", "M 32", "M 110")),
    ("Praesepe (M42)", ("M 44", "M 42")),
    ("Theophilus, Cyrillus", ("Theophilus", "Cyrillus")),
)


@rows("written, usual", TWICE)
def test_an_object_that_is_named_twice_is_understood_once(written, usual):
    assert resolve(Target(name=written)).name == written  # as the plan has it
    assert lookup(written) == lookup(usual)


@rows("written, each", SEVERAL)
def test_several_objects_in_one_name_are_asked_for_one_by_one(written, each):
    with pytest.raises(NightmodeError, match="several objects") as refused:
        resolve(Target(name=written))
    assert str(refused.value).endswith(f"write each by itself: {', '.join(each)}.")


def test_a_constellation_beside_a_name_must_be_that_of_the_object():
    with pytest.raises(NightmodeError, match="did you mean NGC 2419"):
        resolve(Target(name="NGC 2419 Ori"))
    assert lookup("NGC 2419 Lynx").name == "NGC 2419"


@given(st.text(max_size=40))
def test_no_text_upsets_the_search_for_parts(text):
    parts = parts_of(text)
    assert all(part.strip() for part in parts)
    assert len(parts) != 1
