"""The tally as text: a bar, the parts of the list, what the rest needs, and the rarest targets."""

from collections.abc import Iterator, Mapping, Sequence

from nightmode.history.objects import under_several_names
from nightmode.history.tally import Tally
from nightmode.kinds import Kind
from nightmode.model.session import LOOKED, Outcome
from nightmode.report.tally.account import Account
from nightmode.report.tally.words import (
    best_words,
    constellation_counts,
    counts_line,
    first_words,
    months_words,
)
from nightmode.wording.earlier import same_text
from nightmode.wording.figures import cut, date_text, wrapped_names
from nightmode.words import Word

_WIDTH, _BAR = 79, 60
_MARKS = ((Outcome.SEEN, "#"), (Outcome.SUSPECTED, "+"), (Outcome.NOT_SEEN, "x"), (None, "."))


def tally_text(account: Account, first_month: int) -> str:
    """Return the whole account as text; months run from `first_month` on."""
    tally = account.tally
    lines = [tally.title, counts_line(tally), bar(tally), "# seen  + suspected  x looked, not seen  . left"]
    if len(tally.parts("kind")) > 1:
        lines += ["", *_kinds(tally)]
    if len(tally.parts("constellation")) > 1:
        lines += ["", "By constellation, seen of all", *_wrapped(", ".join(constellation_counts(tally)))]
    lines += ["", *_seen(tally)] if tally.count(None) < len(tally.items) else []
    if tally.left:
        lines += ["", *_rest(account, first_month)]
    lines += [f"- {same_text(same)}" for same in under_several_names([item.name for item in tally.items])]
    return "\n".join(line.rstrip() for line in lines)


def overview_text(tallies: Mapping[str, Tally]) -> str:
    """Return a bar for each of several lists, with the name that asks for it."""
    blocks = [
        f"{f'{name}: ' if name else ''}{tally.title}\n{counts_line(tally)}\n{bar(tally)}"
        for name, tally in tallies.items()
        if tally.items
    ]
    more = "One of them in full: nightmode tally messier"
    return "\n\n".join([*blocks, f"# seen  + suspected  x looked, not seen  . left\n{more}"])


def bar(tally: Tally) -> str:
    """Return the state of a list as a row of marks; each mark stands for the same share of the list.

    An outcome that has happened at all has at least one mark, even if it is one in a thousand.
    """
    counts = [tally.count(outcome) for outcome, _ in _MARKS]
    shares = _shares(counts) if sum(counts) else counts
    return "".join(letter * share for (_, letter), share in zip(_MARKS, shares, strict=True))


def _shares(counts: Sequence[int]) -> list[int]:
    """Return how many marks each count gets: in proportion, and at least one unless it is 0."""
    exact = [count * _BAR / sum(counts) for count in counts]
    shares = [max(1, int(share)) if share else 0 for share in exact]
    while (short := _BAR - sum(shares)) != 0:
        step = 1 if short > 0 else -1
        places = [place for place, share in enumerate(shares) if share + step > 0 and exact[place]]
        shares[max(places, key=lambda place: step * (exact[place] - shares[place]))] += step
    return shares


def _kinds(tally: Tally) -> Iterator[str]:
    yield f"{'By kind':<22} {'all':>4} {'seen':>5} {'susp.':>5} {'not':>4} {'left':>5}"
    for name, counts in tally.parts("kind").items():
        figures = [counts[outcome] for outcome in (*LOOKED, None)]
        seen, suspected, missed, left = (figure or "" for figure in figures)
        yield f"{cut(name, 22):<22} {counts.total():>4} {seen:>5} {suspected:>5} {missed:>4} {left:>5}"


def _seen(tally: Tally) -> Iterator[str]:
    yield f"{'What was looked at':<22} {'outcome':<9} {'first':>11}  {'best':<18} last noted"
    for item in tally.items:
        if item.outcome is not None:
            yield (
                f"{cut(item.name, 22):<22} {item.outcome.value:<9} {first_words(item.first):>11}  "
                f"{best_words(item.best):<18} {cut(item.note, 14)}"
            )


def _rest(account: Account, first_month: int) -> Iterator[str]:
    left = account.tally.left
    if not account.needs and not account.moon:
        yield f"Left: {len(left)}"
        yield from _wrapped(", ".join(item.name for item in left))
        yield from _wrapped(account.basis)
        return
    yield f"Left: {len(left)}, from {account.basis}"
    if account.moon:
        yield from _moon(account)
    if account.needs:
        yield from _needs(account, first_month)


def _needs(account: Account, first_month: int) -> Iterator[str]:
    """Yield when the rest shows in a year, what never does, and the next nights of the scarcest."""
    months = account.by_month(first_month)
    if any(count for _, count in months):
        yield "  shows in  " + " ".join(f"{name:>4}" for name, _ in months)
        yield "            " + " ".join(f"{count or '':>4}" for _, count in months)
    for told, names in _by_months(account):
        yield from _wrapped(f"{told}: {', '.join(names)}")
    for words, needs in (
        ("Out of this kit's reach here", account.out_of_reach),
        ("Never clear of its floor here in the dark", account.never_up),
    ):
        if needs:
            yield from _wrapped(f"{words}: {', '.join(need.name for need in needs)}")
    if account.tail:
        yield from ("", "The scarcest, and their next dark nights:")
        for need in account.tail:
            nights = ", ".join(f"{night:%a} {date_text(night)}" for night in need.next_nights)
            yield f"  {cut(need.name, 20):<20} {nights}"


def _moon(account: Account) -> Iterator[str]:
    """Yield the nights of this lunation that show remaining features of the Moon, and what only they show."""
    yield "  On the Moon until it is new, in their light:"
    for night in account.moon:
        only = f"; only then: {', '.join(night.only)}" if night.only else ""
        yield from _wrapped(f"{night.night:%a} {date_text(night.night)}: {len(night.names)}{only}")
    if later := account.after_new_moon:
        yield from _wrapped(f"Not before the new Moon: {', '.join(later)}")


def _by_months(account: Account) -> list[tuple[str, list[str]]]:
    """Return (months, names) of targets seen in the same months, fewest months first; verdicts but "easy"."""
    groups: dict[str, list[str]] = {}
    shown = sorted((need for need in account.needs.values() if need.shows), key=lambda need: len(need.months))
    for need in shown:
        word = "" if need.word in (Word.EASY, Word.UNKNOWN) else f" ({need.word})"
        groups.setdefault(months_words(need.months), []).append(need.name + word)
    moving = [
        item.name
        for item in account.tally.left
        if item.name not in account.needs and item.object.kind != Kind.LUNAR_FEATURE
    ]
    return [*groups.items(), *([("as they move", moving)] if moving else [])]


def _wrapped(text: str) -> list[str]:
    return wrapped_names(text, _WIDTH, "  ", "  ")
