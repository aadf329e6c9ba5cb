"""What a model expects at a place, in words; read from the model's JSON schema."""

from typing import Any

Schema = dict[str, Any]


def resolve(schema: Schema, root: Schema) -> Schema:
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
    """Return the words a place may hold, as text; empty if it is not a choice."""
    choices = schema.get("enum", [schema["const"]] if "const" in schema else [])
    return [f"{choice:g}" if isinstance(choice, float) else str(choice) for choice in choices]


def describe(schema: Schema, root: Schema) -> str:
    """Return what a place expects ("a number from 20 to 2000")."""
    schema = resolve(schema, root)
    if choices := options(schema):
        return f"one of {', '.join(choices)}" if len(choices) > 1 else choices[0]
    if "oneOf" in schema:
        return " or ".join(describe(choice, root) for choice in schema["oneOf"])
    match schema.get("type"):
        case "number":
            return "a number" + _range(schema)
        case "integer":
            return "a whole number" + _range(schema)
        case "boolean":
            return "true or false"
        case "string":
            return _text(schema)
        case "array":
            return _list(schema, root)
        case _:
            return "a table"


def _range(schema: Schema) -> str:
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


def _text(schema: Schema) -> str:
    if schema.get("format") == "date":
        return "a date without quotes, like 2027-01-09"
    if schema.get("format") == "date-time":
        return "a date with time and offset, like 2027-01-09T18:04:11Z"
    return "text in quotes"


def _list(schema: Schema, root: Schema) -> str:
    if "prefixItems" in schema:
        return f"a list of {len(schema['prefixItems'])} values"
    items = resolve(schema.get("items", {}), root)
    if items.get("type") == "object":
        return "tables headed by double brackets"
    return f"a list of {_plural(items)}"


def _plural(items: Schema) -> str:
    words = {"number": "numbers", "integer": "whole numbers", "string": "texts", "array": "lists"}
    return words.get(items.get("type", ""), "values")
