"""The package: built from the checkout, it runs with no checkout near, with everything it needs inside."""

import os
import subprocess
import sys
import tarfile
import zipfile
from email.parser import HeaderParser
from pathlib import Path

import pytest

from nightmode import __version__

HOME = Path(__file__).parent.parent


def run(*words, folder, **env):
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    command = [sys.executable, *map(str, words)]
    return subprocess.run(
        command, cwd=folder, env=kept | env, capture_output=True, text=True, check=True
    ).stdout


def build(home, folder):
    """Return the sdist and the wheel built from a folder that holds the sources."""
    run("-m", "hatchling", "build", "-d", folder, folder=home)
    [sdist], [wheel] = folder.glob("*.tar.gz"), folder.glob("*.whl")
    return sdist, wheel


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    return build(HOME, tmp_path_factory.mktemp("built"))


def test_the_wheel_runs_from_another_folder_with_plans_themes_and_tables_inside(built, tmp_path):
    site, elsewhere = tmp_path / "site", tmp_path / "elsewhere"
    elsewhere.mkdir()
    zipfile.ZipFile(built[1]).extractall(site)
    whence = run("-c", "import nightmode; print(nightmode.__file__)", folder=elsewhere, PYTHONPATH=str(site))
    assert Path(whence.strip()).is_relative_to(site)
    plan = site / "nightmode" / "shipped" / "plans" / "balcony.toml"
    for words, says in (
        (["--version"], f"nightmode {__version__}\n"),
        (["check", plan], "Fits tonight"),
        (["kit", plan], "eyepiece"),
    ):
        assert says in run("-m", "nightmode", *words, folder=elsewhere, PYTHONPATH=str(site))
    assert (site / "nightmode" / "shipped" / "themes" / "ember.toml").exists()
    assert list(elsewhere.iterdir()) == []


def test_the_card_of_the_wheel_names_version_licence_and_command(built):
    with zipfile.ZipFile(built[1]) as wheel:
        [folder] = {name.split("/")[0] for name in wheel.namelist() if ".dist-info/" in name}
        card = HeaderParser().parsestr(wheel.read(f"{folder}/METADATA").decode())
        commands = wheel.read(f"{folder}/entry_points.txt").decode()
        licence = wheel.read(f"{folder}/licenses/docs/licence.md").decode()
    assert (card["Version"], card["License-Expression"]) == (__version__, "MIT")
    assert "nightmode = nightmode.cli.main:entry" in commands
    assert "the nightmode authors" in licence


def test_the_sources_build_the_same_wheel_again(built, tmp_path):
    sdist, wheel = built
    with tarfile.open(sdist) as sources:
        sources.extractall(tmp_path, filter="data")
    [home] = tmp_path.iterdir()
    assert {"tests", "docs", "plans", "themes", "README.md"} <= {path.name for path in home.iterdir()}
    again = build(home, tmp_path / "again")[1]
    contents = [
        {name: archive.read(name) for name in archive.namelist() if not name.endswith("/RECORD")}
        for archive in (zipfile.ZipFile(wheel), zipfile.ZipFile(again))
    ]
    assert contents[0] == contents[1]


def test_the_version_is_the_newest_in_the_changes():
    [first, *_] = [
        line for line in (HOME / "docs" / "changes.md").read_text("utf-8").splitlines() if "## " in line
    ]
    assert first == f"## {__version__}"
