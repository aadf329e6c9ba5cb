"""The checks from outside, by id."""

import tomllib
from pathlib import Path

import pytest

FILE = Path(__file__).parent.parent / "reference" / "visibility.toml"


@pytest.fixture(scope="session")
def checks() -> dict:
    return {check["id"]: check for check in tomllib.loads(FILE.read_text(encoding="utf-8"))["check"]}
