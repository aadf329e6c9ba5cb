"""Glow, blackness and dimming, by the keys."""

import asyncio

import pytest
from light.cells import assert_all_red, levels, lit_cells
from light.specimen import make_specimen

from nightmode.app.guard.levels import GLOW_STEPS

pytestmark = pytest.mark.usefixtures("quick_keys")

Specimen = make_specimen()


async def test_glow_keys_step_through_the_whole_range_and_stop_at_its_ends():
    app = Specimen()
    async with app.run_test(size=(100, 30)) as pilot:
        seen = []
        await pilot.press(*["minus"] * (GLOW_STEPS + 2))
        for _ in range(GLOW_STEPS + 2):
            await pilot.pause()
            seen.append(max(levels(app)))
            await pilot.press("plus")
        assert seen[:GLOW_STEPS] == sorted(set(seen[:GLOW_STEPS]))
        assert len(set(seen)) == GLOW_STEPS
        assert seen[-1] == seen[GLOW_STEPS - 1]


async def test_a_black_screen_lights_nothing_and_the_key_that_wakes_it_does_nothing_else():
    app = Specimen()
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        before = lit_cells(app), levels(app), 0, False
        for key in ("space", "q", "b", "plus", "ctrl+q", "ctrl+c", "escape", "f1"):
            await pilot.press("b")
            await pilot.pause()
            assert lit_cells(app) == 0
            await pilot.press(key)
            await pilot.pause()
            assert (lit_cells(app), levels(app), app.counter, app._exit) == before, key
        await pilot.press("space")
        assert app.counter == 1


async def test_a_paste_wakes_a_black_screen_and_is_not_pasted():
    from textual import events
    from textual.widgets import Input

    app = Specimen()
    async with app.run_test(size=(100, 30)) as pilot:
        app.query_one(Input).focus()
        app.go_black()
        app.post_message(events.Paste("lit"))
        await pilot.pause()
        assert not app.is_black
        assert app.query_one(Input).value == "a note"


async def test_a_screen_left_alone_dims_and_the_next_key_only_wakes_it():
    now_s = [0.0]
    app = Specimen(dim_after_s=0.2, steady_s=lambda: now_s[0])
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        bright = max(levels(app))
        await asyncio.sleep(0.3)
        await pilot.pause()
        assert max(levels(app)) == bright, "no time has passed without a key"
        now_s[0] = 0.5
        await asyncio.sleep(0.3)
        await pilot.pause()
        assert max(levels(app)) < bright
        assert_all_red(app)
        await pilot.press("space")
        await pilot.pause()
        assert max(levels(app)) == bright
        assert app.counter == 0


async def test_without_a_time_to_dim_there_is_no_timer():
    app = Specimen(dim_after_s=None)
    async with app.run_test(size=(100, 30)):
        assert app._dim_timer is None


async def test_no_cursor_blinks_and_nothing_is_animated():
    from textual.widgets import Input

    app = Specimen()
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("i")
        await pilot.pause()
        field = app.query_one(Input)
        assert field.has_focus
        assert not field.cursor_blink
        assert app.animation_level == "none"
