"""The light meter sees what a screen shows: its short cuts make no difference."""

import contextlib

import pyte
from hypothesis import example, given
from hypothesis import strategies as st
from light.glass import PHOTOPIC, SCOTOPIC, Glass, light

COLUMNS, ROWS = 12, 4
PIECES = st.sampled_from([
    *("plain text", "x" * 30, "wide \u5b57", "e\u0301", "\u28ff\u25cf\u2033", "\r\n", "\x1b[H", "\x1b[2;5H"),
    *("\x1b[K", "\x1b[2J", "\x1b[4h", "\x1b[4l", "\x1b[?7l", "\x1b[?7h", "\x1b(0", "\x1b(B", "\x1b[31m"),
    *("\x1b[38;2;90;0;0m", "\x1b[7;4m", "\x1b[0m"),
])  # fmt: skip


def cells(screen):
    return [[screen.buffer[row][column].data for column in range(COLUMNS)] for row in range(ROWS)]


@given(st.lists(PIECES, max_size=14))
@example(["\x1b[2;5H", "\x1b[?7l", "wide \u5b57", "wide \u5b57", "plain text"])
def test_what_is_drawn_stands_where_any_terminal_puts_it(pieces):
    glass, plain = Glass(COLUMNS, ROWS), pyte.Screen(COLUMNS, ROWS)
    for screen in (glass, plain):
        pyte.Stream(screen).feed("".join(pieces))
    assert cells(glass) == cells(plain)
    with contextlib.suppress(IndexError):  # where half a wide sign is overwritten the plain one cannot tell
        assert glass.display == plain.display
    assert (glass.cursor.x, glass.cursor.y) == (plain.cursor.x, plain.cursor.y)


@given(st.lists(PIECES, max_size=14))
@example(["\x1b[7;4m", "\x1b[K", "\x1b[4h", "plain text"])
def test_a_frame_adds_up_every_cell(pieces):
    glass = Glass(COLUMNS, ROWS)
    pyte.Stream(glass).feed("".join(pieces))
    photopic = scotopic = lit = 0
    for cell in (glass.buffer[row][column] for row in range(ROWS) for column in range(COLUMNS)):
        photopic += sum(share * light(rgb, PHOTOPIC) for rgb, share in glass.lights(cell))
        scotopic += sum(share * light(rgb, SCOTOPIC) for rgb, share in glass.lights(cell))
        lit += any(any(rgb) for rgb, _ in glass.lights(cell))
    frame = glass.frame()
    assert abs(frame.photopic - photopic / (COLUMNS * ROWS)) < 1e-9
    assert abs(frame.scotopic - scotopic / (COLUMNS * ROWS)) < 1e-9
    assert frame.lit == lit


def test_text_that_stands_there_leaks_when_its_colour_is_set_to_another():
    glass = Glass(COLUMNS, ROWS)
    glass.osc("4;1;rgb:5f/00/00")
    pyte.Stream(glass).feed("\x1b[31mtext")
    before = glass.frame()
    assert (glass.leaks, before.lit) == ({}, 4)
    glass.osc("4;1;rgb:5f/01/00")
    assert len(glass.leaks) == len(set("text"))
    assert glass.frame().photopic > before.photopic
