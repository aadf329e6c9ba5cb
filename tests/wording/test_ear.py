"""Words for the ear, against English number words, the IAU's constellations and what observers say."""

import re
import unicodedata

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from num2words import num2words
from rows import rows
from skyfield.api import load_constellation_names

from nightmode.catalog.field import field_stars
from nightmode.wording.spoken.catalogues import constellation_name
from nightmode.wording.spoken.ear import for_ear, name_for_ear
from nightmode.wording.spoken.numbers import cardinal, designation, ordinal, year
from nightmode.wording.spoken.sentences import said

STOPS = ".,:?!'- "


def can_be_said(text):
    """Whether a text holds letters of some script with their marks, figures, blanks and plain stops alone."""
    return all(one in STOPS or one in "0123456789" or unicodedata.category(one)[0] in "LM" for one in text)


# -- numbers: num2words, a general-purpose library of number words, is the outside world ---------------------


@given(st.integers(0, 10**9 - 1))
@example(100)
@example(1_000_001)
def test_whole_numbers_are_the_number_words_of_british_english(number):
    assert cardinal(number) == num2words(number, lang="en_GB").replace(",", "")


@given(st.decimals(min_value=-999, max_value=999, allow_nan=False, allow_infinity=False, places=2))
def test_decimals_are_read_figure_by_figure(number):
    text = f"{number:.2f}"
    whole, decimals = text.lstrip("-").split(".")
    digits = " ".join(num2words(int(one)) for one in decimals)
    sign = "minus " if text.startswith("-") else ""
    assert (
        for_ear(f"at {text} of it") == f"at {sign}{num2words(int(whole), lang='en_GB')} point {digits} of it"
    )


@given(st.integers(1, 31))
def test_days_are_ordinals(day):
    assert ordinal(day) == num2words(day, to="ordinal", lang="en_GB")


@given(st.integers(100, 9999))
def test_numbers_of_catalogues_are_said_in_pairs_as_years_are(number):
    expected = num2words(number, to="year").replace("oh-", "oh ")
    if 2000 < number < 2010:  # a year is "two thousand and five", a nebula is not
        expected = f"twenty oh {num2words(number % 10)}"
    if number % 1000 < 10 and number % 1000 and number >= 1000:
        expected = f"{num2words(number // 100)} oh {num2words(number % 10)}"
    assert designation(str(number)) == expected


@pytest.mark.parametrize(
    ("digits", "words"), [("2027", "twenty twenty-seven"), ("2005", "two thousand and five")]
)
def test_a_year_is_said_as_people_say_it(digits, words):
    assert year(digits) == words == num2words(int(digits), to="year")


# -- what observers say: common practice, no published source, but for letters and genitives (IAU) ---


@rows(
    "written, heard",
    [
        ("planetary nebula in Lyr", "planetary nebula in Lyra"),
        ("4½ fists up", "four and a half fists up"),
        ("½ fist left (6.7°, 9 o'clock)", "half a fist left, six point seven degrees, nine o'clock"),
        ("¼ field, half past 7", "a quarter of a field, half past seven"),
        ("12′ and 1.8″", "twelve arcminutes and one point eight arcseconds"),
        ("1°, 1 mm, 1 min", "one degree, one millimetre, one minute"),
        ("2.0° left, 4.0″, 0.5°", "two degrees left, four arcseconds, half a degree"),
        ("until 23:05", "until twenty-three oh five"),
        ("00:15, 00:00, 09:00", "fifteen minutes past midnight, midnight, nine o'clock"),
        ("21:16-23:34 Io's shadow", "from twenty-one sixteen to twenty-three thirty-four, Io's shadow"),
        ("1 h 05 min left", "one hour five minutes left"),
        ("48x, 2× as far", "forty-eight times, two times as far"),
        ("8x50 finder", "eight by fifty finder"),
        ("seeing III, Antoniadi I to V", "seeing three, Antoniadi one to five"),
        ("NNW, 3½ fists up", "north-north-west, three and a half fists up"),
        ("clear only: N NE SW", "clear only: north, north-east, south-west"),
        ("-2.6 mag", "magnitude minus two point six"),
        ("3.0 mag brighter", "three magnitudes brighter"),
        ("20.85 mag/arcsec²", "twenty point eight five magnitudes per square arcsecond"),
        ("33 % lit", "thirty-three percent lit"),
        ("seen before, 12 Oct 2024", "seen before, the twelfth of October twenty twenty-four"),
        ("2026-12-13", "the thirteenth of December twenty twenty-six"),
        ("+33°04′", "plus thirty-three degrees four arcminutes"),
        ("-18h54.3m", "minus eighteen hours fifty-four point three minutes"),
        ("f/5.9", "f five point nine"),
        ("NOT SAVED, disk full: kept", "not saved, disk full: kept"),
        ("a/b & c_d", "a, b and c d"),
        ("1 perfect .. 5 very bad", "one perfect to five very bad"),
        ("For the record: I saw it. And more", "For the record: I saw it. And more"),
        ("I can't. I And he saw IT. Her view", "I can't. I And he saw IT. Her view"),
        (
            "1/3 of the way, ¾ field, 12th mag",
            "a third of the way, three quarters of a field, twelfth magnitude",
        ),
        (
            "the 2nd of 21st, 1/2 of it, 2 1/2 fields, 3/4",
            "the second of twenty-first, a half of it, two and a half fields, three quarters",
        ),
        ("don't, it's half-lit", "don't, it's half-lit"),
    ],
)
def test_what_is_written_is_said_as_people_say_it(written, heard):
    assert for_ear(written) == heard


@rows(
    "written, heard",
    [
        ("M 57", "M 57"),
        ("m", "m"),
        ("M101:", "M 101"),
        ("NGC 7000", "N G C seven thousand"),
        ("NGC 891", "N G C eight ninety-one"),
        ("IC 2602", "I C twenty-six oh two"),
        ("Cr 399", "Collinder three ninety-nine"),
        ("Sh2-155", "Sharpless two one fifty-five"),
        ("PGC 12914", "P G C one two nine one four"),
        ("STF 2470", "Struve twenty-four seventy"),
        ("HU 149", "Hussey one forty-nine"),
        ("Innes 365", "Innes three sixty-five"),
        ("STFA 16", "Struve sixteen"),
        ("C/2026 A1", "C twenty twenty-six A-one"),
        ("12P", "twelve P"),
        ("(4) Vesta", "four Vesta"),
        ("μ And", "Mu Andromedae"),
        ("α1 Cru", "Alpha one Crucis"),
        ("61 Cyg", "sixty-one Cygni"),
        ("RR Lyr", "R R Lyrae"),
        ("W Ori", "W Orionis"),
        ("AE Aqr", "A-E Aquarii"),
        ("V1500 Cyg", "V fifteen hundred Cygni"),
        ("Epsilon1 Lyrae", "Epsilon one Lyrae"),
        ("Leo I", "Leo one"),
    ],
)
def test_names_of_the_sky(written, heard):
    assert for_ear(written) == heard


@rows(
    "written, heard",
    [
        ("25 mm", "twenty-five millimetres"),
        ("25 mm eyepiece", "twenty-five millimetre eyepiece"),
        ("2x Barlow", "two times Barlow"),
        ("O III filter", "O three filter"),
        ("My E field", "My E field"),
    ],
)
def test_an_object_is_called_aloud_as_observers_call_it(written, heard):
    assert name_for_ear(written) == heard


def test_constellations_have_the_names_of_the_iau():
    plain = {"Boötes": "Bootes"}  # skyfield's table of the IAU's names has no accents
    for short, name in load_constellation_names():
        ours = constellation_name(short)
        assert plain.get(ours, ours).replace(" ", "") == name.replace(" ", "")


def test_every_star_that_can_be_named_is_said_in_letters_alone():
    short = {name for name, _ in load_constellation_names()}
    for written in field_stars().designation:
        heard = for_ear(written)
        assert re.fullmatch(r"[A-Za-zö \-]*", heard), written
        assert len(written) < 3 or heard.split()[-1] not in short, written


@given(st.text())
@example("½¼¾⅓ °C ′″ × ± ≤ → … / \\ | [] {} <> @ # $ % ^ & * ( ) _ + = ~ ` \u0000 \ue000 \u202e")
@example("٣٤ Ⅲ ㎜ ① 12:60 99° 9'9\" 1'000 --5 5-- 1.2.3 '' -- ..")
@example("9" * 5000)
@example("\U00010b78 Ⅻ 〇 ㉈")  # numbers that are no digits
def test_nothing_is_left_that_a_voice_would_stumble_over(text):
    for heard in (for_ear(text), name_for_ear(text), *said(text)):
        assert can_be_said(heard)
        assert not re.search(r"  |\s[.,:?!]|^[.,:?! ]", heard)


@given(st.from_regex(r"[A-Za-z0-9 .,:;/°′″½x×%+\-()≈μα]{0,60}", fullmatch=True))
def test_figures_and_signs_of_our_own_pages_are_all_said(text):
    assert not re.search(r"[°′″½×%+/≈;()]", for_ear(text))


@given(st.text(alphabet=st.characters(min_codepoint=32, max_codepoint=0x4FFF), max_size=400))
def test_a_sentence_begins_with_a_capital_or_a_letter_without_one_and_ends(text):
    for sentence in said(text):
        assert sentence[-1] in ".?!"
        assert sentence[0] == sentence[0].upper() or len(sentence[0].upper()) > 1
        assert len(sentence) <= 200


def test_long_sentences_are_cut_at_their_commas_and_no_word_is_lost():
    remark = ", ".join(f"look at the {word} edge" for word in ("north", "south", "inner", "outer") * 8)
    found = said(remark)
    assert len(found) > 3
    assert all(one.endswith("edge.") for one in found)
    assert [word.strip(".,").lower() for one in found for word in one.split()] == [
        word.strip(",") for word in remark.split()
    ]


def test_every_messier_object_keeps_its_number():
    for number in range(1, 111):
        assert for_ear(f"M {number}") == for_ear(f"M{number}") == f"M {number}"
