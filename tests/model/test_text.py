import unicodedata

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from pydantic import TypeAdapter, ValidationError
from rows import rows

from nightmode.errors import NightmodeError, printable
from nightmode.model.base import Name, Note, Remark, first_double, one_line, storable

NAME, REMARK, NOTE = TypeAdapter(Name), TypeAdapter(Remark), TypeAdapter(Note)


@rows(
    "character",
    ["\x00", "\x1b", "\x07", "\x7f", "\x9b", "\n", "\t", "\u202e", "\u2066", "\u200f", "\u2028", "\ue000"],
)
def test_a_name_with_a_character_that_steers_the_terminal_is_refused_by_its_number(character):
    with pytest.raises(ValidationError, match=f"U\\+{ord(character):04X}"):
        NAME.validate_python(f"M{character}13")


@rows("name", ["[bold]M 13[/]", "[link=x]", "Ωmega Çentauri", "می\u200cخواهم", "🔭", "日本"])
def test_brackets_and_other_scripts_are_only_text(name):
    assert NAME.validate_python(name) == name


def test_the_longest_name_has_80_characters_and_the_shortest_one():
    assert NAME.validate_python("x" * 80) == "x" * 80
    assert NAME.validate_python("  M 13  ") == "M 13"
    for refused in ("x" * 81, "", "   "):
        with pytest.raises(ValidationError):
            NAME.validate_python(refused)
    with pytest.raises(ValidationError):
        REMARK.validate_python("x" * 501)


def test_emoji_of_a_later_unicode_than_this_python_knows_stay_readable():
    unassigned = next(chr(n) for n in range(0x1FA80, 0x1FB00) if unicodedata.category(chr(n)) == "Cn")
    assert NOTE.validate_python(unassigned) == unassigned


def test_a_pasted_note_of_several_lines_becomes_one_line():
    assert NOTE.validate_python("faint\r\n  round,\tbright core\n") == "faint round, bright core"
    assert NOTE.validate_python("red\x1b[31m\u202edne") == "red<U+001B>[31m<U+202E>dne"


@given(st.text(st.characters(codec=None), max_size=200))
def test_no_note_is_refused_and_none_can_steer_a_terminal(text):
    note = NOTE.validate_python(text)
    assert all(unicodedata.category(c) not in {"Cc", "Cs", "Zl", "Zp", "Co"} for c in note)
    assert NOTE.validate_python(note) == note
    note.encode()


@example("M\u202e 13\u2066\u200f\u2028\u2029\ud800\x9b\x1b\n")
@given(st.text(st.characters(codec=None), max_size=100))
def test_nothing_that_is_printed_can_steer_a_terminal_and_all_else_is_printed_as_it_is(text):
    steers = {c for c in text if unicodedata.category(c) in {"Cc", "Cf", "Cs", "Zl", "Zp"}}
    shown = printable(text)
    assert not steers & set(shown)
    for character in steers:
        text = text.replace(character, f"<U+{ord(character):04X}>")
    assert shown == text if len(text) <= 600 else shown == f"{text[:599]}…"


@given(st.text(st.characters(codec=None), min_size=900, max_size=2_000))
def test_however_long_what_was_typed_is_what_is_wrong_with_it_and_what_to_write_stays_to_be_read(typed):
    told = str(NightmodeError("--latitude", f"{typed!r} is not an angle", "write it like 48.21"))
    assert told.endswith(" is not an angle; write it like 48.21.")
    assert told.startswith("--latitude: ")
    assert len(told) < 400
    assert str(NightmodeError(typed, "is a folder", "name a file")).endswith(": is a folder; name a file.")


def test_a_note_has_a_length_that_it_may_not_pass():
    assert len(NOTE.validate_python("x" * 2000)) == 2000
    with pytest.raises(ValidationError):
        NOTE.validate_python("x" * 2001)
    with pytest.raises(ValidationError):
        NOTE.validate_python(13)


def test_what_is_not_text_is_passed_on_for_the_model_to_refuse():
    assert one_line(13) == 13
    assert storable(13) == 13


def test_a_file_name_that_is_not_text_can_be_stored():
    assert storable("plan\udce9.toml").encode() == b"plan<U+DCE9>.toml"


def test_doubles_are_found_whatever_their_capitals_and_blanks():
    assert first_double(["M 13", "M 31", "m13"]) == (1, 3, "m13")
    assert first_double(["M 13", "M 31", "M 3"]) is None
