"""What a draft takes from a list: the targets not seen yet, those that can seldom be seen first."""

from collections.abc import Sequence

from nightmode.catalog.elements import ElementsFile
from nightmode.errors import NightmodeError
from nightmode.history.objects import identify
from nightmode.history.sitting import Sitting
from nightmode.history.tally import looks_by_object, tally
from nightmode.model.plan import Plan
from nightmode.model.session import Outcome
from nightmode.model.target import Comet, Fixed, MinorPlanet, Subject
from nightmode.night.circumstances import Circumstances
from nightmode.night.loading import resolve_all
from nightmode.planning.needs import needs
from nightmode.records import Record
from nightmode.sky.kernel import Sky
from nightmode.walk.state import target_key

#: Added to a score of 0 to about 6 for each month of the year in which a target cannot be seen, and
#: subtracted if it was tried in vain: so that the scarce targets come first and those tried last (our own
#: rule).
SCARCE_A_MONTH, TRIED = 1.5, 30.0


class Left(Record):
    """The targets of a list to leave out, and those to favour, by `target_key`."""

    seen: frozenset[str]
    favour: dict[str, float]


def left_of(
    sky: Sky,
    circumstances: Circumstances,
    word: str,
    plan: Plan,
    sittings: Sequence[Sitting],
    elements: ElementsFile | None = None,
) -> Left:
    """Return what is left of a list that a word names. NightmodeError if all of it has been seen."""
    objects = [(target.name, identify(target.name)) for target in plan.target]
    found = tally(plan.title, objects, looks_by_object(sittings))
    seen = {entry.name for entry in found.items if entry.outcome is Outcome.SEEN}
    if len(seen) == len(found.items):
        raise NightmodeError(word, "is done: every target of it has been seen", "name another list")
    tried = {entry.name for entry in found.items if entry.outcome not in (None, Outcome.SEEN)}
    subjects = [subject for subject in resolve_all(plan, word, elements) if subject.name not in seen]
    favour = {
        target_key(need.name): SCARCE_A_MONTH * (12 - len(need.months)) - TRIED * (need.name in tried)
        for need in needs(sky, circumstances, keeping_place(subjects))
    }
    return Left(frozenset(map(target_key, seen)), favour)


def keeping_place(subjects: Sequence[Subject]) -> list[Fixed]:
    """Return the subjects that keep their place among the stars through the year."""
    return [
        subject
        for subject in subjects
        if isinstance(subject, Fixed) and not isinstance(subject, Comet | MinorPlanet)
    ]
