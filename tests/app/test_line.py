"""Lines have the width that the terminal library gives them, whatever stands in them."""

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from nightmode.app.pages.line import fit, fit_line, line, pad, wrap
from nightmode.light.signs import plain_signs

WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=14)


@given(WORDS, st.integers(-1, 12))
def test_a_text_cut_to_a_width_is_no_wider_and_whole_where_it_fits(text, columns):
    cut = fit(text, columns)
    assert cell_len(cut) <= max(columns, 0)
    shown = plain_signs(text)
    assert cut == shown or cell_len(shown) > columns


@given(WORDS, st.integers(1, 12))
def test_a_padded_text_has_just_its_width(text, columns):
    assert cell_len(pad(text, columns)) == columns


@given(st.lists(WORDS, max_size=4), st.integers(0, 20))
def test_a_line_cut_to_a_width_is_no_wider(texts, columns):
    cut = fit_line(line(*((text, "text") for text in texts)), columns)
    assert sum(cell_len(text) for text, _ in cut) <= columns


@given(st.lists(WORDS, max_size=6).map(" ".join), st.integers(2, 20), st.integers(1, 4))
def test_broken_text_keeps_to_its_rows_and_its_width(text, columns, most):
    rows = wrap(text, columns, most)
    assert len(rows) <= most
    assert all(cell_len(row) <= columns for row in rows)


def test_one_ellipsis_stands_for_all_that_is_left_out_of_a_line():
    pieces = (("a long name", "strong"), ("   esc: back", "faint"))
    assert "".join(text for text, _ in fit_line(pieces, 9)) == "a long n…"
    assert "".join(text for text, _ in fit_line(pieces, 8)) == "a long…"
    assert "".join(text for text, _ in fit_line(pieces, 20)) == "a long name   esc:…"


def test_a_designation_stays_in_one_row():
    assert wrap("Compare it with M 2 or NGC 7331", 18, 4) == ["Compare it with", "M 2 or NGC 7331"]
    assert wrap("look about 12 times", 10, 4) == ["look about", "12 times"]
