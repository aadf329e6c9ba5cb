import tomllib
from functools import cache
from pathlib import Path

import pytest

from nightmode.catalog.resolve import resolve
from nightmode.model.target import Target

REFERENCE = Path(__file__).parent.parent / "reference"


@cache
def checks(name):
    with (REFERENCE / f"{name}.toml").open("rb") as file:
        return {check["id"]: check for check in tomllib.load(file)["check"]}.__getitem__


@pytest.fixture(scope="session")
def check():
    return checks("catalog")


@pytest.fixture(scope="session")
def check_visibility():
    return checks("visibility")


@pytest.fixture(scope="session")
def check_sights():
    files = {"sights": "sights", "sights-second": "sights_second"}
    return lambda name: checks(files[name])(name)


@pytest.fixture(scope="session")
def resolved():
    return lambda name, **fields: resolve(Target(name=name, **fields))
