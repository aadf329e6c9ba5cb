"""Clouds: what is offered, and what is said to come, stands in the clear part of the sky."""

import pytest
from app.north_field import WITH_EYEPIECE

from nightmode.app.pages.main import main_page
from nightmode.app.walker import Walker
from nightmode.night.loading import new_head
from nightmode.session.journal import create, read
from nightmode.session.record import Session
from nightmode.walk.state import OCTANTS


@pytest.fixture
def walker(loaded, tmp_path):
    return Walker(loaded.night, Session(create(tmp_path / "session.toml", new_head(loaded, rehearsal=True))))


def page(walker, now_s):
    return [
        "".join(text for text, _ in row).strip() for row in main_page(walker, now_s, (80, 24), None, now_s)
    ]


def compass(azimuth_deg):
    """Return the compass point, one of eight, whose middle is nearest."""
    return min(
        OCTANTS, key=lambda one: abs((azimuth_deg - OCTANTS.index(one) * 45.0 + 180.0) % 360.0 - 180.0)
    )


def test_what_is_said_to_come_comes_up_in_the_clear(walker, loaded):
    night = loaded.night
    dark_s = night.twilights.dark_s[0]
    everything = {row: at_s for at_s, row in walker.coming(dark_s)}
    assert len(everything) > 5
    for clear in (*({one} for one in OCTANTS), {"N", "NE"}, {"E", "SE", "S"}, set(OCTANTS[1:])):
        walker.clear_octants(frozenset(clear), dark_s)
        kept = {row for _, row in walker.coming(dark_s)}
        assert kept == {
            row for row, at_s in everything.items() if compass(night.azimuth_at(row, at_s)) in clear
        }


def test_under_clouds_everywhere_nothing_is_said_to_come(walker, loaded):
    now_s = loaded.night.twilights.dark_s[0]
    walker.clear_octants(frozenset(), now_s)
    shown = page(walker, now_s)
    assert "clouds everywhere" in shown
    assert "c  when it clears" in shown
    assert "next" not in shown[-1]
    assert "clear only nowhere" in shown[-1]
    walker.clear_octants(frozenset(OCTANTS), now_s)
    assert walker.shown(now_s) is not None
    assert "clouds everywhere" not in page(walker, now_s)


def test_a_clear_part_without_a_target_says_what_comes_up_in_it(loaded_from, tmp_path):
    """M 45 stands in the east then; M 44 comes up there later, M 42 in the south-east."""
    targets = "".join(f'[[target]]\nname = "{name}"\n' for name in ("M 45", "M 42", "M 44"))
    loaded = loaded_from(WITH_EYEPIECE + targets)
    walker = Walker(
        loaded.night, Session(create(tmp_path / "session.toml", new_head(loaded, rehearsal=True)))
    )
    now_s = loaded.night.twilights.dark_s[0] + 60.0
    told = {}
    for point in ("E", "SE", "N"):
        walker.clear_octants(frozenset({point}), now_s)
        told[point] = "\n".join(page(walker, now_s))
    assert "M 45\n" in told["E"]
    assert told["E"].endswith("next  M 44")
    assert "nothing to do in the clear part of the sky\n\nM 42 from " in told["SE"]
    assert told["SE"].endswith("next  M 42")
    assert "nothing to do in the clear part of the sky\n" in told["N"]
    assert " from " not in told["N"].replace("dark from", "")
    assert "next" not in told["N"]


def test_the_star_to_set_the_finder_on_stands_in_the_clear(walker, loaded):
    now_s = loaded.night.twilights.dark_s[0] + 60.0
    row = walker.shown(now_s)
    found = set()
    for point in OCTANTS:
        walker.clear_octants(frozenset({point}), now_s)
        star = walker.align_first(row, now_s)
        if star is not None:
            assert compass(star.azimuth_deg) == point
            found.add(star.name)
    assert len(found) > 3
    walker.clear_octants(frozenset(), now_s)
    assert walker.align_first(row, now_s) is None


def test_the_pace_counts_what_stands_in_the_clear(walker, loaded):
    """Behind clouds nothing can be reached, and so nothing there presses."""
    night = loaded.night
    now_s = night.twilights.dark_s[0] + 60.0
    paces = {}
    for clear in (set(OCTANTS), *({one} for one in OCTANTS), set()):
        walker.clear_octants(frozenset(clear), now_s)
        ends = sorted(night.targets[row].chance.stretch(now_s).end_s for row in walker.queue(now_s))
        shares = [(end - now_s) / 60 / count for count, end in enumerate(ends, 1)]
        paces[frozenset(clear)] = walker.pace_min(now_s)
        assert walker.pace_min(now_s) == (pytest.approx(min(shares)) if shares else None)
    assert paces[frozenset()] is None
    assert len({pace for pace in paces.values() if pace}) > 2


async def test_a_wrong_key_leaves_the_points_chosen_so_far(walking, journal):
    async with walking() as (app, pilot):
        await pilot.press("c", "2", "3", "9", "x", "q", "space", "4", "enter")
        assert app.walker.state.clear_octants == {"NE", "E", "SE"}
        assert not app.walker.state.ticks
        await pilot.press("c", "5", "escape")
        assert app.walker.state.clear_octants == {"NE", "E", "SE"}
    assert [entry.event.value for entry in read(journal).entries].count("clouds") == 1
