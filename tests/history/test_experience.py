"""What the ticks say of the eye: a known factor is found again, and a few ticks say nothing."""

import math
import statistics

import numpy as np
import pytest
from history.keeping import head, tick
from hypothesis import given
from hypothesis import strategies as st
from turns import by_turns

from nightmode.history.experience import PRIOR_DEX, Trial, _normal, learn, trials
from nightmode.history.sitting import sitting_of
from nightmode.model.session import Outcome

SEEN, SUSPECTED, MISSED = Outcome.SEEN, Outcome.SUSPECTED, Outcome.NOT_SEEN


def glow(contrast_dex, outcome, factor=2.4, margin_dex=0.0):
    return Trial(None, margin_dex, contrast_dex, factor, outcome)


def simulated(true_factor, count, seed, edge_dex=0.2, said_with=2.4):
    """Return the record of an eye that is known: what is above its threshold is seen, with a soft edge."""
    lot = np.random.default_rng(seed)
    found = []
    for margin in lot.uniform(-0.6, 1.2, count):
        above = margin + math.log10(said_with / true_factor)
        chance = 0.5 * math.erfc(-above / edge_dex / math.sqrt(2))
        drawn = lot.random()
        outcome = SEEN if drawn < chance - 0.04 else SUSPECTED if drawn < chance + 0.04 else MISSED
        found.append(glow(float(margin), outcome, said_with))
    return found


@pytest.mark.parametrize(("true_factor", "edge_dex"), by_turns((1.2, 1.7, 2.4, 3.6), (0.08, 0.2, 0.35)))
def test_a_known_factor_lies_in_its_own_interval_in_nine_runs_of_ten(true_factor, edge_dex):
    runs = [learn(simulated(true_factor, 150, seed, edge_dex)) for seed in range(20)]
    assert all(run.is_enough for run in runs)
    assert sum(run.low <= true_factor <= run.high for run in runs) >= 18
    off = [math.log10(run.factor / true_factor) for run in runs]
    assert abs(statistics.mean(off)) < 0.05


def test_margins_said_for_another_experience_are_brought_to_one_scale():
    mixed = simulated(1.7, 150, 1, said_with=2.4) + simulated(1.7, 150, 2, said_with=1.4)
    found = learn(mixed)
    assert found.low <= 1.7 <= found.high


@pytest.mark.parametrize("count", [0, 1, 3, 8, 19])
def test_a_few_ticks_say_too_little_and_cannot_move_far(count):
    found = learn(simulated(1.2, count, 5))
    assert not found.is_enough
    assert abs(math.log10(found.factor / 2.4)) < 2 * PRIOR_DEX
    assert found.low <= 2.4 if count < 4 else True


def test_many_ticks_far_from_the_edge_say_too_little():
    easy = [glow(1.5, SEEN)] * 400
    assert not learn(easy).is_enough


def test_a_slip_of_the_finger_on_something_bright_hardly_counts():
    record = simulated(2.4, 200, 3)
    with_slip = learn([*record, glow(1.5, MISSED)])
    assert abs(math.log10(with_slip.factor / learn(record).factor)) < 0.02


def test_suspected_counts_half():
    both = [glow(0.1, SEEN), glow(0.1, MISSED)]
    half = [glow(0.1, SUSPECTED)] * 2
    assert learn(both).factor == pytest.approx(learn(half).factor)


@given(st.lists(st.tuples(st.floats(-1, 1.5), st.sampled_from([SEEN, SUSPECTED, MISSED])), max_size=40))
def test_seeing_more_never_speaks_for_a_poorer_eye(record):
    found = [glow(margin, outcome) for margin, outcome in record]
    better = [glow(margin, SEEN) for margin, _ in record]
    assert learn(better).factor <= learn(found).factor + 1e-9
    assert learn(found).low <= learn(found).factor <= learn(found).high


def test_the_normal_distribution_is_that_of_the_standard_library():
    for x in np.linspace(-5, 5, 41):
        assert _normal(np.array(x)) == pytest.approx(statistics.NormalDist().cdf(x), abs=2e-7)


def test_the_light_of_a_target_teaches_nothing_only_its_contrast_does():
    """A bright cluster is called easy for its light; whether its stars show is what tells of the eye."""
    told = [(0.1, SEEN), (0.1, MISSED), (-0.2, MISSED), (0.4, SEEN)]
    plain = [glow(contrast, outcome, margin_dex=contrast) for contrast, outcome in told]
    bright = [glow(contrast, outcome, margin_dex=contrast + 0.8) for contrast, outcome in told]
    assert learn(bright) == learn(plain)


def test_a_journal_without_contrasts_has_them_as_margins():
    first = sitting_of("x.toml", head(), [tick("M 31", verdict="hard", margin_dex=0.1, experience=2.4)])
    later = sitting_of("y.toml", head(), [tick("M 45", margin_dex=0.9, contrast_dex=0.3, experience=2.4)])
    assert [one.contrast_dex for one in trials([first, later], 2.4)] == [0.1, 0.3]


def test_bodies_doubles_and_what_has_no_prediction_are_left_out():
    said = {"verdict": "hard", "margin_dex": 0.1}
    sitting = sitting_of(
        "x.toml",
        head(),
        [
            tick("M 31", **said),
            tick("Albireo", minute=1, **said),
            tick("Saturn", minute=2, **said),
            tick("M 33", minute=3),
            tick("M 74", "set aside", 4, **said),
            tick("M 77", "not seen", 5, **said),
        ],
    )
    assert [(one.factor, one.outcome) for one in trials([sitting], 1.9)] == [(1.9, SEEN), (1.9, MISSED)]


def test_where_a_session_says_its_experience_only_what_it_decides_counts():
    """A double star of one's own is in no catalogue; the journal keeps no experience with it."""
    said = {"verdict": "hard", "margin_dex": 0.1}
    own = sitting_of(
        "x.toml", head(), [tick("M 31", experience=1.4, **said), tick("My own pair", minute=1, **said)]
    )
    assert [one.factor for one in trials([own], 2.4)] == [1.4]
    foreign = sitting_of("y.toml", head(), [tick("T 17", **said)])
    assert [one.factor for one in trials([foreign], 2.4)] == [2.4]
