"""The page of figures for setting circles, by the key g of the real app."""

import pytest
from rows import rows

from nightmode.app.pages.dots import LETTERS_ONLY
from nightmode.app.pages.large import ROWS, large
from nightmode.wording.setting_circles import degrees_minutes, hours_minutes, signed_hours


@rows(
    "angle, written",
    [(0.0, "0h00.0m"), (283.575, "18h54.3m"), (359.9999, "0h00.0m"), (15.0, "1h00.0m"), (14.99, "1h00.0m")],
)
def test_right_ascension_is_written_to_a_tenth_of_a_minute(angle, written):
    assert hours_minutes(angle) == written


@pytest.mark.parametrize(("angle", "written"), [(-0.5, "-0h02m"), (48.0, "+3h12m"), (-179.99, "-12h00m")])
def test_hour_angles_keep_their_sign(angle, written):
    assert signed_hours(angle) == written


@pytest.mark.parametrize(("angle", "written"), [(-0.49, "-0°29′"), (33.06, "+33°04′"), (-89.999, "-90°00′")])
def test_declinations_keep_their_sign(angle, written):
    assert degrees_minutes(angle) == written


@pytest.mark.parametrize("style", [None, LETTERS_ONLY])
def test_large_figures_are_three_rows_and_tell_every_figure_apart(style):
    from nightmode.app.pages.dots import FULL

    drawn = {figure: tuple(large(figure, style or FULL)) for figure in "0123456789+-"}
    assert len(set(drawn.values())) == 12
    assert all(len(rows) == ROWS for rows in drawn.values())
    if style is not None:
        assert all(row.isascii() for rows in drawn.values() for row in rows)


def page_text(app):
    return "\n".join("".join(text for text, _ in row) for row in app.screen.page.lines)


async def test_g_shows_the_figures_of_the_target_and_g_or_esc_goes_back(walking):
    async with walking(size=(60, 24)) as (app, pilot):
        row = app.walker.shown(app.now_s())
        name = app.walker.night.targets[row].subject.name
        facts = page_text(app)
        await pilot.press("g")
        text = page_text(app)
        assert name in text
        assert f"altitude    {app.walker.night.altitude_at(row, app.now_s()):.1f}°" in text
        assert "sidereal" in text
        await pilot.press("g")
        assert page_text(app) == facts
        await pilot.press("g", "escape")
        assert page_text(app) == facts


async def test_other_keys_keep_their_meaning_and_the_figures_follow_the_target(walking):
    async with walking(size=(60, 24)) as (app, pilot):
        await pilot.press("g", "space")
        row = app.walker.shown(app.now_s())
        assert app.walker.night.targets[row].subject.name in page_text(app)
        assert "sidereal" in page_text(app)
        assert len(app.walker.state.ticks) == 1


async def test_the_chart_and_the_figures_take_turns(walking):
    async with walking() as (app, pilot):
        await pilot.press("a", "g")
        assert "LST" in page_text(app)
        await pilot.press("a")
        assert "LST" not in page_text(app)
        assert "esc: back" in page_text(app)


async def test_large_figures_fit_eighty_columns(walking):
    async with walking(size=(80, 24)) as (app, pilot):
        await pilot.press("g")
        assert all(sum(len(text) for text, _ in row) <= 80 for row in app.screen.page.lines)
        assert "┌─┐" in page_text(app)
