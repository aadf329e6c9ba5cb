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
        "left": [item.name for item in tally.left],
        "entries": [_item(item) for item in tally.items],
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
        "total": len(tally.items),
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


def _item(item: Item) -> dict[str, Any]:
    best = item.best
    return {
        "name": item.name,
        "usual_name": item.object.name,
        "kind": item.object.kind,
        "constellation": item.object.constellation,
        "outcome": item.outcome.value if item.outcome else None,
        "first": item.first.isoformat() if item.first else None,
        "best": {"night": best.night.isoformat(), "altitude_deg": best.altitude_deg} if best else None,
        "last": item.last.isoformat() if item.last else None,
        "nights": item.nights,
        "note": item.note,
    }


def _need(need: Need) -> dict[str, Any]:
    return {
        "name": need.name,
        "months": list(need.months),
        "highest_deg": None if need.highest_deg is None else round(need.highest_deg, 1),
        "verdict": need.word.value,
        "next_nights": [night.isoformat() for night in need.next_nights],
    }
