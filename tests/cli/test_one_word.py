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
#: The Moon is away that night, and the sky late enough to put some of the bundled plan out of reach.
NIGHT = ("--night", "2027-02-03")
PAST = "2024-02-08"


@pytest.fixture
def changed(tmp_path):
    """The program in a folder of its own, with one word changed in the one file that holds it."""
    copied = tmp_path / "changed"
    shutil.copytree(HOME / "nightmode", copied / "nightmode")  # what is compiled already comes along
    for folder in ("plans", "themes"):
        shutil.copytree(HOME / folder, copied / folder)
    file = copied / "nightmode" / "words.py"
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


EACH = """
import json, sys
from nightmode.cli.main import main
for words in json.loads(sys.argv[1]):
    main(words)
    print("=====")
"""


def printed(folder, *commands, typed=""):
    """What each command prints, run in the program in this folder."""
    done = subprocess.run(
        [sys.executable, "-c", EACH, json.dumps(commands)],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(folder)},
        input=typed,
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stderr == ""
    return done.stdout.split("=====\n")[:-1]


def test_one_word_changed_in_one_file_changes_everywhere(command, changed, some):
    asked = ("check", str(some), *NIGHT)
    before = {one["name"]: one for one in command.json(*asked)["targets"]}
    plain, table = printed(changed, (*asked, "--json"), asked)
    after = {one["name"]: one for one in json.loads(plain)["targets"]}
    out = [name for name, one in before.items() if one["verdict"]["word"] == "out of reach"]
    assert out
    for name, one in after.items():
        assert one["verdict"]["word"] == (CHANGED if name in out else before[name]["verdict"]["word"])
        assert ("next_fit" in one) == (name in out)
    fits, _, misfits = table.partition("Does not fit:")
    assert all(f"\n{name[:18]} " in misfits for name in out)
    assert CHANGED not in fits


def test_the_journal_is_written_and_read_back_with_the_changed_word(changed, plan):
    """Under the sky of a city, two pale galaxies are far from what a small telescope shows."""
    path = plan(["M 74", "M 33", "M 42"])
    entering, log, learnt = printed(
        changed,
        ("enter", str(path), "--night", PAST),
        ("log", PAST, "--format", "json"),
        ("learn", "--json"),
        typed="20:00\n\n17.5\n" + "x 20:00\n" * 3,
    )
    assert "Wrote 4 entries" in entering
    words = {look["target"]: look["verdict"] for look in json.loads(log)["nights"][0]["looks"]}
    assert words["M 74"] == words["M 33"] == CHANGED
    assert words["M 42"] in {"easy", "fair"}
    counted = {row["called"]: row["not_seen"] for row in json.loads(learnt)["table"]}
    assert counted[CHANGED] == 2
