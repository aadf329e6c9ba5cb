"""Bytes of any kind on the program's input: it goes on, and only what a hand did is in the journal."""

import itertools
import os
import random

import pytest

from nightmode.model.session import Event
from nightmode.session.journal import read


@pytest.fixture
def walking(start):
    program = start("demo", "--at", "21:00")
    program.wait_for("to do")
    return program


def send(program, *pieces, gap_s=0.15):
    for piece in pieces:
        os.write(program.fd, piece)
        program.run(gap_s)


STRAY = {
    "a letter in two reads": (b"\xc3", b"\xa4"),
    "a letter of an 8-bit terminal": (b"\xe4", b"\xe4"),
    "half a letter": (b"\xf0\x9f",),
    "keys with sub-parameters": (b"\x1b[107;1:3u", b"\x1b[121:89;2u"),
    "no such character": (b"\x1b[1114112u", b"\x1b[55296u", b"\x1b[121;;99999999u"),
    "a late reply": (b"\x1b]11;rgb:1111/2222/3333\x1b\\", b"\x1b[?62;c"),
    "a reply in two reads": (b"\x1b", b"]11;rgb:1111/2222/3333\x1b\\"),
    "a size of its own": (b"\x1b[48;99999;99999;1;1t",),
    "the mouse": (b"\x1b[<0;3;3M\x1b[<0;3;3m", b"\x1b[M !!"),
    "zeros": (b"\0" * 50,),
}


def test_stray_bytes_end_nothing_and_note_nothing(walking, demo_journal):
    for mode in (1002, 1006):  # clicks and drags are sent to the program while its screen stands
        assert walking.raw.rfind(f"\x1b[?{mode}h") > walking.raw.rfind(f"\x1b[?{mode}l")
    for piece in itertools.chain(*STRAY.values()):
        send(walking, piece, gap_s=0.15 if piece == b"\x1b" else 0.03)
    walking.press("space", then=": seen")
    assert [entry.event for entry in read(demo_journal).entries] == [Event.TICK]
    assert walking.child.poll() is None
    # a paste without its end holds the keys up for a second only
    send(walking, b"\x1b[200~", gap_s=1.3)
    walking.press("s", then=": suspected")


@pytest.mark.parametrize("seed", [1, *(pytest.param(seed, marks=pytest.mark.long) for seed in range(2, 40))])
def test_random_bytes_and_half_sequences_do_not_end_the_program(walking, seed):
    chance = random.Random(seed)
    parts = [
        b"\x1b[",
        b"\x1b]",
        b"\x1bP",
        b"\xc3",
        b"\xe2\x97",
        b"200~",
        b"201~",
        b"97;5:2u",
        b";",
        b"<0;1;1M",
    ]
    for _ in range(60):
        stray = b"".join(chance.choice([*parts, bytes([chance.randrange(256)])]) for _ in range(12))
        send(walking, stray.translate(None, b"q\x03\x11"), gap_s=0.01)
    assert walking.child.poll() is None
    walking.run(1.5)
    send(walking, b"\x1b", b"\x1b", b"\x1b", b"\x1b", gap_s=0.6)
    walking.press("q", then="q again leaves")
    walking.press("q")
    assert walking.end() == 0


def test_a_key_held_on_a_real_keyboard_ticks_one_target(walking, demo_journal):
    for key in (b" ", b"u"):
        send(walking, key, gap_s=0.66)
        send(walking, *[key] * 8, gap_s=0.04)
        walking.run(0.7)
    kinds = [entry.event for entry in read(demo_journal).entries]
    assert kinds == [Event.TICK, Event.UNDO]
