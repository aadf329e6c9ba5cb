"""Changes observer.toml only where an answer changes it; every other line and every remark stays."""

import json
import tomllib
from collections.abc import Iterator, Sequence
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Comment, InlineTable, Item, Key, Table, Whitespace

from nightmode.model.base import Model
from nightmode.model.observer import Observer
from nightmode.setup.observer_file import table_text, value_lines

Rows = Sequence[Any]
#: What tomlkit keeps of a table: keys with their values; blank lines and remarks without a key.
TableItems = list[tuple[Key | None, Item]]
#: What tells the rows of a table apart when their names do not: an eyepiece of a focal length replaces
#: another of the same.
_SAME = {"eyepiece": "focal_length_mm", "barlow": "factor", "filter": "passband", "finder": "kind"}


def changed_text(text: str, before: Observer, after: Observer) -> str | None:
    """Return the text of an observer.toml that holds `before`, changed so that it holds `after`.

    None if the text is written in a way that cannot be changed line by line.
    """
    try:
        document = tomlkit.parse(text if text.endswith("\n") else text + "\n")
        _change_fields(document.setdefault("observer", tomlkit.table()), before.observer, after.observer)
        for name in Observer.model_fields:
            if name != "observer":
                _change_rows(document, name, getattr(before, name), getattr(after, name))
        changed = tomlkit.dumps(document).rstrip("\n") + "\n"
        reads_back = Observer.model_validate_json(json.dumps(tomllib.loads(changed)))
    except (TOMLKitError, ValueError, LookupError, TypeError, AttributeError):
        return None
    return changed if reads_back == after else None


def _change_fields(table: Table | InlineTable, before: Model, after: Model) -> None:
    tail = _taken_tail(table)
    for key in type(after).model_fields:
        old, new = getattr(before, key), getattr(after, key)
        if new is None:
            table.pop(key, None)
        elif new != old:
            table[key] = _item(key, new, multiline=isinstance(table, Table))
    table.value.body.extend(tail)


def _item(key: str, value: Any, multiline: bool) -> Any:
    return tomlkit.parse("\n".join([*value_lines(key, value, multiline), ""]))[key]


def _taken_tail(table: Table | InlineTable) -> TableItems:
    """Remove blank lines and remarks from the end of a table and return them: they belong to what follows."""
    body, tail = table.value.body, []
    while body and body[-1][0] is None:
        tail.append(body.pop())
    return tail[::-1]


def _change_rows(document: tomlkit.TOMLDocument, name: str, before: Rows, after: Rows) -> None:
    if before == after:
        return
    rows: Any = document.setdefault(name, tomlkit.aot())
    stays = dict(_pairs(name, before, after))
    for place in reversed(range(len(before))):
        if place in stays:
            _change_fields(rows[place], before[place], after[stays[place]])
        else:
            _drop(document, rows, place)
    for place, model in enumerate(after):
        if place not in stays.values():
            _add(rows, name, model)


def _drop(document: tomlkit.TOMLDocument, rows: Any, place: int) -> None:
    """Remove a row; a remark below it belongs to the next row, and stays."""
    tail = _taken_tail(rows[place]) if isinstance(rows, AoT) else []
    if any(isinstance(item, Comment) for _, item in tail):
        above = rows[place - 1] if place else _above(document, rows)
        is_spaced = isinstance(above.value.body[-1][1], Whitespace)
        above.value.body.extend(tail[is_spaced and isinstance(tail[0][1], Whitespace) :])
    del rows[place]


def _above(document: tomlkit.TOMLDocument, rows: AoT) -> Table:
    """Return the table that ends where an array of tables begins. LookupError if there is none."""
    items = [item for _, item in document.body]
    before = items[: next(place for place, item in enumerate(items) if item is rows)]
    last = next(item for item in reversed(before) if isinstance(item, Table | AoT))
    return last[-1] if isinstance(last, AoT) else last


def _add(rows: Any, name: str, model: Model) -> None:
    [row] = tomlkit.parse(table_text(f"[[{name}]]", name, model))[name]
    if not isinstance(rows, AoT):
        inline = tomlkit.inline_table()
        inline.update(row.unwrap())
        rows.append(inline)
        return
    if len(rows) and not isinstance(rows[-1].value.body[-1][1], Whitespace):
        rows[-1].value.body.append((None, tomlkit.nl()))
    row.value.body.append((None, tomlkit.nl()))
    rows.append(row)


def _pairs(name: str, before: Rows, after: Rows) -> Iterator[tuple[int, int]]:
    """Yield (place before, place after) of every row that stays, changed or not."""
    figure = _SAME.get(name, "name")
    left = dict(enumerate(after))
    for place, old in enumerate(before):
        for key in ("name", figure):
            same = [at for at, new in left.items() if getattr(new, key) == getattr(old, key)]
            if same:
                left.pop(same[0])
                yield place, same[0]
                break
