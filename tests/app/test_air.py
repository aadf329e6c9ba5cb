"""Transparency and dew by one key: on the disk, undone like the rest, and read back."""

import pytest

from nightmode.history.sitting import sitting_of
from nightmode.report.log.story import conditions_line, happened
from nightmode.session.journal import read


async def press(pilot, *keys):
    for key in keys:
        await pilot.press(key)
        await pilot.pause()


def page_text(app):
    return "\n".join("".join(text for text, _ in row) for row in app.screen.page.lines)


@pytest.mark.parametrize(
    ("answer", "field", "value", "said"),
    [
        ("4", "transparency", 4, "transparency 4 of 5 noted"),
        ("1", "transparency", 1, "transparency 1 of 5 noted"),
        ("n", "dew", "none", "no dew noted"),
        ("h", "dew", "heavy", "heavy dew noted"),
    ],
)
async def test_a_reading_of_the_air_is_kept(walking, journal, answer, field, value, said):
    async with walking() as (app, pilot):
        await press(pilot, "t", answer)
        assert said in page_text(app)
    (entry,) = [one for one in read(journal).entries if one.event.value == "check"]
    assert getattr(entry, field) == value


async def test_the_letters_of_the_answer_are_no_commands(walking):
    """s and n would tick and open a note."""
    async with walking() as (app, pilot):
        await press(pilot, "t", "s")
        assert not app.walker.state.ticks
        await press(pilot, "t", "q")
        assert "as it was" in page_text(app)


async def test_a_reading_is_undone_like_anything_else(walking, journal):
    async with walking() as (app, pilot):
        await press(pilot, "t", "3", "u")
        assert not [one for one in app.walker.state.live if one.transparency is not None]


async def test_the_record_tells_the_air(walking, journal):
    async with walking() as (_, pilot):
        await press(pilot, "t", "4", "t", "s", "i", "2")
    kept = read(journal)
    sitting = sitting_of(journal.name, kept.head, kept.entries)
    assert [happened(one) for one in sitting.happenings] == ["transparency 4 of 5", "some dew", "seeing II"]
    assert "seeing II; transparency 4 of 5, some dew" in conditions_line(sitting)
