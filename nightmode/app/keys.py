"""The one table of keys: what the help shows, what the screen does, what the README lists."""

from nightmode.records import Record


class Key(Record):
    """A row of the table: keys by Textual's names, an action and its argument, a label, one line of help."""

    keys: tuple[str, ...]
    action: str
    argument: str
    label: str
    help: str


KEYS = (
    Key(("space",), "tick", "seen", "space", "seen; on to the next target"),
    Key(("s",), "tick", "suspected", "s", "suspected"),
    Key(("x",), "tick", "not seen", "x", "looked, not seen"),
    Key(("z",), "tick", "set aside", "z", "set aside: comes back later"),
    Key(("u",), "undo", "", "u", "undo, as often as you like"),
    Key(("n",), "note", "", "n", "a note on this target (tab: on the one ticked last, or the night)"),
    *(Key((digit,), "phrase", digit, "1-9", "a quick phrase as a note") for digit in "123456789"),
    Key(("down", "j"), "step", "1", "j ↓", "look at the next target in the order"),
    Key(("up", "k"), "step", "-1", "k ↑", "look at the one before"),
    Key(("escape",), "back", "", "esc", "back to the current target"),
    Key(("e",), "other_eyepiece", "", "e", "another eyepiece and its figures"),
    Key(("o",), "other_instrument", "", "o", "the plan's other instrument for this target"),
    Key(("a",), "aim", "", "a", "aim: where it is among the stars; again: closer, finder, eyepiece"),
    Key(
        ("g",),
        "circles",
        "",
        "g",
        "large figures for setting circles, with hour angle and sidereal time",
    ),
    Key(("r",), "remarks", "", "r", "read all that is written about this target"),
    Key(("l",), "list", "", "l", "the list of all targets"),
    Key(("slash",), "find", "", "/", "find a target by its name, also one that the plan does not have"),
    Key(("m",), "sky", "", "m", "type a sky reading: mag/arcsec² or naked-eye limit"),
    Key(("c",), "clouds", "", "c", "say which part of the sky is clear"),
    Key(("i",), "seeing", "", "i", "seeing, Antoniadi I to V"),
    Key(("t",), "air", "", "t", "transparency 1 to 5, or dew"),
    Key(("w",), "white_light", "", "w", "white light just now: dark adaptation starts again"),
    Key(("plus", "equals_sign"), "glow", "1", "+", "a little brighter"),
    Key(("minus",), "glow", "-1", "-", "a little darker"),
    Key(("b",), "black", "", "b", "black screen; any key wakes it, with the voice on only b"),
    Key(("v",), "voice", "", "v", "voice on or off"),
    Key(("p",), "checklist", "", "p", "set-up and packing lists"),
    Key(("question_mark",), "help", "", "?", "these keys and your phrases"),
    Key(("q",), "leave", "", "q", "leave; asks once, q again leaves"),
)
#: What these keys do on a black screen while the voice is on, in the words it speaks; all others do as
#: always.
HEARD = (
    ("Escape", "the last words again. Once more: all about the target"),
    ("A", "where it is, from a bright star on. Again: closer, in the finder, in the eyepiece"),
    ("G", "how high it is, how long is left, and the figures for setting circles"),
    ("R", "all that is written about it"),
    ("L", "what is next, and how many are left"),
    ("E", "another eyepiece"),
    ("O", "another instrument"),
    ("Minus", "slower"),
    ("Plus", "faster"),
    ("Up", "in a note, read it back word by word"),
    ("Question mark", "these keys"),
    ("V", "the voice off. Then any key lights the screen"),
    ("B", "the screen lit again"),
)
#: Every press of these counts, held or not. Some are held on purpose: they move, or change the glow. Others
#: ask for words or digits: if such a press were ignored, the answer would be taken for commands.
_ALSO_HELD = {"step", "glow", "aim", "note", "find", "sky", "clouds", "seeing", "air"}
_MOVES = {"pageup", "pagedown", "home", "end"}
REPEATING = frozenset(_MOVES | {name for key in KEYS if key.action in _ALSO_HELD for name in key.keys})
#: Keys that leave when they are pressed twice, however fast.
ASKED_TWICE = frozenset({"q", "ctrl+c"})
#: Keys that do nothing, and are pressed by those who look for help.
LOOKS_FOR_HELP = frozenset({"enter", "h", "f1"})
#: What records something, or takes it back, at once.
_RECORD = {"tick", "undo", "phrase", "white_light"}
_ACTIONS = {name: (key.action, key.argument) for key in KEYS for name in key.keys}


def action_of(key: str) -> tuple[str, str] | None:
    """Return what a key does and its argument, or None for a key that does nothing."""
    return _ACTIONS.get(key)


def is_recording(key: str) -> bool:
    """Return whether a key records something at once, or takes it back."""
    return key in _ACTIONS and _ACTIONS[key][0] in _RECORD


def is_capital(key: str) -> bool:
    """Return whether a key is the capital of a letter that does something."""
    return len(key) == 1 and key.isupper() and key.lower() in _ACTIONS


def key_help() -> list[tuple[str, str]]:
    """Return (label, help) of each key once, in the order of the table."""
    return list(dict.fromkeys((key.label, key.help) for key in KEYS))
