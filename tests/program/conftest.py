"""The real program, started as often as a test likes, and ended with the test."""

import signal

import pytest
from program.pseudo import Program


@pytest.fixture
def start(tmp_path):
    """Return a function that starts the program in a pseudo-terminal, at home in the test's folder."""
    programs = []

    def begin(*arguments, **options):
        options.setdefault("home", tmp_path)
        programs.append(Program(arguments, **options))
        return programs[-1]

    yield begin
    for program in programs:
        if program.child.poll() is None:
            program.signal(signal.SIGKILL)
            program.end()


@pytest.fixture
def demo_journal(tmp_path):
    """Return where the rehearsal of the hillside keeps its journal."""
    return tmp_path / "XDG_DATA_HOME" / "nightmode" / "rehearsals" / "demo-hillside.toml"
