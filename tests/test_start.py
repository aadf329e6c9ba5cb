"""What a start may load: what is not needed for the first answer waits until it is."""

import json
import subprocess
import sys
from pathlib import Path

import pexpect
import pytest

HOME = Path(__file__).parent.parent
#: Libraries that cost a start more than all of the standard library that it uses.
HEAVY = {"numpy", "pydantic", "skyfield", "textual", "rich", "asyncio", "sqlite3", "tomllib", "jplephem"}
#: What of the standard library takes more than a tenth of the time of a help.
SLOW = {"dataclasses", "inspect", "json", "threading"}
#: What no first page shows: Textual and the screens, chart and directions, voice, other nights, other rooms.
NOT_ON_THE_FIRST_PAGE = {
    *("textual", "asyncio", "sounddevice", "pyttsx3", "numpy.ma"),
    *("nightmode.app.screens", "nightmode.app.chart", "nightmode.app.aloud", "nightmode.app.pages.aim"),
    *("nightmode.aim.guide", "nightmode.aim.figure", "nightmode.night.aiming", "nightmode.wording.aim"),
    *("nightmode.wording.spoken", "nightmode.voice", "nightmode.history", "nightmode.setup"),
    *("nightmode.planning", "nightmode.report"),
}
#: The real program up to where it would load Textual; there it writes down what it has loaded, and leaves.
UNTIL_THE_APP = """
import sys, types
from pathlib import Path
app = types.ModuleType("nightmode.app.app")
def walk(*rest, **more):
    Path(sys.argv[1]).write_text("\\n".join(sys.modules))
    return 0
app.walk = walk
sys.modules["nightmode.app.app"] = app
from nightmode.cli.main import main
sys.exit(main(sys.argv[2:]))
"""
#: A command, and after it what it has loaded.
TOLD = """
import sys
from nightmode.cli.main import main
try:
    main(sys.argv[1:])
finally:
    print(*sys.modules)
"""


def within(loaded, names):
    """Return which of the names were loaded, or something in them."""
    return {name for name in names if any(one == name or one.startswith(f"{name}.") for one in loaded)}


@pytest.mark.parametrize("words", [["--help"], ["--version"], ["check", "--help"], ["draft", "--help"]])
def test_help_loads_no_library_and_opens_no_night(words):
    run = subprocess.run(
        [sys.executable, "-c", TOLD, *words], cwd=HOME, capture_output=True, text=True, check=True
    )
    loaded = run.stdout.splitlines()[-1].split()
    assert "nightmode.cli.main" in loaded
    assert within(loaded, {*HEAVY, *SLOW, "nightmode.night", "nightmode.voice"}) == set()


HILL = """
[[site]]
name = "Larkfell hillside"
latitude_deg = 47.5
longitude_deg = 13.5
"""


@pytest.fixture
def hill(tmp_path):
    """An observer's file that knows where they stand."""
    path = tmp_path / "observer.toml"
    path.write_text(HILL)
    return ["--observer", str(path)]


def test_the_coming_nights_are_told_without_what_opens_one(hill):
    words = ["nights", "--from", "2026-12-01", *hill]
    run = subprocess.run([sys.executable, "-c", TOLD, *words], cwd=HOME, capture_output=True, text=True)
    loaded = run.stdout.splitlines()[-1].split()
    assert "nightmode.planning.ahead" in loaded
    rooms = {"nightmode.night", "nightmode.catalog", "nightmode.eyepiece", "nightmode.history"}
    assert within(loaded, rooms | {"numpy.ma", "json"}) == set()


def test_a_command_that_ends_where_it_stands_has_handed_over_all_it_said(hill):
    words = [sys.executable, "-m", "nightmode", "nights", "--from", "2026-12-01", *hill, "--json"]
    said = subprocess.run([*words, "--days", "200"], cwd=HOME, capture_output=True, text=True)
    assert said.returncode == 0
    assert len(json.loads(said.stdout)["nights"]) == 200
    refused = subprocess.run([*words, "--days", "0"], cwd=HOME, capture_output=True, text=True)
    assert (refused.returncode, refused.stdout) == (2, "")
    assert "--days" in refused.stderr


def test_the_first_page_stands_without_what_it_does_not_show(tmp_path, monkeypatch):
    for name in ("XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME"):
        monkeypatch.setenv(name, str(tmp_path))
    told = tmp_path / "loaded"
    child = pexpect.spawn(
        sys.executable, ["-c", UNTIL_THE_APP, str(told), "demo", "--afresh"], cwd=str(HOME), timeout=60
    )
    child.expect("altitude")
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0
    loaded = told.read_text().split()
    assert "nightmode.app.pages.first" in loaded
    assert within(loaded, NOT_ON_THE_FIRST_PAGE) == set()
