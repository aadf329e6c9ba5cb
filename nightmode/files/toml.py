"""Reading a TOML file into a model; whatever is wrong with it is one sentence."""

import re
import tomllib
from pathlib import Path
from typing import Any, TypeVar

from pydantic import ValidationError

from nightmode.errors import NightmodeError
from nightmode.files.explain import explain
from nightmode.files.syntax import explain_syntax
from nightmode.files.text import decode, read_bytes
from nightmode.files.trouble import shown
from nightmode.model.base import Model

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
    text = decode(path, read_bytes(path, LIMIT_BYTES))
    return as_model(shown(path), parse_toml(shown(path), text), model)


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
        raise explain(where, data, model, error) from None
    except RecursionError:
        raise NightmodeError(where, "lists or tables are nested too deep", "write plain tables") from None


def _with_tuples(value: Any) -> Any:
    """Turn lists into the tuples that frozen models hold."""
    if isinstance(value, dict):
        return {key: _with_tuples(item) for key, item in value.items()}
    if isinstance(value, list):
        return tuple(_with_tuples(item) for item in value)
    return value
