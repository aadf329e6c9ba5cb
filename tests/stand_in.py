"""A program that stands for the engine: it keeps what it is told to speak, and does what the test wants."""

import ast
import sys

import pytest

#: Started for every sentence, so that it imports no more than it must; the lines of a test follow.
ENGINE = """\
#!{python} -IS
import sys, time
said, kept = sys.stdin.read().strip(), {kept!r}
with open(kept, "a") as file:
    file.write(ascii(dict(said=said, rate=sys.argv[sys.argv.index("-s") + 1])) + "\\n")
is_first = len(open(kept).readlines()) == 1
{does}
"""


class Engine:
    """What the engine was told, one entry a sentence."""

    def __init__(self, place, kept):
        self.place, self.kept = place, kept

    def does(self, code):
        """Have it run these lines for each sentence."""
        program = self.place / "espeak-ng"
        program.write_text(ENGINE.format(python=sys.executable, kept=str(self.kept), does=code))
        program.chmod(0o755)

    @property
    def told(self):
        lines = self.kept.read_text().splitlines() if self.kept.exists() else []
        return [ast.literal_eval(line) for line in lines]

    @property
    def said(self):
        return [one["said"] for one in self.told]


@pytest.fixture
def stand_in(tmp_path, monkeypatch):
    """Put an engine on the path that ends at once, whatever it is told."""
    place = tmp_path / "bin"
    place.mkdir()
    monkeypatch.setenv("PATH", str(place), prepend=":")
    engine = Engine(place, tmp_path / "said")
    engine.does("")
    return engine
