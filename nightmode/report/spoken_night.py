"""The sentences of `nightmode say`: what the voice would say during the night, in order."""

from collections.abc import Iterator
from itertools import pairwise
from math import inf

from nightmode.night.aiming import pointing_at
from nightmode.night.table import Night
from nightmode.night.telling import happenings, target_now
from nightmode.night.turns import turns
from nightmode.night.verdict import verdict_at
from nightmode.wording.spoken import opening
from nightmode.wording.spoken.moments import TimedSentence
from nightmode.wording.spoken.sentences import said
from nightmode.wording.spoken.target import change


def spoken_night(night: Night, title: str) -> tuple[str, ...]:
    """Return the sentences: opening, each target when its turn comes, what happens by itself, last words.

    What happens by itself is left out if the observer wants the voice for answers only.
    """
    order = turns(night)
    told: list[tuple[float, tuple[str, ...]]] = [(at_s, _turn(night, row, at_s)) for at_s, row in order]
    if night.person.voice == "all":
        told += [(happening.at_s, (happening.sentence,)) for happening in _happenings(night, order)]
    sentences = list(_opening(night, title, len(order)))
    before: tuple[str, ...] = ()
    for at_s, words in sorted(told, key=lambda turn: turn[0]):
        at = opening.at_time(at_s, night.site.zone)
        sentences += [*(() if at == before else at), *words]
        before = at
    reached = {row for _, row in order}
    never = [target.subject.name for row, target in enumerate(night.targets) if row not in reached]
    return (*sentences, *opening.left_out(never), *said(*opening.LAST_WORDS))


def _opening(night: Night, title: str, count: int) -> Iterator[str]:
    zone, twilight, moon = night.site.zone, night.twilights, night.moon
    yield from opening.opening(title, night.date, count)
    yield from opening.dark_said(twilight.dark_s, twilight.is_astronomical, zone)
    first_s, last_s = night.sun_down_s
    rises, sets = ([at_s for at_s in some if first_s < at_s < last_s] for some in (moon.rises_s, moon.sets_s))
    yield from opening.moon_said(moon.illuminated, rises, sets, zone)


def _turn(night: Night, row: int, at_s: float) -> tuple[str, ...]:
    choices = night.targets[row].choices
    look = choices[0] if choices else None
    verdict, pointing = verdict_at(night, row, at_s, look), pointing_at(night, row, at_s)
    return change(target_now(night, row, at_s, look, verdict, pointing)).sentences


def _happenings(night: Night, order: list[tuple[float, int]]) -> list[TimedSentence]:
    """Return what happens by itself in the observer's hours; what has had its turn gets no last call."""
    edges = [-inf, *(at_s for at_s, _ in order), inf]
    waiting = set(range(len(night.targets)))
    found: list[TimedSentence] = []
    for place, (since_s, until_s) in enumerate(pairwise(edges)):
        if place:
            waiting.discard(order[place - 1][1])
        found += happenings(night, since_s, until_s, waiting.__contains__)
    first_s, last_s = night.hours_s or (-inf, inf)
    return [happening for happening in found if first_s <= happening.at_s <= last_s]
