"""What was made of tonight's targets before: on earlier nights only, the best of it, with the last words."""

import datetime as dt

import pytest
from history.keeping import head, note, tick

from nightmode.history.earlier import Earlier, earlier_looks
from nightmode.history.sitting import sitting_of
from nightmode.history.tally import looks_by_object
from nightmode.model.session import Outcome
from nightmode.wording.earlier import earlier_text

TONIGHT = dt.date(2027, 2, 1)


def told(*sittings, names=("M 31", "M 42")):
    return earlier_looks(names, looks_by_object(sittings), TONIGHT)


def sitting(night, *entries):
    return sitting_of(f"{night}.toml", head(night), entries)


def test_the_best_outcome_of_earlier_nights_with_the_last_words():
    found = told(
        sitting("2026-10-12", tick("NGC 224"), note("dust on one side", "NGC 224", 1)),
        sitting("2026-11-03", tick("M 31", "not seen"), note("haze", "M 31", 1, "2026-11-03")),
    )
    assert found == {"m31": Earlier(Outcome.SEEN, dt.date(2026, 10, 12), "haze")}


def test_tonight_and_later_nights_do_not_count():
    assert told(sitting("2027-02-01", tick("M 31")), sitting("2027-03-01", tick("M 42"))) == {}


def test_what_was_only_set_aside_was_not_looked_at():
    assert told(sitting("2026-10-12", tick("M 31", "set aside"), note("clouds", "M 42"))) == {}


@pytest.mark.parametrize(
    ("outcome", "night", "words", "said"),
    [
        ("seen", "2026-10-12", "", "seen before, 12 Oct"),
        ("seen", "2026-10-12", "dust", "seen before, 12 Oct: dust"),
        ("suspected", "2024-10-12", "", "suspected before, 12 Oct 2024"),
        ("not seen", "2027-01-02", "haze", "looked for before, not seen, 2 Jan: haze"),
    ],
)
def test_it_is_said_in_a_few_words(outcome, night, words, said):
    assert earlier_text(Outcome(outcome), dt.date.fromisoformat(night), TONIGHT, words) == said
