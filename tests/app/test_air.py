"""Transparency and dew by one key: on the disk, undone like the rest, and read back."""

from nightmode.history.sitting import sitting_of
from nightmode.report.log.words import conditions_line, happened
from nightmode.session.journal import read


def page_text(app):
    return "\n".join("".join(text for text, _ in row) for row in app.screen.page.lines)


ANSWERS = [
    ("4", "transparency", 4, "transparency 4 of 5 noted"),
    ("1", "transparency", 1, "transparency 1 of 5 noted"),
    ("n", "dew", "none", "no dew noted"),
    ("h", "dew", "heavy", "heavy dew noted"),
]


async def test_a_reading_of_the_air_is_kept(walking, journal):
    async with walking() as (app, pilot):
        for number, (answer, field, value, said) in enumerate(ANSWERS, 1):
            await pilot.press("t", answer)
            assert said in page_text(app)
            kept = [entry for entry in read(journal).entries if entry.event.value == "check"]
            assert (len(kept), getattr(kept[-1], field)) == (number, value)


async def test_the_letters_of_the_answer_are_no_commands(walking):
    """s and n would tick and open a note."""
    async with walking() as (app, pilot):
        await pilot.press("t", "s")
        assert not app.walker.state.ticks
        await pilot.press("t", "q")
        assert "as it was" in page_text(app)


async def test_a_reading_is_undone_like_anything_else(walking, journal):
    async with walking() as (app, pilot):
        await pilot.press("t", "3", "u")
        assert not [one for one in app.walker.state.live if one.transparency is not None]


async def test_the_record_tells_the_air(walking, journal):
    async with walking() as (_, pilot):
        await pilot.press("t", "4", "t", "s", "i", "2")
    kept = read(journal)
    sitting = sitting_of(journal.name, kept.head, kept.entries)
    assert [happened(one) for one in sitting.happenings] == ["transparency 4 of 5", "some dew", "seeing II"]
    assert "seeing II; transparency 4 of 5, some dew" in conditions_line(sitting)
