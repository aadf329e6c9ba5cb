"""The words of a tally: months, nights, counts; the same in every format."""

import datetime as dt
from collections.abc import Sequence

from nightmode.history.tally import Best, Tally
from nightmode.model.session import LOOKED, Outcome
from nightmode.wording.figures import date_text

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def months_words(months: Sequence[int]) -> str:
    """Return months as "Oct to Feb"; all twelve as "all year"."""
    wanted = set(months)
    if len(wanted) == 12:
        return "all year"
    starts = [month for month in sorted(wanted) if (month - 2) % 12 + 1 not in wanted]
    return ", ".join(_run(start, wanted) for start in starts)


def _run(start: int, wanted: set[int]) -> str:
    end = start
    while end % 12 + 1 in wanted:
        end = end % 12 + 1
    first, last = MONTHS[start - 1], MONTHS[end - 1]
    return first if start == end else f"{first} to {last}"


def first_words(first: dt.date | None) -> str:
    """Return the first night on which an object was seen, or ""."""
    return date_text(first) if first else ""


def best_words(best: Best | None) -> str:
    """Return the night and the altitude of the best look, or ""."""
    if best is None:
        return ""
    return date_text(best.night) + (f" at {best.altitude_deg:.0f}°" if best.altitude_deg is not None else "")


def counts_line(tally: Tally) -> str:
    """Return how many are seen, suspected, not seen and left, in one line."""
    counted = [f"{tally.count(outcome)} {outcome.value}" for outcome in LOOKED]
    return f"{len(tally.items)}: " + ", ".join([*counted, f"{tally.count(None)} left"])


def constellation_counts(tally: Tally) -> list[str]:
    """Return for each constellation how many were seen of how many, as "And 1/3"."""
    parts = tally.parts("constellation").items()
    return [f"{name} {counts[Outcome.SEEN]}/{counts.total()}" for name, counts in parts]
