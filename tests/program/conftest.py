"""The real program, started as often as a test likes; the real app, driven by keys on a clock of its own."""

import signal
from contextlib import asynccontextmanager

import pytest
from program.pseudo import Program

from nightmode.app.app import WalkApp
from nightmode.app.hand import Hand
from nightmode.app.theme import EMBER
from nightmode.app.walker import Walker
from nightmode.night.loading import load_night, new_head
from nightmode.session.opening import opened


class SetClock:
    """A clock that stands still until the test moves it."""

    is_real = False
    rate = 1.0

    def __init__(self, now_s):
        self.set_s = now_s

    def now_s(self):
        return self.set_s

    def jump_s(self):
        return 0.0


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


class Walk:
    """The app on a plan: keys in, the text of the screen out."""

    def __init__(self, app, pilot, words):
        self.app, self.pilot, self.words = app, pilot, words

    async def press(self, *keys):
        for key in keys:
            await self.pilot.press(key)
        await self.pilot.pause()

    @property
    def rows(self):
        return ["".join(text for text, _ in row) for row in self.app.screen.page.lines]

    @property
    def text(self):
        return "\n".join(self.rows)

    @property
    def told(self):
        """The message line."""
        return self.rows[-2].strip()

    @property
    def target(self):
        row = self.app.walker.shown(self.app.now_s())
        return None if row is None else self.app.walker.night.targets[row].subject.name


@pytest.fixture
def walk(quick_keys):
    """Return a context that runs the app on a plan file: `async with walk(plan, journal, clock) as walk`."""

    @asynccontextmanager
    async def run(plan, journal, clock, size=(80, 24), rehearsal=True, hand=None):
        loaded = load_night(plan, None, None, 0.0)
        with opened(plan, new_head(loaded, rehearsal=rehearsal), journal, clock.now_s()) as (session, words):
            app = WalkApp(Walker(loaded.night, session), clock, EMBER, None, hand=hand or Hand(0.0))
            async with app.run_test(size=size) as pilot:
                await pilot.pause()
                yield Walk(app, pilot, words)

    return run


@pytest.fixture
def set_clock():
    return SetClock
