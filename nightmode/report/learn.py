"""Predictions beside what was seen, and what another value of experience would change."""

import textwrap
from typing import Any

import numpy as np

from nightmode.history.experience import LEAST_TICKS, Learnt, Trial, margins_with
from nightmode.model.session import LOOKED, Outcome
from nightmode.records import Record
from nightmode.visibility.margin import word
from nightmode.words import Word

_WIDTH = 79
_WORDS = tuple(word for word in Word if word is not Word.UNKNOWN)


class Lesson(Record):
    """The ticks from which something can be learnt, the result, and the experience in use."""

    trials: tuple[Trial, ...]
    learnt: Learnt
    in_use: float

    def count(self, called: Word, outcome: Outcome) -> int:
        """Return how many ticks with this predicted word have this outcome."""
        return sum(trial.word is called and trial.outcome is outcome for trial in self.trials)

    def words_with(self, factor: float) -> dict[Word, int]:
        """Return for each word how many of the ticks it would predict with another experience."""
        said = [Word(called) for called in np.atleast_1d(word(margins_with(self.trials, factor)))]
        return {called: said.count(called) for called in _WORDS}


def refusal(learnt: Learnt) -> str:
    """Return why there is too little to learn from, or "" if there is enough."""
    if learnt.ticks < LEAST_TICKS:
        return (
            f"Too little to learn from: {learnt.ticks} tick{'s' * (learnt.ticks != 1)} of glows with a "
            f"prediction, and at least {LEAST_TICKS} are needed. Every walk adds some."
        )
    if not learnt.is_enough:
        return (
            f"Too little to learn from: {learnt.ticks} ticks, but nearly all far from the edge of sight. "
            "Walk some plans with hard targets (draft --difficulty hard), and tick what you sought in vain."
        )
    return ""


def learn_text(lesson: Lesson) -> str:
    """Return the table and, if there are enough ticks, the experience found and what it would change."""
    lines = [*_table(lesson), ""] if lesson.trials else []
    learnt = lesson.learnt
    if told := refusal(learnt):
        return "\n".join([*lines, *textwrap.wrap(told, _WIDTH)])
    lines += [
        f"experience in use {lesson.in_use:.2f}; what you saw speaks for {learnt.factor:.2f} "
        f"({learnt.low:.2f} to {learnt.high:.2f})",
        "",
        f"{'what it would change':<22} " + " ".join(f"{called:>12}" for called in _WORDS),
    ]
    for name, factor in (("called so far", lesson.in_use), ("would be called", learnt.factor)):
        counts = lesson.words_with(factor).values()
        lines.append(f"{f'{name} ({factor:.2f})':<22} " + " ".join(f"{count:>12}" for count in counts))
    return "\n".join(lines)


def _table(lesson: Lesson) -> list[str]:
    ticks = f"{len(lesson.trials)} tick{'s' * (len(lesson.trials) != 1)}"
    lines = [f"Glows with a prediction: {ticks}; bodies and double stars are left out", ""]
    for called in _WORDS:
        seen, suspected, missed = (lesson.count(called, outcome) for outcome in LOOKED)
        total = seen + suspected + missed
        if total:
            half = f", suspected {suspected}" if suspected else ""
            lines.append(f"called {f'{called}:':<14} seen {seen} of {total}{half}")
    return lines


def learn_json(lesson: Lesson) -> dict[str, Any]:
    """Return the same as plain data; experience is null if there are too few ticks."""
    learnt = lesson.learnt
    table = [
        {
            "called": called,
            **{outcome.value.replace(" ", "_"): lesson.count(called, outcome) for outcome in LOOKED},
        }
        for called in _WORDS
    ]
    told = refusal(learnt)
    fitted = {"factor": round(learnt.factor, 3), "low": round(learnt.low, 3), "high": round(learnt.high, 3)}
    return {
        "ticks": learnt.ticks,
        "table": table,
        "in_use": lesson.in_use,
        "experience": None if told else fitted,
        "refused": told or None,
        "words_now": lesson.words_with(lesson.in_use) if lesson.trials else {},
        "words_then": lesson.words_with(learnt.factor) if lesson.trials and not told else {},
    }
