"""Reads a TOML file into a model; any mistake in it becomes one sentence."""

import re
import tomllib
from pathlib import Path
from typing import Any, TypeVar

from pydantic import ValidationError

from nightmode.errors import NightmodeError
from nightmode.files.text import decode, path_text, read_bytes
from nightmode.model.base import Model

_PLACE = re.compile(r" \(at (?:line (?P<line>\d+), column \d+|end of document)\)$")
_KEY = re.compile(r"\s*(?P<key>[\w-]{1,40})\s*=")
_HEADER = re.compile(r"\s*\[\[?\s*(?P<name>[\w .-]{1,40}?)\s*\]\]?")
_CHARACTER = re.compile(r"character ('.*')$", re.DOTALL)
_DECIMAL_COMMA = re.compile(r"=\s*[+-]?\d+,\d")
_LIKE_A_DATE = re.compile(r"=\s*\d{1,4}([./-])\d{1,2}\1\d{1,4}\s*(?:#|$)")
_QUOTE_INSIDE = re.compile(r'=\s*"[^"]*"[^"#]+"')
_CURLY_QUOTE = re.compile("=\\s*[“”„«»‘’]")

#: The beginning of the reader's message: what is wrong, what to write instead.
_WORDS = (
    ("Invalid statement", "this is neither key = value nor a [table]", "write one key = value on a line"),
    ("Expected newline", "there is more after the value", "write one key = value on a line, without units"),
    ("Expected '='", "there is no = after the key", "write key = value"),
    ("Expected ']", "the bracket of the table is not closed", "write it like [[target]]"),
    ("Invalid initial character", "the key is missing or not a plain word", "write key = value"),
    ("Unclosed array", "the list is not closed or lacks a comma", "write it like [1, 2, 3]"),
    ("Unclosed inline table", "the { } is not closed or lacks a comma", "write it like { a = 1, b = 2 }"),
    ("Unescaped '\\'", "a backslash stands alone in the text", "write two of them"),
    ("Invalid hex value", "the \\u in the text lacks its digits", "write two backslashes"),
    ("Escaped character", "the \\u in the text is no character", "leave it out"),
    ("Unterminated string", "the text has no closing quote", 'write it like "M 13"'),
    ("Expected '\"'", "the text has no closing quote", 'write it like "M 13"'),
    ("Expected \"'", "the text has no closing quote", 'write it like "M 13"'),
    ("Invalid date or datetime", "there is no such date or time", "write it like 2027-01-09"),
    (
        "Invalid value",
        "the value is missing or not TOML",
        'write text in quotes like "M 13", numbers without',
    ),
    ("Exceeds the limit", "the number is too long", "write fewer digits"),
    ("Cannot redefine", "the table is given twice", "keep one"),
    ("Cannot mutate", "the table was closed further up", "put all its keys in one place"),
    ("Duplicate inline", "a key in the { } is given twice", "keep one"),
)


def explain_syntax(where: str, text: str, error: ValueError) -> NightmodeError:
    """Return the one sentence for a TOML text that cannot be read."""
    message = str(error)
    if "\r" in text and "\n" not in text:  # all of it is one line then
        return NightmodeError(where, *_bad_character(r"'\r'"))
    place = _PLACE.search(message)
    if place is None:
        return NightmodeError(where, *_general(message))
    message = message[: place.start()]
    text = text.rstrip()
    number = int(place["line"]) if place["line"] else text.count("\n") + 1
    lines = text.split("\n", number)
    line = lines[number - 1] if number <= len(lines) else ""
    return NightmodeError(f"{where}, line {number}", *_in_line(message, line))


def _in_line(message: str, line: str) -> tuple[str, str]:
    """Return what is wrong in a line and what to write instead, by looking at the line itself."""
    if message.startswith(("Cannot overwrite", "Cannot declare")):
        if header := _HEADER.match(line):
            name = header["name"]
            return f"[{name}] is there already", f"keep one, or head each of several with [[{name}]]"
        if key := _KEY.match(line):
            return f'"{key["key"]}" is given twice', "keep one"
        return "a key is given twice", "keep one"
    if _DECIMAL_COMMA.search(line):
        return "a number is written with a comma", "use a decimal point"
    if _CURLY_QUOTE.search(line):
        return "the quotes are curly or foreign", 'use straight ones like "M 13"'
    if _LIKE_A_DATE.search(line):
        return "there is no such date or time", "write it like 2027-01-09"
    if message.startswith("Expected newline") and _QUOTE_INSIDE.search(line):
        return "a quote stands inside the text", "write it with a backslash before it"
    return _general(message)


def _general(message: str) -> tuple[str, str]:
    if found := _CHARACTER.search(message):
        return _bad_character(found[1])
    for beginning, what, instead in _WORDS:
        if message.startswith(beginning):
            return what, instead
    return "this is not TOML", "write one key = value on a line"


def _bad_character(quoted: str) -> tuple[str, str]:
    """Return the words for a character that is not allowed in its place; quoted is its repr."""
    if quoted == r"'\n'":
        return "the text has no closing quote", 'write it like "M 13"'
    if quoted == r"'\r'":
        return "a line ends with a bare carriage return", "save the file with usual line ends"
    number = ord(quoted[1:-1].encode().decode("unicode_escape")[0])
    return f"there is the control character U+{number:04X}", "leave it out"


#: A hand-written file larger than this is not one: 2,000 targets with notes come to about 1 MB.
LIMIT_BYTES = 2_000_000
#: The reader's time grows with the square of the number of parts in a dotted key, so there is a limit.
_PART = r"""(?:[\w-]+|"[^"\n]*"|'[^'\n]*')"""
_LONG_KEY = re.compile(rf"(?:^|[\[{{,])[ \t]*{_PART}(?:[ \t]*\.[ \t]*{_PART}){{7}}", re.MULTILINE)

AnyModel = TypeVar("AnyModel", bound=Model)


def read_toml(path: Path, model: type[AnyModel]) -> AnyModel:
    """Return the model that a TOML file holds.

    NightmodeError, with the place in the file, for anything that is wrong with it.
    """
    return as_model(path_text(path), parse_toml(path_text(path), read_text(path)), model)


def read_text(path: Path) -> str:
    """Return the text of a TOML file. NightmodeError unless it is an ordinary UTF-8 file of limited size."""
    return decode(path, read_bytes(path, LIMIT_BYTES))


def parse_toml(where: str, text: str) -> dict[str, Any]:
    """Return the tables of a TOML text. NightmodeError with the line if it is not TOML."""
    if match := _LONG_KEY.search(text):
        line = text.count("\n", 0, match.start() + 1) + 1
        raise NightmodeError(f"{where}, line {line}", "the key has too many parts", "write a plain key")
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise NightmodeError(where, "lists or tables are nested too deep", "write plain tables") from None
    except ValueError as error:
        raise explain_syntax(where, text, error) from None


def as_model(where: str, data: dict[str, Any], model: type[AnyModel]) -> AnyModel:
    """Return the model that the tables of a file make. NightmodeError if they do not fit it."""
    try:
        return model.model_validate(_with_tuples(data))
    except ValidationError as error:
        from nightmode.model.explain import explain  # loaded only for an error

        raise explain(where, data, model, error) from None
    except RecursionError:
        raise NightmodeError(where, "lists or tables are nested too deep", "write plain tables") from None


_NESTED = (dict, list)


def _with_tuples(value: Any) -> Any:
    """Return data with lists turned into tuples, as frozen models hold them."""
    if isinstance(value, dict):
        return {key: _with_tuples(item) if isinstance(item, _NESTED) else item for key, item in value.items()}
    if isinstance(value, list):
        return tuple(_with_tuples(item) for item in value)
    return value
