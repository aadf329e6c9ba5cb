"""Names that look like markup, are wide, combine or are very long: shown as they are, in red."""

import datetime as dt
import itertools

import pytest
from light.cells import assert_all_red, strips
from rich.cells import cell_len

from nightmode.errors import printable
from nightmode.light.signs import plain_signs
from nightmode.session.journal import read

NAMES = (
    "[bold]x",
    "[link=y]z[/link]",
    "[/]",
    "\\[red]",
    "{x} $y %s &amp; <b>",
    "星団の名前",
    "🔭 two 🌌",
    "👩‍🚀 joined",
    "e\u0301toile n\u0303",
    "a\u0300\u0301\u0302\u0303\u0304\u0305\u0306",
    "ﷺ",
    "שם עברי",
    "n" * 80,
    "星" * 80,
    "🏳️‍🌈" * 13,
)
#: All of these stand near the pole of the sky, so that all are up all night.
TOP = """title = "[bold]Odd[/bold] 🔭 names"
night = 2026-12-13
site = { name = "[red]Hill", latitude_deg = 47.1, longitude_deg = 15.4, timezone = "Europe/Vienna" }
telescope = { name = "[blink]Tube", aperture_mm = 200, focal_length_mm = 1200 }
eyepiece = [{ name = "[white]W", focal_length_mm = 25 }, { name = "%s", focal_length_mm = 9 }]
barlow = [{ name = "%s", factor = 2 }]
"""


@pytest.fixture
def plan(tmp_path):
    path = tmp_path / "[bold]plan.toml"
    rows = [
        f'[[target]]\nname = "{name}"\nkind = "galaxy"\nposition = "{20 * number} +80"\nmagnitude = 9\n'
        f'size_arcmin = 5\nlook_for = "look [bold]for {name[:30]}"\nnote = "[link=x]{name[:30]}"\n'
        for number, name in enumerate(name.replace("\\", "\\\\") for name in NAMES)
    ]
    path.write_text(TOP % ("e" * 80, "b" * 80) + "".join(rows), encoding="utf-8")
    return path


def clock_at(set_clock, time):
    return set_clock(dt.datetime.fromisoformat(f"2026-12-13T{time}:00+01:00").timestamp())


def assert_fits(app, columns):
    """Fail unless every row has exactly the screen's width, by the measure of the terminal."""
    for strip in strips(app):
        assert sum(cell_len(segment.text) for segment in strip) == columns


def begins_as(shown, name):
    """True if the name stands there, whole or cut short with an ellipsis, pictures and joiners spelt out."""
    return any(row.strip().startswith(printable(plain_signs(name))[:18]) for row in shown)


@pytest.mark.parametrize("size", [(60, 18), pytest.param((80, 24), marks=pytest.mark.long)])
async def test_odd_names_are_shown_as_they_are_and_ticked(walk, plan, tmp_path, set_clock, size):
    journal = tmp_path / "session.toml"
    async with walk(plan, journal, clock_at(set_clock, "22:00"), size=size) as night:
        seen = set()
        while (name := night.target) is not None and name not in seen:
            seen.add(name)
            assert begins_as(night.rows, name), (name, night.text)
            assert_all_red(night.app)
            assert_fits(night.app, size[0])
            if len(seen) % 5 == 1:
                await night.press("n", "[", "r", "]", "enter")
                assert_all_red(night.app)
            await night.press("e", "s")
            assert begins_as(night.rows[-4:-1], name), (name, night.text)
            assert_fits(night.app, size[0])
        await night.press("l")
        assert_all_red(night.app)
        assert_fits(night.app, size[0])
        assert "[bold]x" in night.text
        await night.press("q", "question_mark")
        assert_all_red(night.app)
    assert seen == set(NAMES)
    entries = read(journal).entries
    assert {entry.target for entry in entries if entry.outcome} == set(NAMES)
    assert {entry.note for entry in entries if entry.note} == {"[r]"}


async def test_a_note_of_any_text_is_kept_and_shown(walk, plan, tmp_path, set_clock):
    journal = tmp_path / "session.toml"
    text = "[bold]\u202e 🔭 \\ \" ' ''' e\u0301 \u200b [/]"
    async with walk(plan, journal, clock_at(set_clock, "22:00")) as night:
        await night.press("n")
        night.app.screen.row.pasted(f"{text}\nok = true\n[[entry]]\x1b]52;c;AA\x07")
        await night.press("enter")
        assert_all_red(night.app)
        assert_fits(night.app, 80)
        assert "noted on" in night.told
    [entry, *_] = read(journal).entries
    assert entry.note.startswith(
        "[bold]<U+202E> 🔭 \\ \" ' ''' e\u0301 <U+200B> [/] ok = true [[entry]]<U+001B>"
    )


def test_the_real_terminal_shows_them_too(start, plan, tmp_path):
    program = start("walk", str(plan), "--at", "22:00", "--session", str(tmp_path / "s.toml"), size=(60, 18))
    program.wait_for("to do")
    for number, key in zip(range(1, len(NAMES) + 1), itertools.cycle(("s", "x", "space")), strict=False):
        program.press(key)
        program.wait_shown(f" {number} done ")
    program.press("l", then="in order of setting")
    program.wait_shown("[link=y]z[/link]")
    assert "\x1b]8" not in program.raw
    assert "\x1b]52" not in program.raw
