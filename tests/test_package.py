"""The package: built from the checkout, it runs with no checkout near, with everything it needs inside."""

import os
import subprocess
import sys
import tarfile
import zipfile
from email.parser import HeaderParser
from pathlib import Path

from nightmode import __version__

HOME = Path(__file__).parent.parent


def run(*words, folder, **env):
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    command = [sys.executable, *map(str, words)]
    return subprocess.run(
        command, cwd=folder, env=kept | env, capture_output=True, text=True, check=True
    ).stdout


def build(home, folder, *what):
    """Return what is built from a folder that holds the sources: the wheel last."""
    run("-m", "hatchling", "build", "-d", folder, *what, folder=home)
    return *folder.glob("*.tar.gz"), *folder.glob("*.whl")


#: The program's own words, after where it comes from; one process, so that it is imported once.
TOLD = """
import nightmode, sys
from nightmode.cli.main import main
print(nightmode.__file__)
for words in (["check", sys.argv[1]], ["kit", sys.argv[1]]):
    assert main(words) == 0
"""


def test_the_package_runs_elsewhere_and_its_sources_build_the_same_again(tmp_path):
    sdist, wheel = build(HOME, tmp_path / "built")
    assert_runs_from_another_folder(wheel, tmp_path / "site")
    assert_names_version_licence_and_command(wheel)
    with tarfile.open(sdist) as sources:
        sources.extractall(tmp_path / "sources", filter="data")
    [home] = (tmp_path / "sources").iterdir()
    assert {"tests", "docs", "plans", "themes", "README.md"} <= {path.name for path in home.iterdir()}
    [again] = build(home, tmp_path / "again", "-t", "wheel")
    contents = [
        {name: archive.read(name) for name in archive.namelist() if not name.endswith("/RECORD")}
        for archive in (zipfile.ZipFile(wheel), zipfile.ZipFile(again))
    ]
    assert contents[0] == contents[1]


def assert_runs_from_another_folder(wheel, site):
    """Fail unless it runs where no checkout is near, with plans, themes and tables inside."""
    zipfile.ZipFile(wheel).extractall(site)
    elsewhere = site.with_name("elsewhere")
    elsewhere.mkdir()
    plan = site / "nightmode" / "shipped" / "plans" / "balcony.toml"
    told = run("-c", TOLD, plan, folder=elsewhere, PYTHONPATH=str(site))
    assert Path(told.splitlines()[0]).is_relative_to(site)
    assert "Fits tonight" in told
    assert "eyepiece" in told.partition("Fits tonight")[2]
    version = run("-m", "nightmode", "--version", folder=elsewhere, PYTHONPATH=str(site))
    assert version == f"nightmode {__version__}\n"
    assert (site / "nightmode" / "shipped" / "themes" / "ember.toml").exists()
    assert list(elsewhere.iterdir()) == []


def assert_names_version_licence_and_command(built):
    with zipfile.ZipFile(built) as wheel:
        [folder] = {name.split("/")[0] for name in wheel.namelist() if ".dist-info/" in name}
        card = HeaderParser().parsestr(wheel.read(f"{folder}/METADATA").decode())
        commands = wheel.read(f"{folder}/entry_points.txt").decode()
        licence = wheel.read(f"{folder}/licenses/docs/licence.md").decode()
    assert (card["Version"], card["License-Expression"]) == (__version__, "MIT")
    assert "nightmode = nightmode.cli.main:entry" in commands
    assert "the nightmode authors" in licence


def test_the_version_is_the_newest_in_the_changes():
    [first, *_] = [
        line for line in (HOME / "docs" / "changes.md").read_text("utf-8").splitlines() if "## " in line
    ]
    assert first == f"## {__version__}"
