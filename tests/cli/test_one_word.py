"""Words are identifiers in one file only: changed there, everything that reads them still agrees."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

HOME = Path(__file__).parents[2]
CHANGED = "beyond this glass"


@pytest.fixture
def changed(tmp_path):
    """The program in a folder of its own, with one word changed in the one file that holds it."""
    copied = tmp_path / "changed"
    shutil.copytree(HOME / "nightmode", copied / "nightmode")  # what is compiled already comes along
    for folder in ("plans", "themes"):
        shutil.copytree(HOME / folder, copied / folder)
    file = copied / "nightmode" / "visibility" / "words.py"
    text = file.read_text(encoding="utf-8")
    assert text.count('"out of reach"') == 1
    file.write_text(text.replace('"out of reach"', f'"{CHANGED}"'), encoding="utf-8")
    return copied


@pytest.fixture
def some(tmp_path):
    """The bundled plan with a few of its targets: some show that night and some do not."""
    head, *targets = (HOME / "plans" / "hillside.toml").read_text(encoding="utf-8").split("[[target]]")
    path = tmp_path / "some.toml"
    path.write_text("[[target]]".join([head, *targets[::4]]), encoding="utf-8")
    return path


BOTH = """
import sys
from nightmode.cli.main import main
main([*sys.argv[1:], "--json"])
print("=====")
main(sys.argv[1:])
"""


def json_and_table_of(folder, *args):
    done = subprocess.run(
        [sys.executable, "-c", BOTH, *args],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(folder)},
        capture_output=True,
        text=True,
        check=True,
    )
    plain, _, table = done.stdout.partition("=====\n")
    return {one["name"]: one for one in json.loads(plain)["targets"]}, table


def test_one_word_changed_in_one_file_changes_everywhere(command, changed, some):
    """The night of 3 February leaves some of the bundled plan out of reach: a Moon-free but later sky."""
    asked = ("check", str(some), "--night", "2027-02-03")
    before = {one["name"]: one for one in command.json(*asked)["targets"]}
    after, table = json_and_table_of(changed, *asked)
    out = [name for name, one in before.items() if one["verdict"]["word"] == "out of reach"]
    assert out
    for name, one in after.items():
        assert one["verdict"]["word"] == (CHANGED if name in out else before[name]["verdict"]["word"])
        assert ("next_fit" in one) == (name in out)
    fits, _, misfits = table.partition("Does not fit:")
    assert all(f"\n{name[:18]} " in misfits for name in out)
    assert CHANGED not in fits
