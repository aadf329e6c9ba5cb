import tomllib
from pathlib import Path

import pytest

from nightmode.catalog.resolve import resolve
from nightmode.model.target import Target

REFERENCE = Path(__file__).parent.parent / "reference" / "catalog.toml"


@pytest.fixture(scope="session")
def check():
    with REFERENCE.open("rb") as file:
        found = {check["id"]: check for check in tomllib.load(file)["check"]}
    return found.__getitem__


@pytest.fixture(scope="session")
def resolved():
    return lambda name, **fields: resolve(Target(name=name, **fields))
