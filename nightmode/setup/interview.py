"""Takes the answers of `setup`: from flags, or by asking one question after another."""

from collections.abc import Callable
from textwrap import fill

from nightmode.errors import NightmodeError
from nightmode.model.observer import Observer
from nightmode.setup.questions import Given, Question, parts

#: The last questions, which take the answer offered where the input ends early.
LATEST = 2
#: The answers that are lists, and the table of observer.toml that each one fills.
_LISTS = {"binoculars": "binoculars", "eyepieces": "eyepiece", "barlows": "barlow", "filters": "filter"}


def filled(existing: Observer, given: Given, asked: tuple[Question, ...]) -> Given:
    """Return an answer for every question: the flag, else what is in the file, else the default.

    NightmodeError names the flag that is missing where there is none of these.
    """
    for question in asked:
        if question.key in given:
            both = parts(question.key, given[question.key], question.flag)
            given = {**both, **given, question.key: both[question.key]}
            question.read(given[question.key], question.flag)
    for question in asked:
        if question.key in given or not question.is_asked(given):
            continue
        offered = question.default(existing, given)
        if offered is None:
            raise NightmodeError(
                "setup", f"{question.ask.lower()} is not known yet", f"add {question.flag} {question.example}"
            )
        given = {**given, question.key: offered}
    return given


def interview(
    existing: Observer,
    asked: tuple[Question, ...],
    ask: Callable[[str], str],
    say: Callable[[str], None],
) -> Given:
    """Ask every question, offering the present answer; ask again where an answer does not fit.

    Where the input ends before the last questions, they take the answer offered: so a file of answers made
    for an earlier version still works. NightmodeError where it ends before that.
    """
    given: dict[str, str] = {}
    for question in asked:
        if question.key in given or not question.is_asked(given):
            continue
        offered = question.default(existing, given)
        try:
            now = _rows_now(existing, question.key)
            given |= _answer(question, offered, now, given, ask, say)
        except EOFError:
            if question not in asked[-LATEST:] or offered is None:
                raise NightmodeError(
                    "setup", "the answers ended early and nothing was written", "run it again"
                ) from None
            given[question.key] = offered
    return given


def _answer(
    question: Question,
    offered: str | None,
    now: str,
    given: Given,
    ask: Callable[[str], str],
    say: Callable[[str], None],
) -> Given:
    bracket = f" [{offered or now or 'none'}]" if offered is not None else ""
    while True:
        text = ask(f"{question.ask} ({question.hint}){bracket}: ").strip()
        if not text and offered is None:
            say(f"  needed, for example {question.example}")
            continue
        try:
            answered = parts(question.key, text or offered or "", question.ask)
            question.checked(answered[question.key], question.ask, given)
        except NightmodeError as problem:
            say(fill(str(problem), 79, initial_indent="  ", subsequent_indent="  "))
            continue
        return answered


def _rows_now(existing: Observer, key: str) -> str:
    """Return what is in a list now, so that the observer sees what to add to."""
    table = _LISTS.get(key)
    return ", ".join(row.name for row in getattr(existing, table)) if table else ""
