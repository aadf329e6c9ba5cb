"""What the guard touches behind Textual's public face is there, and told to whoever raises the pin."""

import importlib
import re
from pathlib import Path

import pytest
from rich.console import Console
from textual.app import App
from textual.drivers.linux_driver import LinuxDriver

GUARD = Path(__file__).parents[2] / "nightmode" / "app" / "guard"
PAGE = (Path(__file__).parents[2] / "DEVELOPERS.md").read_text(encoding="utf-8")
SECTION = PAGE.partition("## What of Textual is touched")[2].partition("\n## ")[0]
TOLD = set(re.findall(r"`(_\w+)`", SECTION))


class Plain(App):
    """An app of Textual's own, and what it has before it runs."""


async def test_what_is_told_to_be_touched_is_there():
    theirs = (Plain(), LinuxDriver(Plain()), Console())
    assert [name for name in sorted(TOLD) if not any(hasattr(owner, name) for owner in theirs)] == []


def test_the_private_parser_of_keys_is_there():
    assert "textual._xterm_parser" in SECTION
    assert hasattr(importlib.import_module("textual._xterm_parser"), "XTermParser")


@pytest.mark.parametrize("module", ["red_app", "posix"])
async def test_every_private_name_of_textual_that_is_used_is_told(module):
    text = (GUARD / f"{module}.py").read_text(encoding="utf-8")
    used = set(re.findall(r"(?:self|console|super\(\))\.(_[a-z]\w*)|def (_[a-z]\w*)", text))
    names = {first or second for first, second in used}
    theirs = {name for owner in (App, LinuxDriver, Console) for name in dir(owner)}
    theirs |= {*vars(Plain()), *vars(LinuxDriver(Plain())), *vars(Console())}
    assert names & theirs <= TOLD | {"_app"}
