"""Remarks of the plan on the page of a target: as much of them as room and light allow."""

import pytest

from nightmode.app.app import WalkApp
from nightmode.app.hand import Hand
from nightmode.app.theme import EMBER
from nightmode.night.loading import new_head
from nightmode.session.opening import opened

PLAN = """
title = "Remarks"
night = 2026-12-12

[site]
name = "North field"
latitude_deg = 51.0
longitude_deg = 10.0
timezone = "Europe/Berlin"
bortle = 4

[telescope]
name = "Long tube"
aperture_mm = 150
focal_length_mm = 900

[[eyepiece]]
name = "25 mm"
focal_length_mm = 25

[[target]]
name = "M 31"
"""
LOOK_FOR = (
    "More than one field of glow: begin at the heart and follow it outward on both sides until it is lost. "
    "The edge on the north-west side is the sharper one, and it is double where the air is good. "
    "Both companions stand in one field with the heart; the fainter one needs a sweep. The end."
)
NOTE = "Seen from the lower field the tree stands in the way before eight. The finish."


@pytest.fixture
def page(loaded_from, clock, journal):
    """Return a function that gives the rows of the page at a size, before and after a message."""

    async def show(size, look_for=LOOK_FOR, note=NOTE):
        loaded = loaded_from(PLAN + f'look_for = "{look_for}"\nnote = "{note}"\n')
        clock.set_s = loaded.night.twilights.dark_s[0] + 60.0
        with opened(loaded.path, new_head(loaded, True), journal, False, 0.0) as (session, _):
            app = WalkApp(loaded.night, session, clock, EMBER, None, hand=Hand(0.0))
            async with app.run_test(size=size) as pilot:
                await pilot.pause()
                await pilot.press("escape")
                before = rows(app)
                await pilot.press("i", "2")
                return before, rows(app)

    return show


def rows(app):
    return ["".join(text for text, _ in row).strip() for row in app.screen.page.lines]


async def test_long_remarks_are_told_to_their_end_where_there_is_room(page):
    before, _ = await page((120, 40))
    assert [row for row in before if row.endswith("The end.")]
    assert [row for row in before if row.endswith("The finish.")]


@pytest.mark.parametrize("size", [(80, 24), (60, 18)])
async def test_on_small_screens_a_remark_is_cut_with_a_mark_and_the_facts_stay(page, size):
    before, _ = await page(size, LOOK_FOR + LOOK_FOR[:200])
    shown = "\n".join(before)
    assert "…" in shown
    for label in ("altitude", "sets", "verdict", "find", "look"):
        assert [row for row in before if row.startswith(label)], label


@pytest.mark.parametrize("size", [(120, 40), (80, 24), (60, 18)])
async def test_the_page_does_not_move_when_a_message_comes(page, size):
    before, after = await page(size)
    assert "seeing II noted" in after[-2]
    assert before[2:-2] == after[2:-2]
