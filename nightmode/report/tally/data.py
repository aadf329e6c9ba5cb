"""The tally as data for --json."""

from typing import Any

from nightmode.history.tally import Item, Tally
from nightmode.model.session import Outcome
from nightmode.planning.needs import Need
from nightmode.report.tally.account import Account


def tally_json(account: Account) -> dict[str, Any]:
    """Return the tally as plain data: seen, suspected and not_seen are counts, left holds names.

    entries are in the order of the list. Where a site and a telescope are known, rest says what the remaining
    targets need, and moon which features the nights of this lunation show, and which are shown only then.
    """
    tally = account.tally
    return {
        **counts(tally),
        "left": [entry.name for entry in tally.left],
        "entries": [_entry(entry) for entry in tally.entries],
        "parts": {by: _parts(tally, by) for by in ("kind", "constellation")},
        "rest": [_need(need) for need in account.needs.values()],
        "moon": [
            {"night": night.night.isoformat(), "shows": list(night.names), "only": list(night.only)}
            for night in account.moon
        ],
    }


def overview_json(tallies: list[Tally]) -> dict[str, Any]:
    """Return title and counts of several lists."""
    return {"lists": [{**counts(tally), "left": len(tally.left)} for tally in tallies]}


def counts(tally: Tally) -> dict[str, Any]:
    """Return the title of a list, and how many of its targets have each outcome."""
    return {
        "list": tally.title,
        "total": len(tally.entries),
        "seen": tally.count(Outcome.SEEN),
        "suspected": tally.count(Outcome.SUSPECTED),
        "not_seen": tally.count(Outcome.NOT_SEEN),
    }


def _parts(tally: Tally, by: str) -> dict[str, dict[str, int]]:
    """Return how many targets of each part of the list have each outcome; `by` names the division."""
    words = {Outcome.SEEN: "seen", Outcome.SUSPECTED: "suspected", Outcome.NOT_SEEN: "not_seen", None: "left"}
    return {
        name: {word: counts[outcome] for outcome, word in words.items()}
        for name, counts in tally.parts(by).items()
    }


def _entry(entry: Item) -> dict[str, Any]:
    best = entry.best
    return {
        "name": entry.name,
        "usual_name": entry.object.name,
        "kind": entry.object.kind,
        "constellation": entry.object.constellation,
        "outcome": entry.outcome.value if entry.outcome else None,
        "first": entry.first.isoformat() if entry.first else None,
        "best": {"night": best.night.isoformat(), "altitude_deg": best.altitude_deg} if best else None,
        "last": entry.last.isoformat() if entry.last else None,
        "nights": entry.nights,
        "note": entry.note,
    }


def _need(need: Need) -> dict[str, Any]:
    return {
        "name": need.name,
        "months": list(need.months),
        "highest_deg": None if need.highest_deg is None else round(need.highest_deg, 1),
        "verdict": need.word.value,
        "next_nights": [night.isoformat() for night in need.next_nights],
    }
