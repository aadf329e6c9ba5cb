"""A real night, a real journal, the real app driven by keys, and a clock that the test sets."""

from contextlib import asynccontextmanager
from functools import cache, lru_cache
from pathlib import Path

import pytest

from nightmode.app.app import WalkApp
from nightmode.app.hand import Hand
from nightmode.app.theme import EMBER
from nightmode.app.walker import Walker
from nightmode.files.places import shipped
from nightmode.night.aiming import pointing_at
from nightmode.night.loading import load_night, new_head
from nightmode.night.verdict import verdict_at
from nightmode.session.opening import opened

#: Most tests of this folder look at the same targets of one night at the same minutes.
_VERDICTS, _POINTINGS = lru_cache(500)(verdict_at), lru_cache(100)(pointing_at)


@pytest.fixture(autouse=True)
def _quick(quick_keys, monkeypatch):
    """Wait for nothing but the app, which is told again what another test has worked out."""
    monkeypatch.setattr("nightmode.app.walker.verdict_at", _VERDICTS)
    monkeypatch.setattr("nightmode.app.heard.pointing_at", _POINTINGS)


class SetClock:
    """A clock that stands still until the test moves it."""

    def __init__(self, now_s):
        self.set_s = now_s
        self.is_real = False
        self.rate = 1.0

    def now_s(self):
        return self.set_s

    def jump_s(self):
        return 0.0


@pytest.fixture(scope="session")
def loaded():
    return load_night(shipped("plans") / "hillside.toml", None, None, 0.0)


@pytest.fixture(scope="session")
def loaded_from(tmp_path_factory):
    """Return what loads a night from the text of a plan and of an observer.toml, and each night only once."""

    @cache
    def load(plan, observer=""):
        folder = tmp_path_factory.mktemp("night")
        (folder / "plan.toml").write_text(plan)
        (folder / "observer.toml").write_text(observer)
        return load_night(folder / "plan.toml", folder / "observer.toml", None, 0.0)

    return load


@pytest.fixture
def clock(loaded):
    return SetClock(loaded.night.twilights.dark_s[0] + 60)


@pytest.fixture
def journal(tmp_path):
    return Path(tmp_path) / "session.toml"


@pytest.fixture
def walking(loaded, clock, journal):
    """Return a context that runs the app on the journal: `async with walking() as (app, pilot)`."""

    @asynccontextmanager
    async def run(size=(80, 24), night=None, hand=None):
        with opened(loaded.path, new_head(loaded, rehearsal=True), journal, 0.0) as (session, words):
            app = WalkApp(Walker(night or loaded.night, session), clock, EMBER, None, hand=hand or Hand(0.0))
            app.words = words
            async with app.run_test(size=size) as pilot:
                await pilot.pause()
                yield app, pilot

    return run
