"""An app under test reads no styles that were read before, and goes on as soon as nothing is left to do."""

import asyncio

import pytest

#: A screen draws what has changed sixty times a second: drawing may ask for a layout, and that for a drawing.
FRAMES = 3


async def nothing_left(min_sleep=0.0, max_sleep=0.0):
    """Wait until everything that follows from what was sent has been done and drawn, and no longer.

    Textual's own harness waits for a fiftieth of a second, several times a key, and until the processor has
    rested in it: on a busy machine that takes long, and on a fast one it is most of the time of a test. What
    is left to do stands in the list of the event loop.
    """
    from textual._context import active_app

    for _ in range(FRAMES):
        await _rest()
        if (app := active_app.get()).screen_stack:
            app.screen._on_timer_update()
    await _rest()


async def _rest():
    ready = vars(asyncio.get_running_loop())["_ready"]
    await asyncio.sleep(0)
    while ready:
        await asyncio.sleep(0)


#: Rules by what they were read from: a quarter of a start is to read the styles of Textual's own widgets.
_RULES: dict[tuple[object, ...], object] = {}


@pytest.fixture
def quick_keys(monkeypatch):
    """Have Textual's harness wait for what a key brings about, instead of for a time."""
    from textual.css.stylesheet import Stylesheet

    read = Stylesheet._parse_rules

    def once(sheet, *source, **how):
        key = (source, tuple(how.items()), frozenset(sheet._variables.items()))
        if key not in _RULES:
            _RULES[key] = read(sheet, *source, **how)
        return _RULES[key]

    monkeypatch.setattr(Stylesheet, "_parse_rules", once)
    for user in ("textual.app", "textual.pilot"):
        monkeypatch.setattr(f"{user}.wait_for_idle", nothing_left)
