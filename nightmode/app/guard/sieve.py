"""Cuts the terminal's input into what a hand did and what the terminal reports. Pure.

A terminal sends keys, pastes, mouse reports and answers to questions on one stream, in pieces of any size,
and a bad line adds bytes of its own. Only keys, pastes and the few reports that are wanted come out of here.
All else, however it is cut, is dropped: it can neither press a key nor delay keys for more than a second.

The grammar of sequences is that of ECMA-48 (5th edition, 1991, section 5.4), with what terminals have added.
"""

import re
from enum import Enum

from nightmode.records import Record

#: For how long a single escape may be the beginning of a sequence.
ESCAPE_S = 0.1
#: How long the rest of a sequence, and the end of a paste, may take; further characters do not prolong it.
REST_S, PASTE_S = 0.5, 1.0
#: For this long after the escape key the rest of a sequence may come: what can begin one is not taken for a
#: key.
LATE_S = 1.0
#: More characters at once than a hand can type: they still belong to a paste that seemed to be over.
BURST, TORN_S = 8, 10.0
LONGEST_SEQUENCE, LONGEST_PASTE = 64, 100_000
ESC = "\x1b"
_PASTE_BEGINS, _PASTE_ENDS = "\x1b[200~", "\x1b[201~"
_LEAVES = ("\x03", "\x1b[99;5u")  # ctrl+c, in the two ways in which it arrives
_SEQUENCE = re.compile(
    r"""\x1b(?:
      \[ (?: \[.                                       # function keys of the Linux console
           | M...                                      # an old mouse report: three bytes of any value
           | [\d;]*+\$y?                               # a key of rxvt, or a report
           | (?![M\[]) [0-?]*+[\ -/]*+ (?: [@-~] | (?=[^@-~])))  # a sequence, or one that breaks off
    | O.
    | [\]P_^X] [^\x03\x07\x18\x1a\x1b]*+ (?: [\x07\x18\x1a] | \x1b\\ | (?=\x03|\x1b[^\\]))  # a string
    | [^\[\]OP_^X\x1b]                                 # alt and a key
    | (?=\x1b)                                         # the escape key, and then a sequence
    )""",
    re.VERBOSE | re.DOTALL,
)
_BEGINS = tuple("[]OP_^X")
_KEY = re.compile(r"\x1b\[([\d:]*)(?:;([\d:]*))?(?:;([\d:]*))?([u~ABCDEFHPQS])")
_REPORT = re.compile(r"\x1b\[(?:[IO]|\?2026;\d\$y)")
_NO_KEYS = "MmRcnty"  # the last letters of reports: mouse, cursor, device, status, window, mode
_RELEASED = "3"


class TokenKind(Enum):
    """What a token is."""

    KEY = "a key: a character, or the sequence that stands for it"
    ESCAPE = "the escape key"
    PASTE = "pasted text"
    REPORT = "a report that is wanted: whether the window has the focus, and can show whole frames"


class Token(Record):
    """One token of the input."""

    kind: TokenKind
    text: str = ""


class Sieve:
    """Takes text as it arrives and returns tokens. Times are seconds on a clock that nobody can set."""

    def __init__(self, joins_escape: bool = False) -> None:
        """Begin with nothing held.

        joins_escape  tmux keeps the escape key back for a while and sends it together with the next key,
                      which then looks like alt and that key; take the two apart again
        """
        self._joins_escape = joins_escape
        self._held = self._pasted = ""
        self._pasting = False
        self._waits_until_s = 0.0
        self._late_until_s = self._torn_until_s = float("-inf")

    @property
    def waits(self) -> bool:
        """Whether something is incomplete that time will complete; otherwise only input matters."""
        return bool(self._held or self._pasting)

    def feed(self, text: str, now_s: float) -> list[Token]:
        """Return the tokens that this text completes; text may be "" while half a character has arrived."""
        found = self.tick(now_s)
        if now_s < self._torn_until_s and len(text) > BURST:
            text = self._still_torn(text, now_s)
        if not text:
            return found
        if now_s < self._late_until_s and text.startswith(_BEGINS):
            text = ESC + text
        self._late_until_s = float("-inf")
        if len(text) > 1 or not (self._held or self._pasting):
            self._waits_until_s = now_s + (PASTE_S if self._pasting else REST_S)
        self._held += text
        if self._pasting and len(text) <= BURST and text in _LEAVES:
            found += self._end_paste(self._held[: -len(text)], text)
        while self._held and (token := self._next(now_s)) is not None:
            found += token
        return found

    def tick(self, now_s: float) -> list[Token]:
        """Return the tokens that are taken to be complete because nothing more has come."""
        if now_s < self._waits_until_s:
            return []
        if self._pasting:
            self._torn_until_s = now_s + TORN_S
            return self._end_paste(self._held, "")
        held, self._held = self._held, ""
        if held != ESC:
            return []
        self._late_until_s = now_s + LATE_S
        return [Token(TokenKind.ESCAPE)]

    def _still_torn(self, text: str, now_s: float) -> str:
        """Return what follows the end of a paste that had been taken to be over."""
        _, end, rest = text.partition(_PASTE_ENDS)
        self._torn_until_s = float("-inf") if end else now_s + TORN_S
        return rest

    def _next(self, now_s: float) -> list[Token] | None:
        """Take one piece from what is held; None if the rest of it has not come."""
        if self._pasting:
            return self._paste()
        if self._held[0] != ESC:
            character, self._held = self._held[0], self._held[1:]
            return [Token(TokenKind.KEY, character)] if _is_key(character) else []
        match = _SEQUENCE.match(self._held)
        if match is None:
            self._wait(now_s)
            return None
        self._held = self._held[match.end() :]
        if match.group() == _PASTE_BEGINS:
            self._pasting = True
            self._waits_until_s = now_s + PASTE_S
            return []
        return self._tokens(match.group())

    def _wait(self, now_s: float) -> None:
        """Note how a sequence that is incomplete may go on: where it began, and whether its end has begun."""
        if self._held == ESC:
            self._waits_until_s = now_s + ESCAPE_S
        elif len(self._held) > LONGEST_SEQUENCE:
            self._held = self._held[:2] + (ESC if self._held.endswith(ESC) else "")

    def _paste(self) -> list[Token] | None:
        """Take pasted text up to its end; what may be the beginning of the end mark is still held."""
        text, end, rest = self._held.partition(_PASTE_ENDS)
        if end:
            return self._end_paste(text, rest)
        place = max(0, len(text) - len(_PASTE_ENDS) + 1)
        self._pasted = (self._pasted + text[:place])[:LONGEST_PASTE]
        self._held = text[place:]
        return None

    def _end_paste(self, text: str, rest: str) -> list[Token]:
        pasted, self._pasted, self._held, self._pasting = self._pasted + text, "", rest, False
        return [Token(TokenKind.PASTE, pasted[:LONGEST_PASTE])] if pasted else []

    def _tokens(self, sequence: str) -> list[Token]:
        """Return the tokens of a complete sequence."""
        if sequence == ESC:
            return [Token(TokenKind.ESCAPE)]
        if _REPORT.fullmatch(sequence):
            return [Token(TokenKind.REPORT, sequence)]
        if len(sequence) == 2:
            if self._joins_escape and _is_key(sequence[1]):
                return [Token(TokenKind.ESCAPE), Token(TokenKind.KEY, sequence[1])]
            return [Token(TokenKind.KEY, sequence)]
        if sequence.startswith("\x1b[") and sequence[2] not in "<=>?" and sequence[-1] not in _NO_KEYS:
            pressed = _pressed(sequence)
            return [Token(TokenKind.KEY, pressed)] if pressed else []
        return [Token(TokenKind.KEY, sequence)] if sequence.startswith("\x1bO") else []


def _is_key(character: str) -> bool:
    """Return whether a character can come from a key: not a byte that is no text, nor a control of 8 bits."""
    return character != "\ufffd" and not "\x80" <= character <= "\x9f"


def _pressed(sequence: str) -> str:
    """Return the sequence of a key without further reports in it; "" if no key was pressed.

    A terminal may add to each parameter, after colons, the key in another layout, and whether it was pressed,
    is held or was released. A damaged sequence may name characters that do not exist.
    """
    match = _KEY.fullmatch(sequence)
    if match is None:
        return sequence
    key, modifiers, text = (group or "" for group in match.groups()[:3])
    code, (modifier, _, how) = key.split(":")[0], modifiers.partition(":")
    if how.split(":")[0] == _RELEASED or not (_exists(code) and _is_small(modifier)):
        return ""
    told = ":".join(part for part in text.split(":") if part and _exists(part))
    groups = [code, modifier, told]
    while len(groups) > 1 and not groups[-1]:
        groups.pop()
    return f"\x1b[{';'.join(groups)}{match[4]}"


def _exists(code: str) -> bool:
    """Return whether a decimal number is that of a character, or is missing."""
    return not code or (len(code) <= 7 and int(code) <= 0x10FFFF and not 0xD800 <= int(code) <= 0xDFFF)


def _is_small(modifier: str) -> bool:
    """Return whether a number can stand for modifiers: eight bits and one."""
    return not modifier or (len(modifier) <= 3 and 1 <= int(modifier) <= 256)
