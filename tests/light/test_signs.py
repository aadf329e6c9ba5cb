"""Nothing that a terminal may draw from a font of pictures reaches the screen."""

import itertools
import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len
from rich.segment import Segment
from textual.color import Color

from nightmode.app.guard.levels import DEFAULT_GLOW, paint
from nightmode.app.guard.line_filter import RedFilter
from nightmode.app.pages.line import line, wrap
from nightmode.app.theme import EMBER
from nightmode.light.depth import Depth
from nightmode.light.signs import plain_cells, plain_signs
from nightmode.light.terminal import said_in_red

DATA = Path(__file__).parents[1] / "reference/emoji.toml"


def members(ranges):
    pairs = (part.partition("-") for part in ranges.split())
    return {chr(n) for first, _, last in pairs for n in range(int(first, 16), int(last or first, 16) + 1)}


UNICODE = {name: members(ranges) for name, ranges in tomllib.loads(DATA.read_text()).items()}
#: What asks for a picture by itself, and what only does so beside another character.
PICTURES = {sign for sign in UNICODE["Emoji"] if not sign.isascii()}
JOINING = {sign for sign in UNICODE["Emoji_Component"] if not sign.isascii()}
FORBIDDEN = PICTURES | {sign for sign in JOINING if sign != "\u200d" and sign < "\U000e0000"}
TONES = sorted(UNICODE["Emoji_Modifier"])


def is_plain(text):
    return not FORBIDDEN & set(text)


def test_the_reference_is_whole():
    assert {"\U0001f525", "\u2b50", "\u25b6", "\u2714", "\u2640"} <= PICTURES
    assert len(UNICODE["Emoji_Presentation"]) == 1205  # the total that emoji-data.txt states
    assert len(UNICODE["Emoji"]) == 1424


@pytest.mark.parametrize("ending", ["", "\ufe0f", "\ufe0e"])
def test_no_emoji_of_unicode_comes_through_and_none_vanishes(ending):
    for sign in PICTURES - UNICODE["Emoji_Modifier"] - JOINING:
        shown = plain_signs(f"M 42 {sign}{ending} x")
        assert is_plain(shown), sign
        assert shown.removeprefix("M 42 ").removesuffix(" x").strip()


def test_characters_set_aside_for_emoji_to_come_do_not_come_through():
    for sign in UNICODE["Extended_Pictographic"]:
        if sign >= "\U0001f000":
            assert sign not in plain_signs(sign)


def test_flags_keycaps_tones_and_joined_signs_are_plain():
    letters = [chr(0x1F1E6 + n) for n in range(26)]
    for pair in itertools.product(letters, letters):
        assert plain_signs("".join(pair)).isalpha()
    assert plain_signs("\U0001f1e9\U0001f1ea") == "DE"
    for key in "0123456789#*":
        assert plain_signs(f"{key}\ufe0f\u20e3") == key
    for base, tone in itertools.product(UNICODE["Emoji_Presentation"] - JOINING, TONES):
        assert is_plain(plain_signs(base + tone))
    assert plain_signs("\U0001f469\U0001f3fd\u200d\U0001f680") == "(woman, rocket)"
    scotland = "\U0001f3f4\U000e0067\U000e0062\U000e0073\U000e0063\U000e0074\U000e007f"
    assert plain_signs(scotland) == "(waving black flag)"


@given(st.text(st.sampled_from(sorted(PICTURES | JOINING) + list("a é中1#"))))
def test_any_mixture_is_plain_on_a_page_and_in_printed_lines(text):
    for shown in (plain_signs(text), "".join(piece for piece, _ in line((text, "text"))), said_in_red(text)):
        assert is_plain(shown)


@given(st.text(st.sampled_from(sorted(PICTURES | JOINING) + list("a é中1#")), max_size=12))
def test_whatever_a_widget_shows_is_plain_in_as_many_cells(text):
    red = RedFilter(paint(EMBER.red, DEFAULT_GLOW, Depth.TRUE))
    shown = "".join(part.text for part in red.apply([Segment(text)], Color(0, 0, 0)))
    assert is_plain(shown)
    assert cell_len(shown) == cell_len(text)
    assert is_plain(plain_cells(text, cell_len))


@given(st.text(st.sampled_from(sorted(PICTURES)[:40] + list("ab ")), max_size=60))
def test_words_in_place_of_signs_are_wrapped_like_all_others(text):
    rows = wrap(text, 40, 100)
    assert all(len(row) <= 40 for row in rows)
    assert all(is_plain(row) for row in rows)
    assert "".join(rows).replace(" ", "") == plain_signs(text).replace(" ", "") or "…" in "".join(rows)


@given(st.text(st.characters(exclude_characters="".join(FORBIDDEN), exclude_categories=["Cs", "Cf"])))
def test_text_without_emoji_stays_as_it_is(text):
    kept = "".join(
        sign for sign in text if not (sign >= "\U0001f000" and sign in UNICODE["Extended_Pictographic"])
    )
    assert plain_signs(kept) == kept
    assert plain_signs("● ⣿ α Crv ☽ ♃ 52.3° ±") == "● ⣿ α Crv ☽ ♃ 52.3° ±"
