import datetime as dt
import os
import shutil
import stat
import subprocess
import sys
from pathlib import Path

import pytest
from rows import rows

import nightmode
from nightmode.errors import NightmodeError
from nightmode.files import places
from nightmode.session import last

NIGHT = dt.date(2027, 1, 9)


@pytest.fixture
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    for name in ("CONFIG", "DATA", "STATE", "CACHE"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / name.lower()))
    return tmp_path


def test_each_thing_has_its_folder_and_the_environment_moves_it(home):
    assert places.observer_file() == home / "config" / "nightmode" / "observer.toml"
    assert places.sessions_folder() == home / "data" / "nightmode" / "sessions"
    assert places.sessions_folder(rehearsal=True) == home / "data" / "nightmode" / "rehearsals"
    assert places.log_file().is_relative_to(home / "state" / "nightmode")
    assert list(home.iterdir()) == []


def test_a_place_is_prepared_only_when_asked_and_for_the_user_alone(home):
    path = places.prepare(places.observer_file())
    assert path.parent.is_dir()
    assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700
    (home / "data").write_text("in the way")
    with pytest.raises(NightmodeError, match="the folder is not made"):
        places.prepare(places.sessions_folder() / "a.toml")


def test_what_comes_with_the_program_is_found_in_a_checkout():
    assert list(places.shipped("plans").glob("*.toml"))


def test_what_comes_with_the_program_is_found_in_an_installed_copy(tmp_path):
    package = Path(nightmode.__file__).parent
    shutil.copytree(package, tmp_path / "nightmode", ignore=shutil.ignore_patterns("__pycache__", "shipped"))
    asks = "from nightmode.files.places import shipped; print(shipped('plans'))"
    run = {
        "capture_output": True,
        "text": True,
        "cwd": tmp_path,
        "env": {**os.environ, "PYTHONPATH": str(tmp_path)},
    }
    missing = subprocess.run([sys.executable, "-c", asks], check=False, **run)
    assert "files that come with the program are missing" in missing.stderr
    (tmp_path / "nightmode" / "shipped" / "plans").mkdir(parents=True)
    found = subprocess.run([sys.executable, "-c", asks], check=True, **run)
    assert found.stdout.strip() == str(tmp_path / "nightmode" / "shipped" / "plans")


@rows(
    "title, site",
    [
        ("Winter clusters", "Larch Hill"),
        ("", ""),
        ("../../etc/passwd", "a/b\\c"),
        ("日本", "Ωδ"),
        ("x" * 80, "y" * 80),
        ("CON", "NUL"),
        ("\x1b[31m", "\0"),
        ("\udce9", "é"),
    ],
)
def test_the_name_of_a_session_is_one_that_every_system_takes(title, site):
    name = places.journal_name(title, NIGHT, site)
    assert name.startswith("2027-01-09-")
    assert name.endswith(".toml")
    assert len(name) <= 110
    assert set(name) <= set("abcdefghijklmnopqrstuvwxyz0123456789-.")
    assert name.count(".") == 1


def test_sessions_have_one_name_each_and_always_the_same():
    titles = ["Winter", "winter!", "日本", "中国", ""]
    names = {places.journal_name(title, NIGHT, site) for title in titles for site in ("Hill", "Town")}
    assert len(names) == 10
    assert places.journal_name("Winter", NIGHT, "Hill") == places.journal_name("Winter", NIGHT, "Hill")


def test_the_last_plan_is_remembered_with_its_journal(home, monkeypatch):
    assert last.last_plan() is None
    monkeypatch.chdir(home)
    last.remember_plan(Path("plan [bold].toml"), Path('s"ession.toml'))
    found = last.last_plan()
    assert (found.plan, found.session) == (str(home / "plan [bold].toml"), str(home / 's"ession.toml'))
    last.remember_plan(Path("other.toml"), Path("s.toml"))
    assert last.last_plan().plan == str(home / "other.toml")


def test_a_damaged_note_of_the_last_plan_is_no_plan(home):
    last.remember_plan(Path("plan.toml"), Path("s.toml"))
    [pointer] = (home / "state").rglob("last-plan.toml")
    assert stat.S_IMODE(pointer.stat().st_mode) == 0o600
    pointer.write_bytes(b"\xff\0")
    assert last.last_plan() is None
