"""The chart on the walk: views, sizes, keys, and that its words say what its picture shows."""

import itertools
import re
from functools import cache

import numpy as np
import pytest
from rows import rows
from turns import by_turns

from nightmode.app.chart import Chart
from nightmode.app.pages.aim import LABEL, WORDS, ChartView, Sighting, _wrapped, aim_page
from nightmode.app.pages.dots import FULL, LETTERS_ONLY, NO_DISC, Picture, style_of
from nightmode.app.pages.line import width
from nightmode.model.kit import Finder
from nightmode.model.session import Outcome
from nightmode.night.aiming import pointing_at, through
from nightmode.night.aligning import align_at_dusk
from nightmode.night.equipping import equip


def text(lines):
    return ["".join(piece for piece, _ in row) for row in lines]


def shown(app):
    return "\n".join(text(app.screen.page.lines))


@pytest.fixture(scope="session")
def night(loaded):
    return loaded.night


def up(night, hours=1.0):
    """Yield (row, what points to it) of every target that is up so long after dark."""
    now_s = night.twilights.dark_s[0] + hours * 3600.0
    found = ((row, pointing_at(night, row, now_s)) for row in range(len(night.targets)))
    return ((row, one) for row, one in found if one is not None)


@cache
def six_up(night):
    """Return the first six of them."""
    return list(itertools.islice(up(night), 6))


def page(night, row, one, view, size, style=FULL):
    target = night.targets[row]
    instrument = through(target.kit.telescope, target.look.combination)
    return text(aim_page(Sighting(one, view, instrument, target.find.true_field_deg, style), size))


async def test_a_opens_the_chart_steps_through_its_views_and_esc_gives_the_facts_back(walking):
    async with walking() as (app, pilot):
        facts = shown(app)
        seen = []
        for _ in range(5):
            await pilot.press("a")
            seen.append(shown(app))
        assert "as the sky looks now" in seen[0]
        assert [re.search(r"a: (\w+)", one)[1] for one in seen] == [
            "closer",
            "finder",
            "eyepiece",
            "sky",
            "closer",
        ]
        assert "8x50 finder" in seen[2]
        assert seen[4] == seen[0]
        await pilot.press("escape")
        assert shown(app) == facts


async def test_other_keys_keep_their_meaning_and_the_chart_follows_the_target(walking):
    async with walking() as (app, pilot):
        await pilot.press("a")
        first = app.walker.shown(app.now_s())
        await pilot.press("space")
        assert app.walker.state.outcome(app.walker.night.targets[first].chance.key) is Outcome.SEEN
        second = app.walker.shown(app.now_s())
        assert second != first
        assert f"{app.walker.night.targets[second].subject.name}  as the sky" in shown(app)
        await pilot.press("j")
        third = app.walker.shown(app.now_s())
        assert f"{app.walker.night.targets[third].subject.name}  as the sky" in shown(app)
        await pilot.press("a", "a", "a", "e")
        one = app.walker.combination(third)
        assert f"{one.power:.0f}x" in shown(app)


async def test_nothing_is_worked_out_twice_within_a_minute(walking, clock, monkeypatch):
    drawn = []
    kept = Chart._page
    monkeypatch.setattr(Chart, "_page", lambda self, *given: drawn.append(1) or kept(self, *given))
    clock.set_s = clock.set_s // 60 * 60 + 1.0
    async with walking() as (app, pilot):
        await pilot.press("a")
        for second in range(2, 58, 11):
            clock.set_s = clock.set_s // 60 * 60 + second
            app.screen.draw()
        assert len(drawn) == 1
        clock.set_s += 60.0
        app.screen.draw()
        assert len(drawn) == 2


async def test_by_day_there_is_no_chart(walking, clock, loaded):
    clock.set_s = loaded.night.twilights.civil_dusk_s - 300.0
    async with walking() as (app, pilot):
        await pilot.press("escape", "j", "a")
        assert "no chart while the Sun is above" in shown(app)


SIZES = [(80, 20), (100, 26), (110, 24), (120, 36), (200, 60), (60, 14), (40, 9)]


LOOKS = [
    *((size, FULL) for size in SIZES),
    *((size, LETTERS_ONLY) for size in SIZES[::2]),
    ((80, 20), NO_DISC),
]


@pytest.mark.parametrize(("look", "third"), by_turns(LOOKS, range(3)))
def test_every_view_fits_its_size(night, look, third):
    size, style = look
    for row, one in six_up(night)[third::3]:
        for view in ChartView:
            rows = page(night, row, one, view, size, style)
            assert len(rows) == size[1]
            assert all(width(line) <= size[0] for line in rows)
            assert any(one.name in line for line in rows)
            if style is LETTERS_ONLY:
                odd = {letter for line in rows for letter in line if not letter.isascii()}
                assert odd <= {"°", "…"}


def test_no_row_of_words_ends_within_what_belongs_together(night):
    broken = re.compile(r"(?:[0-9α-ω¹²³]\n[A-Z][A-Za-z]{2}\b|\n(?:up|field|o'clock)\b|\bpast\n)")
    read = 0
    for row, one in six_up(night):
        for view in ChartView:
            told = "\n".join(line[48:].strip() for line in page(night, row, one, view, (80, 22)))
            read += len(told)
            assert not broken.search(told), told
    assert read > 1000


def test_where_a_step_takes_two_rows_the_second_stands_farther_in(night):
    starts = re.compile(r"(?:.+ in the middle|target is there|.+: .*(?:field|°).*)")
    steps = 0
    for row, one in six_up(night):
        rows = [line[48:].rstrip() for line in page(night, row, one, ChartView.FINDER, (80, 22))]
        begin = next((at for at, text in enumerate(rows) if text.endswith("in the middle")), None)
        if begin is None:
            continue
        told = list(itertools.takewhile(bool, rows[begin:]))
        parts = " ".join(text.strip() if text[9:11] == "  " else f"\n{text[9:]}" for text in told).split("\n")
        steps += len(parts) - 1
        assert all(starts.fullmatch(part.strip()) for part in parts[1:]), parts
        assert parts[-1].startswith("target")
    assert steps > 6


def test_the_longest_figure_is_told_to_its_end():
    told = (
        "third corner of an even triangle with Zubenelgenubi and Zubeneschamali, "
        "on the side away from Unukalhai"
    )
    assert " ".join(_wrapped(told, WORDS - LABEL - 1)) == told


def test_narrow_screens_have_words_alone_and_wide_ones_two_pictures(night):
    row, one = next((row, one) for row, one in six_up(night) if one.guide.begin.separation_deg > 1.0)
    braille = re.compile("[\u2801-\u28ff]")
    assert not braille.search("".join(page(night, row, one, ChartView.SKY, (79, 20))))
    for size, pictures in (((80, 20), 1), ((110, 26), 2), ((120, 36), 2)):
        assert "".join(page(night, row, one, ChartView.SKY, size)).count("+") == pictures


def bearing(here, there):
    """Return the bearing between cells (column, row), which are twice as high as wide."""
    return np.degrees(np.arctan2(there[0] - here[0], 2.0 * (here[1] - there[1]))) % 360.0


def cells(rows, glyph):
    return [(column, row) for row, line in enumerate(rows) for column, one in enumerate(line) if one == glyph]


def test_the_words_say_what_the_picture_shows(night):
    compared = 0
    for hours in (3.0, 5.0, 9.0):
        for row, one in up(night, hours):
            begin = one.guide.begin
            if begin is None or begin.separation_deg < 4.0:
                continue
            rows = page(night, row, one, ChartView.SKY, (100, 26))
            picture = [line[:66] for line in rows]
            if one.called[begin.star] not in "".join(picture):
                continue
            target, discs = cells(picture, "+"), cells(picture, "●")
            name = one.called[begin.star]
            beside = [
                disc
                for disc in discs
                if picture[disc[1]][disc[0] + 2 :].startswith(name)
                or picture[disc[1]][: disc[0] - 1].endswith(name)
            ]
            told = re.search(
                r"(half past )?(\d+) ?(?:o'clock)?\)", " ".join(line[67:].strip() for line in rows)
            )
            if len(target) != 1 or len(beside) != 1 or told is None:
                continue
            said = (int(told[2]) + (0.5 if told[1] else 0.0)) * 30.0
            drawn = bearing(beside[0], target[0])
            apart = abs((drawn - said + 180.0) % 360.0 - 180.0)
            reach = np.hypot(target[0][0] - beside[0][0], 2.0 * (target[0][1] - beside[0][1]))
            assert apart <= 8.0 + np.degrees(1.8 / reach), one.name
            compared += 1
    assert compared >= 15


def test_a_star_keeps_its_cell_and_a_name_never_covers_one():
    picture = Picture(12, 3, FULL)
    picture.star((5.0, 5.0), 4)
    picture.star((9.0, 5.0), 0)
    for x in range(24):
        picture.dot(x, 5.0)
    assert picture.label((5.0, 5.0), "Vega", "text")
    rows = text(picture.lines())
    assert rows[1][2] == "●"
    assert "Vega" in "".join(rows)
    assert ord(rows[1][4]) - 0x2800 in (1, 2, 4, 8, 16, 32, 64, 128)
    assert not picture.label((5.0, 5.0), "a name that has no room here", "text")


@rows(
    "env, encoding, style",
    [
        ({"TERM": "xterm-256color", "COLORTERM": "truecolor", "LANG": "en_GB.UTF-8"}, "utf-8", FULL),
        ({"TERM": "xterm-256color", "LANG": "en_GB.UTF-8"}, "utf-8", FULL),
        ({"TERM": "xterm-direct", "LANG": "ja_JP.UTF-8"}, "UTF-8", NO_DISC),
        ({"TERM": "xterm-direct", "LANG": "C"}, "ANSI_X3.4-1968", LETTERS_ONLY),
        ({"TERM": "linux"}, "utf-8", LETTERS_ONLY),
        ({"TERM": "dumb"}, "utf-8", LETTERS_ONLY),
    ],
)
def test_what_a_terminal_can_show_is_told_by_its_name_and_locale(env, encoding, style):
    assert style_of(env, encoding) == style


def test_views_for_which_there_is_no_kit_are_left_out(walking, night):
    sight = Finder(name="Circles", kind="bullseye", rings_deg=(0.5, 2.0, 4.0))
    bare = equip(night, night.kit.model_copy(update={"finders": (sight,)}))
    row, one = next(up(bare))
    assert one.finder is None
    none = equip(night, night.kit.model_copy(update={"finders": ()}))
    row, one = next(up(none))
    told = "\n".join(page(none, row, one, ChartView.SKY, (80, 20)))
    assert "sight" not in told
    assert "circle" not in told


async def test_the_list_before_dark_says_on_what_to_set_the_finder(walking, clock, loaded):
    clock.set_s = loaded.night.twilights.sunset_s + 60.0
    async with walking() as (app, _):
        (told,) = re.findall(r"finder, at dusk: set it on (\w+), ([NESW]+), (\S+) fists up", shown(app))
        star = align_at_dusk(loaded.night)
        assert told[0] == star.name
        assert abs(float(told[2].replace("½", ".5")) * 10.0 - star.altitude_deg) <= 2.6


async def test_the_first_target_says_it_again_until_something_is_ticked(walking):
    async with walking((80, 30)) as (app, pilot):
        assert "set it on" in shown(app)
        await pilot.press("space")
        assert "set it on" not in shown(app)


async def test_without_a_finder_there_is_nothing_to_set(walking, night, clock):
    bare = equip(night, night.kit.model_copy(update={"finders": ()}))
    clock.set_s = night.twilights.sunset_s + 60.0
    async with walking(night=bare) as (app, pilot):
        assert "set it on" not in shown(app)
        await pilot.press("escape")
        clock.set_s = night.twilights.dark_s[0] + 60.0
        app.screen.draw()
        assert "set it on" not in shown(app)
