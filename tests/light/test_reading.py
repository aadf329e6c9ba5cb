"""Bytes as they arrive: letters in halves are whole, and a parser that breaks on a key costs that key."""

import os

import pytest

#: The real program, but what turns bytes into keys breaks on one of them.
BREAKS = """
from textual._xterm_parser import XTermParser
feed = XTermParser.feed
def breaks(parser, data):
    if data == "Z":
        raise RuntimeError("this key breaks the parser")
    return feed(parser, data)
XTermParser.feed = breaks
from nightmode.cli.main import entry
entry()
"""


@pytest.fixture
def night(measured):
    meter = measured("demo", "--at", "21:00", code=BREAKS, size=(80, 24))
    meter.wait_for("0 done", seconds=30)
    meter.wait_for_keys()
    return meter


def test_a_key_that_breaks_the_parser_does_not_end_the_night(night, tmp_path):
    os.write(night.fd, b"Z")
    night.wait(0.2)
    night.press("space")
    night.wait_for("1 done", seconds=30)
    night.press("ctrl+c", "ctrl+c")
    reading = night.end()
    assert (reading.code, reading.leaks) == (0, [])
    assert "breaks the parser" in "".join(path.read_text() for path in tmp_path.rglob("*.log"))


def test_a_letter_that_comes_in_halves_is_that_letter(night):
    night.press("n")
    night.wait_for("enter keeps")
    for half in (b"k", b"\xc3", b"\xa4", b"lt\xe2", b"\x82", b"\xac"):
        os.write(night.fd, half)
        night.wait(0.1)
    night.wait_for("kält€")
