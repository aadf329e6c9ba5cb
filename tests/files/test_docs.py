"""docs/files.md says what the program does: every key, its limits and what holds without it."""

import re
from functools import cache
from pathlib import Path

import pytest
from rows import rows

from nightmode.files.toml import read_toml
from nightmode.model.explain import dereferenced, describe
from nightmode.model.kit import Barlow, Binoculars, Eyepiece, Filter, Finder, Telescope
from nightmode.model.observer import Observer, Person
from nightmode.model.plan import Plan
from nightmode.model.session import Entry, Head
from nightmode.model.site import Site
from nightmode.model.target import Target
from nightmode.model.theme import Red, Theme
from nightmode.session import journal

PAGE = (Path(__file__).parents[2] / "docs" / "files.md").read_text("utf-8")
#: The words that begin the part of the page about each model.
PARTS = {
    Person: "`[observer]`, once",
    Site: "`[[site]]`, up to",
    Telescope: "`[[telescope]]`, up to",
    Binoculars: "`[[binoculars]]`, up to",
    Eyepiece: "`[[eyepiece]]`, up to",
    Barlow: "`[[barlow]]`, up to",
    Filter: "`[[barlow]]`, up to",
    Finder: "`[[barlow]]`, up to",
    Plan: "## A plan",
    Target: "With everything inline",
    Theme: "## A theme",
    Red: "## A theme",
    Head: "`[session]`, the head",
    Entry: "`[[entry]]`, one for",
}


@cache
def _schema(model):
    return model.model_json_schema()


@cache
def _rows(model):
    """Return the cells of the table about a model, by key."""
    part = PAGE.split(PARTS[model])[1].split("|---|---|---|---|\n")[1].split("\n\n")[0]
    rows = [[cell.strip() for cell in line.strip("|").split("|")] for line in part.splitlines()]
    return {key: row for row in rows for key in re.findall(r"`(\w+)`", row[0])}


CASES = [(model, key) for model in PARTS for key in model.model_fields]


@rows("model, key", CASES)
def test_every_key_is_there_with_its_limits_and_its_default(model, key):
    root = _schema(model)
    row = " | ".join(_rows(model)[key])
    expected = dereferenced(root["properties"][key], root)
    if expected.get("type") in {"number", "integer"}:
        limits = re.sub(r"^a (whole )?number (from )?", "", describe(expected, root))
        assert f"| {limits} |" in row
    for choice in [item for item in expected.get("enum", []) if isinstance(item, str)]:
        assert choice in row
    assert str(expected.get("maxLength", "")) in row or expected["maxLength"] in {80, 500, 60, 64}
    field = model.model_fields[key]
    if field.is_required():
        assert row.endswith("needed")
    elif isinstance(field.default, int | float) and not isinstance(field.default, bool):
        assert row.endswith(f"| {field.default}")


@pytest.mark.parametrize(
    ("heading", "model"), [("## observer.toml", Observer), ("## A plan", Plan), ("## A theme", Theme)]
)
def test_the_examples_are_files_that_read(tmp_path, heading, model):
    path = tmp_path / "example.toml"
    path.write_text(PAGE.split(heading)[1].split("```toml\n")[1].split("```")[0])
    assert read_toml(path, model)


def test_the_journal_shown_is_one_that_reads(tmp_path):
    path = tmp_path / "session.toml"
    path.write_text(PAGE.split("## A journal")[1].split("```toml\n")[1].split("```")[0])
    back = journal.read(path)
    assert back.message == ""
    assert [item.event for item in back.entries] == ["tick", "note"]
