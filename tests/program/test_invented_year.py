"""The invented year: some of its nights walked by the real program, and read back the day after."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from program.pseudo import PACKAGE, ROOT

NIGHTS = 6


@pytest.fixture(scope="module")
def year(tmp_path_factory):
    home = tmp_path_factory.mktemp("year")
    script = [sys.executable, str(ROOT / "tests" / "invented_year.py"), str(home), str(NIGHTS)]
    paths = os.environ | {"PYTHONPATH": os.pathsep.join([str(PACKAGE), str(ROOT / "tests")])}
    said = subprocess.run(script, env=paths, capture_output=True, text=True, check=True).stdout
    homes = dict(pair.split("=") for pair in said.splitlines()[-1].split()[:3])

    def ask(*words):
        line = [sys.executable, "-m", "nightmode", *words]
        run = subprocess.run(line, env=paths | homes, capture_output=True, text=True, check=True)
        assert run.stderr == ""
        return run.stdout

    return ask, Path(homes["XDG_DATA_HOME"]) / "nightmode" / "sessions"


@pytest.mark.long
def test_every_tick_of_the_year_is_in_the_log_and_in_the_tally(year):
    ask, folder = year
    nights = json.loads(ask("log", "--format", "json"))["nights"]
    assert len(nights) == len(list(folder.iterdir())) == NIGHTS
    written = sum(path.read_text().count('event = "tick"') for path in folder.iterdir())
    undone = sum(path.read_text().count('event = "undo"') for path in folder.iterdir())
    looks = [look for night in nights for look in night["looks"]]
    ticked = [look for look in looks if look["outcome"]]
    assert written - undone <= len(ticked) <= written
    assert all(look["verdict"] for look in ticked)
    everything = json.loads(ask("tally", "--json"))["lists"][-1]
    seen = {look["usual_name"] for look in ticked if look["outcome"] == "seen"}
    assert everything["seen"] == len(seen)


@pytest.mark.long
def test_the_year_can_be_learnt_from(year):
    ask, _ = year
    found = json.loads(ask("learn", "--json"))
    assert found["ticks"] > 30
    if found["experience"]:
        assert found["experience"]["low"] <= 1.7 <= found["experience"]["high"]
