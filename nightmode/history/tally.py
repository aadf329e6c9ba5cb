"""How much of a list has been seen in all sessions. Pure: works on what has been read."""

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from nightmode.history.objects import Identity, identify
from nightmode.history.sitting import Look, Sitting
from nightmode.model.session import LOOKED, Outcome
from nightmode.records import Record


class Best(Record):
    """The night and the altitude of the best look: the highest of those with the best outcome."""

    night: dt.date
    altitude_deg: float | None


class Item(Record):
    """What became of one object of a list. outcome is the best outcome, None if it is still left.

    first is the first night with that outcome, last the last night on which it was looked at; note is the
    last note; nights counts the nights on which it was looked at.
    """

    name: str
    object: Identity
    outcome: Outcome | None = None
    first: dt.date | None = None
    best: Best | None = None
    last: dt.date | None = None
    nights: int = 0
    note: str = ""


class Tally(Record):
    """A list's title and its items, in its own order."""

    title: str
    items: tuple[Item, ...]

    def count(self, outcome: Outcome | None) -> int:
        """Return how many items have this outcome; None counts those left."""
        return sum(item.outcome is outcome for item in self.items)

    @property
    def left(self) -> tuple[Item, ...]:
        """The items that are still left."""
        return tuple(item for item in self.items if item.outcome is None)

    def parts(self, by: str) -> dict[str, Counter[Outcome | None]]:
        """Return the outcomes counted by "kind" or "constellation", the largest part first."""
        found: dict[str, Counter[Outcome | None]] = {}
        for item in self.items:
            found.setdefault(getattr(item.object, by) or "other", Counter())[item.outcome] += 1
        return dict(sorted(found.items(), key=lambda part: (-part[1].total(), part[0])))


#: Every look that counts by the key of its object, each with the night it belongs to.
Looks = Mapping[str, Sequence[tuple[dt.date, Look]]]


def looks_by_object(sittings: Iterable[Sitting]) -> Looks:
    """Return by object the looks that count: in each session the last tick under each name of the object."""
    found: dict[str, list[tuple[dt.date, Look]]] = {}
    for sitting in sittings:
        for look in sitting.last_looks:
            found.setdefault(identify(look.name).key, []).append((sitting.night, look))
    return found


def tally(title: str, objects: Iterable[tuple[str, Identity]], looks: Looks) -> Tally:
    """Return the tally of a list; the order of the sessions makes no difference."""
    return Tally(
        title, tuple(_item(name, identity, looks.get(identity.key, ())) for name, identity in objects)
    )


def tally_of_everything(title: str, looks: Looks) -> Tally:
    """Return the tally of every object that was ever looked at, by name."""
    objects = {key: identify(found[0][1].name) for key, found in looks.items()}
    named = sorted(
        ((identity.name, identity) for identity in objects.values()), key=lambda pair: _natural(pair[0])
    )
    return tally(title, named, looks)


def _item(name: str, identity: Identity, looks: Sequence[tuple[dt.date, Look]]) -> Item:
    outcome = best_outcome(looks)
    same = [(night, look) for night, look in looks if look.outcome is outcome]
    noted = [(look.at, look.notes[-1]) for _, look in looks if look.notes]
    if outcome is None:
        return Item(name, identity, note=max(noted)[1] if noted else "")
    night, look = max(same, key=lambda pair: (_height(pair[1]), -pair[0].toordinal(), pair[1].at))
    return Item(
        name=name,
        object=identity,
        outcome=outcome,
        first=min(night for night, _ in same),
        best=Best(night, look.altitude_deg),
        last=max(night for night, look in looks if look.outcome in LOOKED),
        nights=len({night for night, look in looks if look.outcome in LOOKED}),
        note=max(noted)[1] if noted else "",
    )


def best_outcome(looks: Sequence[tuple[dt.date, Look]]) -> Outcome | None:
    """Return the best outcome of looks, with their nights, that counts; None if none does."""
    return next((best for best in LOOKED if any(look.outcome is best for _, look in looks)), None)


def _height(look: Look) -> float:
    return -90.0 if look.altitude_deg is None else look.altitude_deg


def _natural(name: str) -> tuple[str, int, str]:
    """Return a key that sorts M 9 before M 10."""
    letters = name.rstrip("0123456789")
    return letters, int(name[len(letters) :] or 0), name
