"""An invented year of 40 nights, kept by the real program: drafted, walked with keys, noted down.

    python tests/invented_year.py FOLDER [NIGHTS]

FOLDER becomes the home of an invented observer: plans and sessions lie in it, where the program finds them
with HOME and the XDG variables set as the last line printed says. The same year comes out every time.

Who sees what is drawn by lot: an eye that needs FACTOR times the light of the laboratory, with a spread of
SPREAD_DEX about what the program says of the target at that moment. So `learn` has something to find.
"""

import asyncio
import contextlib
import datetime as dt
import io
import math
import os
import random
import sys
from pathlib import Path

from nightmode.app.clock import Clock

#: The eye of the invented observer, who has not told the program and is taken for 2.4.
FACTOR, USUAL_FACTOR, SPREAD_DEX = 1.7, 2.4, 0.15
FIRST, NIGHTS = "2026-09-01", 40
OBSERVER = """
[observer]
site = "Larch Hill"

[[site]]
name = "Larch Hill"
latitude_deg = 47.1
longitude_deg = 15.4
elevation_m = 780.0
timezone = "Europe/Vienna"
sky_brightness = 21.2

[[telescope]]
name = "Grey tube"
aperture_mm = 200
focal_length_mm = 1200

[[eyepiece]]
name = "Wide 30"
focal_length_mm = 30
apparent_field_deg = 68

[[eyepiece]]
name = "Orange 14"
focal_length_mm = 14
apparent_field_deg = 68

[[eyepiece]]
name = "Small 8"
focal_length_mm = 8
apparent_field_deg = 60
"""
KINDS = ("galaxies,doubles", "clusters,planetaries,nebulae", "galaxies,globulars,planets,moon")
WORDS = (
    "round, brighter in the middle",
    "a faint patch, comes and goes",
    "long and thin, lies east to west",
    "grains all over with averted vision",
    'bright core, "wings" wide',
    "worth coming back on a better night",
)


class StandingClock(Clock):
    """A clock that stands still until it is moved."""

    def __init__(self, now_s):
        super().__init__(now_s)
        self.set_s = now_s

    def now_s(self):
        return self.set_s

    def jump_s(self):
        return 0.0


def chance_of_seeing(contrast_dex):
    """Return the chance that this eye sees what stands so far above the threshold of the usual one."""
    better = contrast_dex + math.log10(USUAL_FACTOR / FACTOR)
    return 0.5 * math.erfc(-better / SPREAD_DEX / math.sqrt(2.0))


def key_for(walker, row, now_s, lot):
    """Return the key that the invented observer presses on a target."""
    verdict = walker.verdict(row, now_s)
    chance = 0.97 if verdict.contrast_dex is None else chance_of_seeing(verdict.contrast_dex)
    drawn = lot.random()
    if drawn < chance - 0.05:
        return "space"
    return "s" if drawn < chance + 0.05 else "x"


async def walk(plan, lot):
    """Walk one night with keys, from dusk on."""
    from nightmode.app.app import WalkApp
    from nightmode.app.hand import Hand
    from nightmode.app.theme import EMBER
    from nightmode.app.walker import Walker
    from nightmode.night.loading import load_night, new_head
    from nightmode.session.opening import opened

    loaded = load_night(plan, None, None, 0.0)
    dusk_s = loaded.night.twilights.civil_dusk_s
    assert dusk_s is not None, "a night that gets dark"
    clock = StandingClock(dusk_s + 300.0)
    with opened(plan, new_head(loaded, rehearsal=False), None, clock.now_s()) as (session, _):
        app = WalkApp(Walker(loaded.night, session), clock, EMBER, None, hand=Hand(0.0))  # no key is held
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            await pilot.press("i", lot.choice("12334"))
            for number in range(len(loaded.night.targets) + 6):
                if number == 8 and lot.random() < 0.7:
                    await pilot.press("m", *f"{lot.uniform(20.9, 21.4):.2f}", "enter")
                clock.set_s += lot.uniform(300.0, 720.0)
                if not await look(app, pilot, lot):
                    clock.set_s += 1200.0
            await pilot.press("q", "q")


async def look(app, pilot, lot):
    """Look at the target shown, say what became of it, sometimes in words; return whether there was one."""
    walker, now_s = app.walker, app.now_s()
    row = walker.shown(now_s)
    if row is None:
        return False
    if lot.random() < 0.25:
        await pilot.press("n", *lot.choice(WORDS), "enter")
    if lot.random() < 0.04:
        await pilot.press("z")
        return True
    await pilot.press(key_for(walker, row, now_s, lot))
    if lot.random() < 0.03:
        await pilot.press("u")
    return True


def run(*words):
    """Run a command of the program quietly; return whether it did what it was asked for."""
    from nightmode.cli.main import main

    with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
        return main([str(word) for word in words]) == 0


def draft(night, plan, lot):
    """Draft a plan of what is left of a list, if a night has any of it, else of some kinds of objects."""
    more = ("--night", night, "--difficulty", "hard", "--count", "14", "-o", plan, "--force")
    if lot.random() >= 0.35 or not run("draft", "--left", "messier", *more):
        assert run("draft", "--kinds", lot.choice(KINDS), *more), night


def dates(count):
    """Return so many evenings of the year, the darkest, in order."""
    from nightmode.files.observer import load_observer
    from nightmode.planning.ahead import nights_ahead
    from nightmode.sky.kernel import open_sky

    site = load_observer(None).site[0]
    year = nights_ahead(open_sky(), site, dt.date.fromisoformat(FIRST), 365)
    lot = random.Random("clear skies")
    dark = [night.date for night in year if night.moonless_dark_hours > 1.5]
    return sorted(lot.sample(dark, count))


def make(home, count=NIGHTS):
    """Make the year in a folder; return the folder of the sessions."""
    home.mkdir(parents=True, exist_ok=True)
    os.environ |= {
        "HOME": str(home),
        "XDG_CONFIG_HOME": str(home / "settings"),
        "XDG_DATA_HOME": str(home / "data"),
        "XDG_STATE_HOME": str(home / "state"),
        "XDG_CACHE_HOME": str(home / "cache"),
    }
    from nightmode.files.places import observer_file, prepare

    prepare(observer_file()).write_text(OBSERVER, encoding="utf-8")
    lot = random.Random("what to look at")
    for night in dates(count):
        plan = home / f"plan-{night}.toml"
        draft(night, plan, lot)
        asyncio.run(walk(plan, random.Random(str(night))))
        print(night, flush=True)
    return home / "data" / "nightmode" / "sessions"


if __name__ == "__main__":
    folder = Path(sys.argv[1]).resolve()
    make(folder, int(sys.argv[2]) if len(sys.argv) > 2 else NIGHTS)
    print(f"HOME={folder} XDG_CONFIG_HOME={folder}/settings XDG_DATA_HOME={folder}/data nightmode log")
