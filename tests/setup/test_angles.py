"""A latitude or a longitude is read in every common spelling, and its letter always counts.

Expected values: degrees + minutes/60 + seconds/3600, north and east positive (ISO 6709).
"""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.errors import NightmodeError
from nightmode.setup.angles import angle

SPELLINGS = {
    30.0: ["30", "30°", "30d", "30.0", "030"],
    30.2: ["30.2", "30,2", "30 12", "30 12 00", "30°12'", "30° 12′", "30d12m", "30 12'", "30:12", "30 12 0″"],
    30.21: ["30 12 36", "30°12'36\"", "30° 12′ 36″", "30d12m36", "30:12:36", "30 12 36''", "30 12.6"],
}
ALL = [(text, size) for size, texts in SPELLINGS.items() for text in texts]
LETTERS = [("NS", "N", 1), ("NS", "S", -1), ("EW", "E", 1), ("EW", "W", -1)]


@given(
    st.sampled_from(ALL),
    st.sampled_from(LETTERS),
    st.booleans(),
    st.booleans(),
    st.sampled_from(["", " ", "  "]),
)
def test_a_letter_counts_in_either_case_before_and_after_the_figures(spelling, which, small, first, gap):
    (text, size), (letters, letter, sign) = spelling, which
    letter = letter.lower() if small else letter
    said = letter + gap + text if first else text + gap + letter
    if said.replace(" ", "") == "30d12m36s":  # here the s goes with d and m: seconds
        return
    assert angle(said, "here", letters) == pytest.approx(sign * size, abs=1e-12)


@given(st.sampled_from(ALL), st.sampled_from(["", "+", "-", "−"]), st.sampled_from(["NS", "EW"]))
def test_without_a_letter_the_sign_tells(spelling, sign, letters):
    text, size = spelling
    assert angle(sign + text, "here", letters) == pytest.approx(
        -size if sign in ("-", "−") and sign else size, abs=1e-12
    )


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("30d12m36s", 30.21),
        ("30D12M36S", 30.21),
        ("30d12m36S", -30.21),
        ("30d12m36s S", -30.21),
        ("30d 12m 36s n", 30.21),
        ("30 12 36s N", 30.21),
        ("30 12 36s", -30.21),
        ("-30.2 S", -30.2),
        ("+30.2 n", 30.2),
        ("30.2 south", -30.2),
        ("South 30 12", -30.2),
        ("1e-05", 1e-05),
    ],
)
def test_an_s_is_seconds_only_beside_another_letter_or_after_minutes_of_its_case(text, degrees):
    assert angle(text, "here", "NS") == pytest.approx(degrees, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "letters", "says"),
    [
        ("-30.2 N", "NS", "contradict"),
        ("+30.2S", "NS", "contradict"),
        ("+70.8 W", "EW", "contradict"),
        ("-30d12m36s N", "NS", "contradict"),
        ("30 S", "EW", "letter of a latitude"),
        ("70 48 00 s", "EW", "letter of a latitude"),
        ("70 48 W", "NS", "letter of a longitude"),
        ("S 30 S", "NS", "two letters"),
        ("N 30 12 S", "NS", "two letters"),
        ("30 72", "NS", "60 or more"),
        ("30.2 70.8", "NS", "fraction"),
        ("S", "NS", "not an angle"),
        ("30 12 36 48", "NS", "not an angle"),
    ],
)
def test_what_cannot_be_is_one_sentence_with_an_example(text, letters, says):
    with pytest.raises(NightmodeError, match=f"^here: {re.escape(repr(text))} .*{says}.*; write .*[.]$"):
        angle(text, "here", letters)
