"""Explains what in a file does not fit a model, in the words of TOML and with its place."""

import datetime as dt
import difflib
from collections.abc import Sequence
from functools import cache
from typing import Any

from pydantic import ValidationError

from nightmode.errors import NightmodeError, UnfitError
from nightmode.model.base import Model
from nightmode.records import Record

Schema = dict[str, Any]


def dereferenced(schema: Schema, root: Schema) -> Schema:
    """Return a schema with references followed and "or nothing" left out (TOML has no null)."""
    while True:
        if "$ref" in schema:
            schema = root["$defs"][schema["$ref"].rsplit("/", 1)[-1]]
            continue
        choices = [choice for choice in schema.get("anyOf", []) if choice.get("type") != "null"]
        if len(choices) != 1:
            return schema
        schema = choices[0]


def options(schema: Schema) -> list[str]:
    """Return the words allowed in a place, as text; "" if any value is allowed."""
    choices = schema.get("enum", [schema["const"]] if "const" in schema else [])
    return [f"{choice:g}" if isinstance(choice, float) else str(choice) for choice in choices]


def describe(schema: Schema, root: Schema) -> str:
    """Return what a place expects ("a number from 20 to 2000")."""
    schema = dereferenced(schema, root)
    if choices := options(schema):
        return f"one of {', '.join(choices)}" if len(choices) > 1 else choices[0]
    if "oneOf" in schema:
        return _spellings_words([dereferenced(choice, root) for choice in schema["oneOf"]], root)
    match schema.get("type"):
        case "number":
            return "a number" + _range_words(schema)
        case "integer":
            return "a whole number" + _range_words(schema)
        case "boolean":
            return "true or false"
        case "string":
            return _text_words(schema)
        case "array":
            return _list_words(schema, root)
        case _:
            return "a table"


def _spellings_words(spellings: Sequence[Schema], root: Schema) -> str:
    """Return what is expected in a place that may be written in several ways, or as a list of them."""
    words = " or ".join(describe(spelling, root) for spelling in spellings if spelling.get("type") != "array")
    return words + ", or a list of them" if words and _has_list(spellings) else words


def _has_list(spellings: Sequence[Schema]) -> bool:
    return any(spelling.get("type") == "array" for spelling in spellings)


def _range_words(schema: Schema) -> str:
    low, above = schema.get("minimum"), schema.get("exclusiveMinimum")
    high, below = schema.get("maximum"), schema.get("exclusiveMaximum")
    if low is not None and high is not None:
        return f" from {low:g} to {high:g}"
    parts = [
        f"of at least {low:g}" if low is not None else "",
        f"above {above:g}" if above is not None else "",
        f"up to {high:g}" if high is not None else "",
        f"below {below:g}" if below is not None else "",
    ]
    return "".join(f" {part}" for part in [" and ".join(part for part in parts if part)] if part)


def _text_words(schema: Schema) -> str:
    if schema.get("format") == "date":
        return "a date without quotes, like 2027-01-09"
    if schema.get("format") == "date-time":
        return "a date with time and offset, like 2027-01-09T18:04:11Z"
    return "text in quotes"


def _list_words(schema: Schema, root: Schema) -> str:
    if "prefixItems" in schema:
        return f"a list of {len(schema['prefixItems'])} values"
    items = dereferenced(schema.get("items", {}), root)
    if items.get("type") == "object":
        return "tables headed by double brackets"
    return f"a list of {_plural(items)}"


def _plural(items: Schema) -> str:
    words = {"number": "numbers", "integer": "whole numbers", "string": "texts", "array": "lists"}
    return words.get(items.get("type", ""), "values")


LONGEST_QUOTE = 40
MANY_KEYS = 16
_OUT_OF_RANGE = {"greater_than", "greater_than_equal", "less_than", "less_than_equal"}

Wording = tuple[str, str]
ErrorDetails = Any


class Spot(Record):
    """A place in a file: its name for people, what is expected there, and what is there."""

    words: tuple[str, ...]
    schema: Schema
    value: Any


@cache
def _schema_of(model: type[Model]) -> Schema:
    """Return what a model expects, worked out once: this takes longer than the rest of an explanation."""
    return model.model_json_schema()


def explain(where: str, data: dict[str, Any], model: type[Model], error: ValidationError) -> NightmodeError:
    """Return one sentence on the first thing in a file that does not fit, with the number of others."""
    problems = error.errors(include_url=False, include_input=False)
    problem = _first(problems)
    root = _schema_of(model)
    kind, loc = problem["type"], problem["loc"]
    about_key = kind in {"missing", "extra_forbidden"} and isinstance(loc[-1], str)
    spot = _walk(root, loc[:-1] if about_key else loc, data)
    if about_key:
        what, instead = _about_key(kind, str(loc[-1]), dereferenced(spot.schema, root), root)
    else:
        what, instead = _about_value(problem, spot, root)
    if len(problems) > 1:
        more = "1 more problem" if len(problems) == 2 else f"{len(problems) - 1} more problems"
        instead = f"{instead} (and {more})" if instead else f"and {more}"
    return NightmodeError(", ".join(part for part in (where, *spot.words) if part), what, instead)


def _first(problems: Sequence[ErrorDetails]) -> ErrorDetails:
    """Return the first problem; a misspelt key comes before a missing key of the same table."""
    first = problems[0]
    if first["type"] == "missing":
        for problem in problems:
            if problem["type"] == "extra_forbidden" and problem["loc"][:-1] == first["loc"][:-1]:
                return problem
    return first


def _walk(root: Schema, loc: Sequence[str | int], data: Any) -> Spot:
    """Return the spot that a validator's location names, following schema and data side by side."""
    schema, value = dereferenced(root, root), data
    words: tuple[str, ...] = ()
    for step in loc:
        if "oneOf" in schema:  # two spellings; the step names the one chosen and is no part of the file
            if isinstance(value, str | dict) or step == "list":
                schema = _spelling(schema, str(step), root)
            continue  # for a value of another sort, every spelling stays expected
        value = _inside(value, step)
        words = _with_step(words, step, value)
        schema = dereferenced(_expected_inside(schema, step), root)
    return Spot(words, schema, value)


def _spelling(schema: Schema, tag: str, root: Schema) -> Schema:
    kind = {"table": "object", "list": "array"}.get(tag, "string")
    spellings = [dereferenced(choice, root) for choice in schema["oneOf"]]
    named = [choice for choice in spellings if str(choice.get("title")).lower() == tag]
    typed = [choice for choice in spellings if choice.get("type") == kind]
    return next(iter((*named, *typed)), {})


def _inside(value: Any, step: str | int) -> Any:
    try:
        return value[step]
    except (LookupError, TypeError):
        return None


def _expected_inside(schema: Schema, step: str | int) -> Schema:
    if isinstance(step, str):
        return schema.get("properties", {}).get(step, {})
    places = schema.get("prefixItems", [])
    return places[step] if step < len(places) else schema.get("items", {}) or {}


def _with_step(words: tuple[str, ...], step: str | int, value: Any) -> tuple[str, ...]:
    if isinstance(step, str):
        return (*words, shortened(step))
    if not isinstance(value, dict):
        return (*words, f"item {step + 1}")
    name = value.get("name")
    named = f' ("{shortened(name)}")' if isinstance(name, str) and name else ""
    return (*words[:-1], f"{words[-1] if words else 'item'} {step + 1}{named}")


def _about_key(kind: str, key: str, table: Schema, root: Schema) -> Wording:
    known = table.get("properties", {})
    if kind == "missing":
        return f"{key} is missing", f"add {key}, {describe(dereferenced(known.get(key, {}), root), root)}"
    what = f'unknown key "{shortened(key)}"'
    if near := _nearest(key, list(known)):
        return what, f"did you mean {near}"
    if 0 < len(known) <= MANY_KEYS:
        return what, f"leave it out, or use one of {', '.join(known)}"
    return what, "leave it out"


def _about_value(problem: ErrorDetails, spot: Spot, root: Schema) -> Wording:
    kind, context, value = problem["type"], problem.get("ctx", {}), spot.value
    if kind == "value_error":
        error = context["error"]
        return (error.what, error.instead) if isinstance(error, UnfitError) else (str(error), "")
    if kind in {"enum", "literal_error"} and isinstance(value, str):
        return _not_a_choice(value, options(spot.schema))
    if kind in _OUT_OF_RANGE:
        return f"{in_toml(value)} is out of range", f"write {_range(value, context, spot.schema, root)}"
    if kind == "finite_number":
        return "is not a finite number", f"write {describe(spot.schema, root)}"
    if kind == "timezone_aware":
        return "has no offset from UTC", "write it like 2027-01-09T18:04:11Z"
    if kind in {"too_long", "string_too_long"}:
        return _too_long(value, context)
    if kind == "missing":
        return "is missing from the list", f"write {describe(spot.schema, root)}"
    return _wrong_type(spot, root)


def _not_a_choice(text: str, choices: list[str]) -> Wording:
    what = f'"{shortened(text)}" is not known here'
    if near := _nearest(text, choices):
        return what, f'did you mean "{near}"'
    return what, f"write one of {', '.join(choices)}"


def _range(value: Any, context: dict[str, Any], schema: Schema, root: Schema) -> str:
    """Return the range expected; for dates it is not in the schema, but the validator names one end."""
    if not isinstance(value, dt.date):
        return describe(schema, root)
    side, limit = next(iter(context.items()))
    return f"a date not {'before' if side == 'ge' else 'after'} {str(limit)[:10]}"


def _too_long(value: Any, context: dict[str, Any]) -> Wording:
    unit = "characters" if isinstance(value, str) else "items"
    count = len(value) if isinstance(value, str | list) else "too many"
    return f"has {count} {unit}", f"write at most {context['max_length']}"


def _wrong_type(spot: Spot, root: Schema) -> Wording:
    value, schema = spot.value, spot.schema
    if isinstance(value, dict) and schema.get("type") == "array":
        name = spot.words[-1] if spot.words else "target"
        return "is one table where several may stand", f"head each with double brackets, like [[{name}]]"
    if isinstance(value, list) and schema.get("type") == "object":
        return "is a list", "write one table with single brackets"
    return f"is {in_toml(value)}", f"write {describe(schema, root)}"


def in_toml(value: Any) -> str:
    """Return what a value is, in the words of TOML, cut to a readable length."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int):
        return str(value) if abs(value) < 10**15 else "a very large number"
    if isinstance(value, float):
        return repr(value)
    if isinstance(value, str):
        return f'the text "{shortened(value)}"'
    if isinstance(value, dt.datetime):
        return "a date with a time"
    if isinstance(value, dt.date):
        return f"the date {value}"
    kinds = {dt.time: "a time of day", list: "a list", dict: "a table"}
    return kinds.get(type(value), "nothing")


def shortened(text: str) -> str:
    """Return the beginning of a text, with an ellipsis where it was cut."""
    return text if len(text) <= LONGEST_QUOTE else text[: LONGEST_QUOTE - 1] + "…"


def _nearest(word: str, known: list[str]) -> str | None:
    """Return the known word spelt most like this one, or None if none is alike."""
    wanted = word[:LONGEST_QUOTE].lower().replace("-", "_").replace(" ", "_")
    plain = {item.lower().replace(" ", "_"): item for item in known}
    close = difflib.get_close_matches(wanted, plain, n=1, cutoff=0.6)
    return plain[close[0]] if close else _beginning(wanted, plain)


def _beginning(wanted: str, plain: dict[str, str]) -> str | None:
    """Return the one known word that begins with this one, such as aperture_mm for aperture."""
    begun = [item for spelling, item in plain.items() if len(wanted) >= 3 and spelling.startswith(wanted)]
    return begun[0] if len(begun) == 1 else None
