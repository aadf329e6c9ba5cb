"""Answers and files that never end, or are not there."""

import subprocess
import sys

import pytest
from program.answers import answer, assert_proper
from program.pseudo import PACKAGE


def run(arguments, home, **options):
    return subprocess.run(
        [sys.executable, "-m", "nightmode", *arguments],
        env={"PYTHONPATH": str(PACKAGE), "HOME": str(home), "PATH": "/usr/bin:/bin"},
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
        **options,
    )


def test_answers_without_an_end_are_refused(tmp_path):
    with open("/dev/zero") as zeros:  # noqa: PTH123
        done = run(["setup", "--observer", str(tmp_path / "me.toml")], tmp_path, stdin=zeros)
    assert done.returncode == 2
    assert "a line has over" in done.stderr
    assert not (tmp_path / "me.toml").exists()


def test_without_an_input_setup_says_that_the_answers_ended(tmp_path):
    shell = f"'{sys.executable}' -m nightmode setup --observer '{tmp_path / 'me.toml'}' <&-"
    done = subprocess.run(
        ["sh", "-c", shell],
        env={"PYTHONPATH": str(PACKAGE), "HOME": str(tmp_path)},
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.returncode == 2
    assert "ended early" in done.stderr


@pytest.mark.parametrize("path", ["/proc/kmsg", "/dev/zero", "/proc/self/mem"])
def test_what_is_no_ordinary_file_is_refused_as_a_plan(path):
    got = answer(["check", path])
    assert_proper(got, path)
    assert got.code == 2
