"""The cell scan inside Textual's own harness, and a proof that it sees a guard that is missing."""

import pytest
from light.cells import assert_all_red, levels, lit_cells, strips, wrong_cells
from light.specimen import make_specimen
from textual.app import App
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Button, Label, Markdown, ProgressBar, Select, Switch, Tabs, TextArea, Tree

from nightmode.app.guard.levels import GLOW_STEPS
from nightmode.app.guard.red_app import RedApp
from nightmode.model.theme import Red, Theme

pytestmark = pytest.mark.usefixtures("quick_keys")

Specimen = make_specimen()


async def test_every_widget_of_the_specimen_is_red_at_every_glow():
    app = Specimen()
    async with app.run_test(size=(100, 30)) as pilot:
        for glow in range(GLOW_STEPS):
            app.set_glow(glow)
            await pilot.pause()
            assert_all_red(app)
            assert lit_cells(app) > 200


async def test_focus_and_typing_stay_red():
    app = Specimen()
    async with app.run_test(size=(100, 30)) as pilot:
        for key in ("i", "a", "left", "shift+left", "tab", "down", "end", "tab", "down", "tab", "space"):
            await pilot.press(key)
            await pilot.pause()
            assert_all_red(app)


async def test_widgets_nobody_styled_are_red():
    class Foreign(RedApp):
        def compose(self):
            yield Markdown("# a\n**b** `c` [d](e)\n\n> f\n\n```python\nx = 1\n```")
            yield Button.success("go")
            yield Switch(value=True)
            yield Tabs("one", "two")
            yield Select([("a", 1)])
            yield ProgressBar()
            yield Tree("root")
            yield TextArea("text", language=None)

    app = Foreign()
    async with app.run_test(size=(80, 60)) as pilot:
        await pilot.pause()
        assert_all_red(app)


async def test_a_modal_over_a_screen_is_red():
    class Ask(ModalScreen):
        CSS = "Ask { background: white 50%; } Vertical { height: 3; background: blue; }"

        def compose(self):
            with Vertical():
                yield Label("leave?")

    app = Specimen()
    async with app.run_test(size=(80, 24)) as pilot:
        await app.push_screen(Ask())
        await pilot.pause()
        assert_all_red(app)


async def test_without_colour_and_with_a_theme_at_its_limits_text_is_red_and_visible(monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    app = Specimen(theme=Theme(name="own", red=Red(line=1, faint=1, text=60, strong=60, alert=255)))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert_all_red(app)
        assert min(levels(app) - {0}) >= 20


async def test_notices_bells_and_the_palette_show_nothing():
    app = Specimen()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        before = [strip.text for strip in strips(app)]
        app.notify("a toast")
        app.bell()
        app.action_command_palette()
        await pilot.press("ctrl+p")
        await pilot.pause(0.2)
        assert [strip.text for strip in strips(app)] == before


@pytest.mark.parametrize("removed", ["filter", "guard"])
async def test_the_scan_fails_when_the_guard_is_removed(removed):
    if removed == "filter":

        class Unguarded(make_specimen()):
            def get_line_filters(self):
                return App.get_line_filters(self)

    else:

        class Stock(App):
            def __init__(self, **_options):
                super().__init__()

            def glow_up(self):
                pass

        class Unguarded(make_specimen(Stock)):
            pass

    app = Unguarded()
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        assert len(wrong_cells(app)) > 10
        with pytest.raises(AssertionError):
            assert_all_red(app)
