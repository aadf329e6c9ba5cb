"""Whatever arrives on the input, only what a hand did comes out as keys."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual._xterm_parser import XTermParser
from textual.events import Key

from nightmode.app.guard.sieve import BURST, LATE_S, PASTE_S, Sieve, Token, TokenKind

LONG_S = 10.0
ESCAPE = Token(TokenKind.ESCAPE)


def key(text):
    return Token(TokenKind.KEY, text)


def arrived(*pieces, gap_s=0.0, joins_escape=False):
    """Return the tokens of pieces of text that come so many seconds apart, and of a long silence after."""
    sieve, found, now_s = Sieve(joins_escape), [], 100.0
    for piece in pieces:
        found += sieve.feed(piece, now_s)
        now_s += gap_s
    return found + sieve.tick(now_s + LONG_S)


def names(tokens):
    """Return Textual's names of the keys."""
    return [
        "escape" if token.kind is TokenKind.ESCAPE else event.key
        for token in tokens
        if token.kind in (TokenKind.KEY, TokenKind.ESCAPE)
        for event in ([None] if token.kind is TokenKind.ESCAPE else XTermParser().feed(token.text))
        if event is None or isinstance(event, Key)
    ]


@pytest.mark.parametrize(
    ("text", "pressed"),
    [
        (" ", ["space"]),
        ("ä", ["ä"]),
        ("\x1b[B", ["down"]),
        ("\x1bOA", ["up"]),
        ("\x1b[5~", ["pageup"]),
        ("\x1b[113;1:1u", ["q"]),
        ("\x1b[97:65;2u", ["shift+a"]),
        ("\x1b[228;;228u", ["ä"]),
        ("\x1b[99;5u", ["ctrl+c"]),
        ("\x1b[113;1:3u", []),  # released
        ("\x1b[1114112u", []),  # beyond Unicode
        ("\x1b[55296;;55296u", []),  # half a pair
        ("\x1b[99999999999999999999;;1u", []),
        ("\x1b[113;;1114112u", ["q"]),
        ("\x1b[[A", ["f1"]),  # the Linux console
    ],
)
def test_a_key_is_known_in_every_way_in_which_it_arrives(text, pressed):
    assert names(arrived(text)) == pressed


@pytest.mark.parametrize(
    "reply",
    [
        "\x1b]11;rgb:0000/0000/0000\x1b\\",
        "\x1b]11;rgb:1111/2222/3333\x07",
        "\x1b]4;1;rgb:1111/2222/3333\x1b\\",
        "\x1b[?62;c",
        "\x1b[?62;1;2;9c",
        "\x1b[>41;354;0c",
        "\x1bP1+r544e=787465726d\x1b\\",
        "\x1b[12;40R",
        "\x1b[0n",
        "\x1b[8;24;80t",
        "\x1b[48;99999999;99999999;1;1t",
        "\x1b[?1u",
        "\x1b[?2004;2$y",
        "\x1b[<0;10;10M\x1b[<0;10;10m",
        "\x1b[<35;120;7M",
        "\x1b[M 1u",
        "\x1b[32;12;13M",
        "\x1b_Gi=1;OK\x1b\\",
    ],
)
@given(data=st.data())
def test_a_reply_of_the_terminal_presses_no_key_however_late_and_cut(reply, data):
    cut = data.draw(st.integers(1, len(reply)))
    assert names(arrived(reply[:cut], reply[cut:], gap_s=data.draw(st.sampled_from([0.0, 0.05])))) == []


def test_an_escape_far_ahead_of_its_reply_is_all_that_is_taken_for_a_key():
    assert arrived("\x1b", "]11;rgb:1111/2222/3333\x1b\\", gap_s=LATE_S / 2) == [ESCAPE]


@given(st.lists(st.text(st.sampled_from("\x1b[]OP<M;:?123uqn \x07\\~äx\x03\ud800\ufffd")), max_size=12))
def test_after_anything_at_all_the_next_key_counts(pieces):
    sieve = Sieve()
    for piece in pieces:
        sieve.feed(piece, 100.0)
    sieve.tick(100.0 + LONG_S)
    for pressed in "u q":
        assert sieve.feed(pressed, 100.0 + 2 * LONG_S) == [key(pressed)]


@given(st.text(st.characters(exclude_characters="\x1b\ufffd", exclude_categories=["Cs", "Cc"])), st.data())
def test_what_is_typed_comes_out_whole_and_in_order_however_it_is_cut(text, data):
    cuts = sorted(data.draw(st.lists(st.integers(0, len(text)), max_size=4)))
    pieces = [text[a:b] for a, b in zip([0, *cuts], [*cuts, len(text)], strict=True)]
    assert arrived(*pieces) == [key(character) for character in text]


@given(st.text(st.characters(exclude_characters="\x1b", exclude_categories=["Cs"]), min_size=1), st.data())
def test_a_paste_is_one_thing_however_it_is_cut(text, data):
    whole = f"\x1b[200~{text}\x1b[201~n"
    cuts = sorted(data.draw(st.lists(st.integers(0, len(whole)), max_size=4)))
    pieces = [whole[a:b] for a, b in zip([0, *cuts], [*cuts, len(whole)], strict=True)]
    if any(piece == "\x03" for piece in pieces):  # that is a hand on ctrl+c
        return
    assert arrived(*pieces) == [Token(TokenKind.PASTE, text), key("n")]


def test_a_paste_without_its_end_is_over_after_a_second():
    sieve = Sieve()
    assert sieve.feed("\x1b[200~half a line", 0.0) == []
    assert sieve.feed("q", 0.4 * PASTE_S) == []
    assert sieve.feed("u", 1.1 * PASTE_S) == [Token(TokenKind.PASTE, "half a lineq"), key("u")]


def test_a_paste_that_comes_on_after_a_pause_presses_no_keys():
    sieve = Sieve()
    sieve.feed("\x1b[200~half a line", 0.0)
    assert names(sieve.feed("x" * (BURST + 1), 2 * PASTE_S)) == []
    assert sieve.feed("the rest of it\x1b[201~u", 3 * PASTE_S) == [key("u")]


@pytest.mark.parametrize("leave", ["\x03", "\x1b[99;5u"])
def test_ctrl_c_is_heard_in_a_paste_without_its_end(leave):
    assert names(arrived("\x1b[200~", "q", leave)) == ["ctrl+c"]


def test_escape_and_the_key_after_it_are_two_keys_where_tmux_joins_them():
    assert arrived("\x1bu", joins_escape=True) == [ESCAPE, key("u")]
    assert names(arrived("\x1bu")) == []
    assert names(arrived("\x1b\x1b[A", joins_escape=True)) == ["escape", "up"]


def test_the_escape_key_is_told_from_a_sequence_by_the_time_it_takes():
    assert arrived("\x1b") == [ESCAPE]
    assert arrived("\x1b", "\x1b") == [ESCAPE, ESCAPE]
    assert names(arrived("\x1b", "[B", gap_s=0.05)) == ["down"]


def test_time_matters_only_while_something_has_begun():
    sieve = Sieve()
    for text, waits in (("a", False), ("\x1b", True), ("[", True), ("A", False), ("\x1b[200~", True)):
        sieve.feed(text, 0.0)
        assert sieve.waits is waits, text
    sieve.tick(60.0)
    assert not sieve.waits
