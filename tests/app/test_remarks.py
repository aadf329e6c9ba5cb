"""What is written about a target: on its page as far as room and light allow, with r to the end."""

import datetime as dt
from contextlib import asynccontextmanager

import pytest
from app.north_field import WITH_EYEPIECE
from turns import by_turns

from nightmode.app.app import WalkApp
from nightmode.app.hand import Hand
from nightmode.app.theme import EMBER
from nightmode.app.walker import Walker
from nightmode.history.earlier import Earlier
from nightmode.light.depth import Depth
from nightmode.model.session import Outcome
from nightmode.night.loading import new_head
from nightmode.session.opening import opened
from nightmode.wording.figures import clock_time

PLAN = (
    WITH_EYEPIECE
    + """
[[target]]
name = "M 31"
"""
)
LOOK_FOR = (
    "More than one field of glow: begin at the heart and follow it outward on both sides until it is lost. "
    "The edge on the north-west side is the sharper one, and it is double where the air is good. "
    "Both companions stand in one field with the heart; the fainter one needs a sweep. The end."
)
NOTE = "Seen from the lower field the tree stands in the way before eight. The finish."


@pytest.fixture
def walk(loaded_from, clock, journal):
    """Return a context that runs the app on a plan with these remarks, a minute after dark."""

    @asynccontextmanager
    async def run(size=(80, 24), look_for=LOOK_FOR, note=NOTE):
        loaded = loaded_from(PLAN + f'look_for = "{look_for}"\nnote = "{note}"\n[[target]]\nname = "M 45"\n')
        clock.set_s = loaded.night.twilights.dark_s[0] + 60.0
        with opened(loaded.path, new_head(loaded, rehearsal=True), journal, 0.0) as (session, _):
            app = WalkApp(Walker(loaded.night, session), clock, EMBER, None, hand=Hand(0.0))
            async with app.run_test(size=size) as pilot:
                await pilot.pause()
                await pilot.press("escape")
                yield app, pilot

    return run


@pytest.fixture
def page(walk):
    """Return a function that gives the rows of the page at a size, before and after a message."""

    async def show(size, look_for=LOOK_FOR):
        async with walk(size, look_for) as (app, pilot):
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


@pytest.mark.parametrize(("view", "size"), by_turns(("", "a", "g", "r"), ((120, 40), (80, 24), (60, 18))))
async def test_nothing_moves_when_the_row_for_typing_comes_and_goes(walk, size, view):
    async with walk(size, LOOK_FOR) as (app, pilot):
        await pilot.press(*view)
        before = rows(app)
        for keys in ("n", *"cold", "escape"):
            await pilot.press(keys)
            now = rows(app)
            places = [place for place, row in enumerate(now[2:-2], 2) if row and "note on" not in row]
            assert len(places) >= 2
            assert [before[place][:12] for place in places] == [now[place][:12] for place in places]
            assert now[-1].startswith("0 done")
            assert len(now) == size[1] - (keys != "escape")


def told(app):
    """Return the words of the middle of the page in one row."""
    return " ".join(" ".join(rows(app)[2:-2]).split())


async def read_to_the_end(app, pilot):
    """Press r until the facts are back; return all words in the order of reading."""
    pages = []
    for _ in range(20):
        await pilot.press("r")
        if "altitude" in told(app):
            return " ".join(pages)
        assert "M 31" in told(app)
        assert app.screen.budget((app.size.width, app.size.height)).allows(app.screen.page.lines)
        pages.append(told(app).replace("M 31", "").strip())
    raise AssertionError(pages)


@pytest.mark.parametrize("size", [(120, 40), (80, 24), (60, 18), (40, 12)])
async def test_r_reads_all_that_is_written_whatever_the_size(walk, size):
    cold = "my fingers are cold and the dew is falling but the heart was plain at once"
    async with walk(size) as (app, pilot):
        app.walker.earlier = {"m31": Earlier(Outcome.SEEN, dt.date(2026, 10, 12), "low over the wood")}
        for text in ("first of them", cold * 4):
            app.walker.note(text, app.now_s(), 0)
        read = await read_to_the_end(app, pilot)
    at = clock_time(app.now_s(), app.walker.night.site.zone)
    for label, text in (("look for", LOOK_FOR), ("plan", NOTE), (at, "first of them"), (at, cold * 4)):
        assert f"{label} {text}" in read
    assert read.endswith("earlier seen before, 12 Oct: low over the wood")


async def test_without_remarks_r_says_that_nothing_is_written(walk):
    async with walk() as (app, pilot):
        await pilot.press("j")
        assert "M 45" in told(app)
        await pilot.press("r")
        assert told(app) == "M 45 nothing is written about it"
        assert rows(app)[-1].endswith("r, esc: back")
        await pilot.press("escape")
        assert "altitude" in told(app)


async def test_what_stands_in_the_middle_takes_turns_and_a_tick_goes_on_with_the_next_target(walk):
    async with walk() as (app, pilot):
        await pilot.press("r")
        assert "look for" in told(app)
        await pilot.press("g")
        assert "look for" not in told(app)
        await pilot.press("r", "space")
        assert told(app) == "M 45 nothing is written about it"
        await pilot.press("a")
        assert "nothing is written" not in told(app)
        await pilot.press("escape")
        assert "altitude" in told(app)


async def test_with_nothing_up_r_reads_the_notes_on_the_night(walk, clock):
    async with walk() as (app, pilot):
        clock.set_s = app.walker.night.twilights.sunrise_s + 60.0
        await pilot.press("n", *"cold", "enter", "r")
        at = clock_time(app.now_s(), app.walker.night.site.zone)
        assert told(app) == f"the night {at} cold"


@pytest.mark.parametrize("size", [(80, 24), (60, 18)])
async def test_where_hardly_anything_may_be_lit_r_still_reads_to_the_end(walk, size):
    """A terminal of sixteen colours at the lowest glow shows every level far too bright."""
    async with walk(size) as (app, pilot):
        app.depth = Depth.SIXTEEN
        await pilot.press(*"----------", "r")
        pages = []
        while rows(app)[-1].endswith("esc: back"):
            pages.append(told(app).removeprefix("M 31").strip())
            assert len(pages) < 40
            await pilot.press("r")
    assert len(pages) > 3
    assert f"look for {LOOK_FOR} plan {NOTE}" == " ".join(pages)


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_a_message_beside_what_is_read_takes_none_of_its_rows(walk, size):
    async with walk(size, "A short one.", "Another.") as (app, pilot):
        await pilot.press("r")
        for words in range(10, 50, 5):
            told = " ".join(f"word{number}" for number in range(words))
            app.screen.tell(app.walker.note(told, app.now_s(), app.walker.shown(app.now_s())))
            read_so_far = shown_above_message(app)
            while any("r: more" in row for row in rows(app)):
                await pilot.press("r")
                read_so_far += shown_above_message(app)
            assert told in " ".join(" ".join(read_so_far).split())
            await pilot.press("u", "escape", "r")


def shown_above_message(app):
    told = list(rows(app))
    return told[
        : next((place for place, row in enumerate(told) if row.startswith("noted on")), len(told) - 1)
    ]
