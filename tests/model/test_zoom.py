"""Zoom eyepieces: the lengths and fields are invented, the arithmetic is by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rows import rows

from nightmode import eyepiece
from nightmode.errors import NightmodeError
from nightmode.files.toml import as_model, parse_toml
from nightmode.model.kit import Kit, Telescope, Zoom
from nightmode.model.observer import Observer
from nightmode.night.circumstances import eyepieces_of

TEXT = """
[[eyepiece]]
name = "zoom"
focal_length_mm = [8, 24]
apparent_field_deg = [60, 40]
[[eyepiece]]
name = "32 mm"
focal_length_mm = 32
"""


def read(text):
    return as_model("observer.toml", parse_toml("observer.toml", text), Observer)


def test_a_zoom_stands_for_its_ends_and_three_steps_of_equal_ratio():
    listed = eyepieces_of(read(TEXT).eyepiece)
    assert [one.name for one in listed][-1] == "32 mm"
    # 8 x 3^(1/4) = 10.53, 8 x 3^(1/2) = 13.86, 8 x 3^(3/4) = 18.24; to half a millimetre.
    assert [one.focal_length_mm for one in listed[:5]] == [8, 10.5, 14, 18, 24]
    # Straight from 60 at 8 mm to 40 at 24 mm: 60 - 20 (14 - 8) / 16 at 14 mm.
    assert [one.apparent_field_deg for one in listed[:5]] == [60, 56.9, 52.5, 47.5, 40]


def test_powers_of_a_telescope_come_from_the_settings():
    kit = Kit(
        telescope=Telescope(name="T", aperture_mm=100, focal_length_mm=720),
        eyepieces=eyepieces_of(read(TEXT).eyepiece),
    )
    powers = {one.eyepiece: round(one.power) for one in eyepiece.combinations(kit)}
    assert powers["zoom at 8 mm"] == 90
    assert powers["zoom at 24 mm"] == 30
    assert powers["32 mm"] == 22


@rows(
    "text, said",
    [
        (
            "focal_length_mm = [24, 8]\napparent_field_deg = [60, 40]",
            "write the shorter one first, like [8, 24]",
        ),
        ("focal_length_mm = [8, 24]\napparent_field_deg = 50", "apparent_field_deg"),
        ("focal_length_mm = [8]\napparent_field_deg = [60, 40]", "focal_length_mm"),
        ("focal_length_mm = [8, 500]\napparent_field_deg = [60, 40]", "500"),
        ('focal_length_mm = "8-24"', "focal_length_mm"),
    ],
)
def test_what_does_not_fit_is_one_sentence(text, said):
    with pytest.raises(NightmodeError) as caught:
        read(f'[[eyepiece]]\nname = "zoom"\n{text}\n')
    assert said in str(caught.value)
    assert "\n" not in str(caught.value)


@given(st.floats(2, 30), st.floats(1.05, 4.0), st.floats(30, 80), st.floats(30, 80))
def test_settings_run_from_end_to_end(short, ratio, narrow, wide):
    zoom = Zoom(name="z", focal_length_mm=(short, short * ratio), apparent_field_deg=(wide, narrow))
    lengths = [one.focal_length_mm for one in zoom.settings]
    assert (lengths[0], lengths[-1]) == zoom.focal_length_mm
    assert all(short <= one <= short * ratio for one in lengths)
    fields = [one.apparent_field_deg for one in zoom.settings]
    assert min(narrow, wide) - 0.1 <= min(fields) <= max(fields) <= max(narrow, wide) + 0.1
