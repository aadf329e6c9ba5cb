"""A program that stands for the engine: it keeps what it is told to speak, and does what the test wants."""

import shlex
import sys

import pytest

#: Started for every sentence, so each is as short as can be: one that only keeps the rate and the words ...
KEEPS = """\
#!/bin/sh
while [ "$1" != -s ]; do shift; done
IFS= read -r said
printf '%s %s\\n' "$2" "$said" >> {kept}
"""
#: ... and one that then runs the lines of a test.
DOES = """\
#!{python} -IS
import sys, time
said, kept = sys.stdin.read().strip(), {kept!r}
with open(kept, "a") as file:
    file.write(sys.argv[sys.argv.index("-s") + 1] + " " + said + "\\n")
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
        kept = str(self.kept)
        program.write_text(
            DOES.format(python=sys.executable, kept=kept, does=code)
            if code
            else KEEPS.format(kept=shlex.quote(kept))
        )
        program.chmod(0o755)

    @property
    def told(self):
        """(rate, sentence) of each sentence."""
        lines = self.kept.read_text().splitlines() if self.kept.exists() else []
        return [tuple(line.split(" ", 1)) for line in lines]

    @property
    def said(self):
        return [sentence for _, sentence in self.told]


@pytest.fixture
def stand_in(tmp_path, monkeypatch):
    """Put an engine on the path that ends at once, whatever it is told."""
    place = tmp_path / "bin"
    place.mkdir()
    monkeypatch.setenv("PATH", str(place), prepend=":")
    engine = Engine(place, tmp_path / "said")
    engine.does("")
    return engine
