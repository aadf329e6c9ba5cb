"""What gives way where a page would light too much, and what never does."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rows import rows

from nightmode.app.pages.budget import Budget, budget_of, lit, nearest, within
from nightmode.app.pages.line import length

WEIGH = {
    "line": 0.1,
    "spare": 0.4,
    "faint": 0.4,
    "kept": 0.4,
    "told": 0.4,
    "text": 1.0,
    "said": 1.0,
    "strong": 2.0,
}
WEIGH["alert"] = 4.0
WEIGH_ALL = WEIGH | {"more": 0.4}
#: A terminal with one red for all.
ALIKE = dict.fromkeys(WEIGH, 1.0)
KEPT = {"strong", "said", "alert", "kept"}
pieces = st.tuples(st.text("ab .●⡀", min_size=1, max_size=9), st.sampled_from(list(WEIGH)))
pages = st.lists(st.lists(pieces, max_size=4).map(tuple), max_size=8)
budgets = st.builds(Budget, st.floats(0, 200), st.sampled_from([WEIGH, ALIKE]))


@given(pages, budgets)
def test_a_page_gives_what_it_may_or_what_it_must(lines, budget):
    least = {role: role for role in (*KEPT, "line")} | {"strong": "text", "alert": "strong"}
    kept = [[(text, least[role]) for text, role in row if role in least] for row in lines]
    shown = within(lines, budget)
    assert budget.cost(shown) <= max(budget.letters, budget.cost(kept)) + 1e-9
    for row, whole in zip(shown, lines, strict=True):
        assert all(text == was for (text, _), (was, role) in zip(row, whole, strict=True) if role in KEPT)


@given(pages, budgets)
def test_what_stays_stays_in_its_place(lines, budget):
    shown = within(lines, budget)
    assert [length(row) for row in shown] == [length(row) for row in lines]
    for row, whole in zip(shown, lines, strict=True):
        for (text, _), (was, _) in zip(row, whole, strict=True):
            assert text == was or not text.strip()


@given(pages, budgets)
def test_nothing_gives_way_while_there_is_light_to_spare(lines, budget):
    assert within(lines, Budget(budget.cost(lines), budget.weigh)) == lines


def test_the_least_needed_gives_way_first_and_the_foot_before_the_head():
    lines = [(("name", "strong"), ("aside", "faint")), (("where", "text"),), (("next", "spare"),)]
    shown = [
        [[text.strip() for text, _ in row] for row in within(lines, Budget(letters, ALIKE))]
        for letters in (18, 14, 9, 4, 0)
    ]
    assert shown == [
        [["name", "aside"], ["where"], ["next"]],
        [["name", "aside"], ["where"], [""]],
        [["name", ""], ["where"], [""]],
        [["name", ""], [""], [""]],
        [["name", ""], [""], [""]],
    ]


def test_what_can_be_dimmed_is_dimmed_before_it_is_left_out():
    assert within([(("far", "text"),), (("off", "text"),)], Budget(5, WEIGH)) == [
        (("far", "text"),),
        (("off", "told"),),
    ]


@given(st.floats(0, 60))
def test_a_sentence_goes_whole(letters):
    lines = [
        (("name", "strong"),),
        (("verdict  ", "kept"), ("reasons that", "faint")),
        ((" " * 9, "line"), ("go on", "more")),
        (("what to look", "told"),),
        (("for", "more"),),
        (("and on", "more"),),
    ]
    shown = within(lines, Budget(letters, WEIGH_ALL))
    assert bool(shown[1][1][0].strip()) == bool(shown[2][1][0].strip())
    assert len({bool(row[0][0].strip()) for row in shown[3:]}) == 1
    assert budget_or_name(shown, letters)


def budget_or_name(shown, letters):
    """Whether a page keeps to its budget, or to its name and label alone."""
    left = Budget(letters, WEIGH_ALL).cost(shown)
    return left <= max(letters, 4 * WEIGH_ALL["text"] + 7 * WEIGH_ALL["kept"])


@given(st.lists(st.integers(1, 9), min_size=1, max_size=30), st.data())
def test_the_rows_around_a_place_are_as_many_as_fit(rows, data):
    place, most = data.draw(st.integers(0, len(rows) - 1)), data.draw(st.integers(0, 60))
    marked = [(number, at) for at, number in enumerate(rows)]
    kept = nearest(marked, place, lambda some: sum(number for number, _ in some) <= most)
    assert marked[place] in kept
    assert kept == marked[kept[0][1] : kept[-1][1] + 1]
    assert len(kept) == 1 or sum(number for number, _ in kept) <= most


@rows("text, letters", [("", 0), ("  ", 0), ("abc", 3), ("●", 1.8), ("⣿⡀", 1.8)])
def test_dots_and_blanks_count_for_less_than_letters(text, letters):
    assert lit(text) == pytest.approx(letters)


def test_a_small_window_is_no_full_screen():
    levels = dict.fromkeys(("line", "faint", "text", "strong", "alert"), 1.0)
    assert budget_of((40, 12), levels).letters == budget_of((80, 24), levels).letters
    assert budget_of((120, 40), levels).letters == pytest.approx(2.5 * budget_of((80, 24), levels).letters)
