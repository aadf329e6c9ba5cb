import pytest
from hypothesis import given
from hypothesis import strategies as st
from rows import rows

from nightmode.model.position import parse_position, parse_selenographic

#: 23h57m24s = 23.95666... h = 359.35 deg; 56d42m30s = 56.70833... deg, by hand.
RA_DEG, DEC_DEG = 359.35, 56.708333


@rows(
    "text",
    [
        "23h57m24s +56d42m30s",
        "23h57m24s+56d42m30s",
        "23h 57m 24s, +56d 42m 30s",
        "23:57:24 +56:42:30",
        "23 57 24 +56 42 30",
        "23h57m24.0s +56°42′30″",
        "23h57m24s +56°42'30\"",
        "23h57m24s +56°42'30''",
        "23h57.4m +56d42.5m",
        "23 57.4 +56 42.5",
        "  23h57m24s   +56d42m30s  ",
        "359.35 +56.708333",
        "359.35, +56.708333",
        "359.35° +56.708333°",
    ],
)
def test_every_usual_spelling_gives_the_same_place(text):
    assert parse_position(text) == pytest.approx((RA_DEG, DEC_DEG), abs=1e-5)


@pytest.mark.parametrize("minus", ["-", "−", "–"])
def test_a_southern_declination_keeps_its_sign_in_every_minus(minus):
    assert parse_position(f"0h0m0s {minus}0d30m0s")[1] == pytest.approx(-0.5)
    assert parse_position(f"10.5 {minus}0.5") == pytest.approx((10.5, -0.5))


@rows(
    "text",
    [
        "",
        "M 13",
        "23h57m24s",
        "23h57m24s 56d42m30s",
        "24h00m00s +10d",
        "23h60m00s +10d",
        "23h57m60s +10d",
        "23h57m24s +91d",
        "23h57m24s +90d00m01s",
        "23h57m24s -56d60m",
        "360.0 +10",
        "10 +90.5",
        "-10 +10",
        "nan +nan",
        "inf +10",
        "1e3 +10",
        "23h57m24s +56d42m30s extra",
        "23h57m24s ++56d",
        "٢٣h57m24s +56d42m30s",
        "+56d42m30s 23h57m24s",
        "23h57m24s +56d42m30s\x00",
    ],
)
def test_what_is_no_position_is_refused_with_an_example(text):
    with pytest.raises(ValueError, match="write it like 23h57m24s"):
        parse_position(text)


@given(st.text(max_size=60) | st.from_regex(r"[0-9hmsd°:′″' +\-.,]{0,40}", fullmatch=True))
def test_any_text_is_a_place_on_the_sky_or_refused(text):
    try:
        ra_deg, dec_deg = parse_position(text)
    except ValueError:
        return
    assert 0 <= ra_deg < 360
    assert -90 <= dec_deg <= 90


@pytest.mark.parametrize("text", ["-43.3 -11.22", "-43.30, -11.22", "−43.3° −11.22°", " - 43.3 - 11.22 "])
def test_a_place_on_the_moon_is_read_with_both_signs(text):
    assert parse_selenographic(text) == pytest.approx((-43.3, -11.22))


@rows("text", ["43.3 -11.2", "-43.3 11.2", "-43.3", "-91 +10", "+10 +181", "north +5", ""])
def test_what_is_no_place_on_the_moon_is_answered_with_an_example(text):
    with pytest.raises(ValueError, match=r"write it like \+5\.0 \+23\.7"):
        parse_selenographic(text)
