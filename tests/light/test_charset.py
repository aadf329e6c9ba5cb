"""A terminal of single bytes is found out by where its cursor stands, and put right; others are not asked."""

import pytest

from nightmode.light.charset import is_utf_8, shows_bytes


@pytest.mark.parametrize(
    ("env", "utf_8"),
    [
        ({"LANG": "de_AT.UTF-8"}, True),
        ({"LANG": "C.utf8"}, True),
        ({"LANG": "de_AT.UTF-8", "LC_ALL": "C"}, False),
        ({"LANG": "C", "LC_CTYPE": "en_GB.UTF-8"}, True),
        ({"LANG": "de_AT"}, False),
        ({}, False),
    ],
)
def test_the_locale_is_read_as_posix_orders_it(env, utf_8):
    assert is_utf_8(env) is utf_8


@pytest.mark.parametrize(("column", "bytes_shown"), [(3, True), (2, False)])
def test_two_cells_for_one_sign_give_it_away(pretend, column, bytes_shown):
    asked = pretend({"\x1b[6n": f"\x1b[1;{column}R"})
    assert shows_bytes(asked.inner, {"LANG": "C"}) is bytes_shown


def test_who_does_not_answer_is_left_alone(pretend):
    assert shows_bytes(pretend().inner, {"LANG": "C"}) is False


def test_where_the_locale_says_utf_8_nothing_is_asked(pretend):
    window = pretend()
    assert shows_bytes(window.inner, {"LANG": "C.UTF-8"}) is False
    assert window.heard == ""
