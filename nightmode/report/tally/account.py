"""A tally together with what its rest needs."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from nightmode.errors import NightmodeError
from nightmode.history.lists import list_file, list_names, read_list
from nightmode.history.objects import identify
from nightmode.history.sitting import Sitting
from nightmode.history.tally import Tally, looks_by_object, tally, tally_of_everything
from nightmode.kinds import Kind
from nightmode.model.observer import Observer
from nightmode.night.circumstances import Circumstances
from nightmode.night.loading import find_circumstances, load_elements, resolve_all
from nightmode.planning.left import keeping_place
from nightmode.planning.moon_needs import FeatureNight, feature_nights
from nightmode.planning.needs import Need, needs
from nightmode.report.tally.words import MONTHS
from nightmode.sky.kernel import open_sky
from nightmode.wording.kit import names_text


@dataclass(frozen=True)
class Account:
    """A tally; what each remaining target needs, by name; and the site and telescope that this holds for.

    If no site or no telescope is known, needs is empty and basis says why. moon holds the nights of this
    lunation on which remaining features of the Moon can be seen.
    """

    tally: Tally
    needs: Mapping[str, Need] = field(default_factory=dict)
    basis: str = ""
    moon: Sequence[FeatureNight] = ()

    @property
    def tail(self) -> list[Need]:
        """The targets that can be seen in the fewest months, with their next nights."""
        named = [need for need in self.needs.values() if need.next_nights]
        return sorted(named, key=lambda need: len(need.months))

    @property
    def out_of_reach(self) -> list[Need]:
        """The targets that come up here, but that this telescope never shows."""
        return [need for need in self.needs.values() if need.is_up and not need.shows]

    @property
    def never_up(self) -> list[Need]:
        """The targets that are never above their usable floor here in the dark."""
        return [need for need in self.needs.values() if not need.is_up]

    @property
    def after_new_moon(self) -> list[str]:
        """The remaining features of the Moon that no further night of this lunation shows."""
        shown = {name for night in self.moon for name in night.names}
        features = (item for item in self.tally.left if item.object.kind == Kind.LUNAR_FEATURE)
        return [feature.name for feature in features if feature.name not in shown]

    def by_month(self, first: int) -> list[tuple[str, int]]:
        """Return (month, how many of the rest can be seen) for twelve months from `first` on."""
        order = [(first - 1 + step) % 12 + 1 for step in range(12)]
        return [
            (MONTHS[month - 1], sum(month in need.months for need in self.needs.values())) for month in order
        ]


def account_of(
    word: str, observer: Observer, observer_path: Path | None, sittings: Sequence[Sitting], now_s: float
) -> Account:
    """Return the account of the list that a word names, from all sessions.

    What its rest needs is worked out only where site and telescope are known. NightmodeError for a list that
    cannot be read, or that names a site or telescope that is not known.
    """
    plan = read_list(word)
    elements = load_elements(plan, list_file(word), observer, observer_path)
    subjects = resolve_all(plan, word, elements)
    objects = [(subject.name, identify(subject.name).or_as(subject)) for subject in subjects]
    found = tally(plan.title, objects, looks_by_object(sittings))
    left = {item.name for item in found.left}
    rest = [subject for subject in subjects if subject.name in left]
    try:
        circumstances = find_circumstances(plan, observer, None, now_s, is_planned=True)
    except NightmodeError:
        if observer.site and (observer.telescope or observer.binoculars):
            raise
        return Account(found, basis="Run nightmode setup, and this says in which months the rest shows.")
    sky = open_sky()
    told = {need.name: need for need in needs(sky, circumstances, keeping_place(rest))}
    return Account(found, told, _basis(circumstances), feature_nights(sky, circumstances, rest))


def tallies_of(sittings: Sequence[Sitting]) -> dict[str, Tally]:
    """Return the tally of every bundled list, by its name, and of all ever looked at, under ""."""
    looks = looks_by_object(sittings)
    plans = {name: read_list(name) for name in list_names()}
    tallies = {
        name: tally(plan.title, [(target.name, identify(target.name)) for target in plan.target], looks)
        for name, plan in plans.items()
    }
    return tallies | {"": tally_of_everything("All that was ever looked at", looks)}


def _basis(circumstances: Circumstances) -> str:
    """Return site, instruments and hours for which an account holds."""
    place = f"{circumstances.site.name} with {names_text(circumstances.instruments.names)}"
    hours = circumstances.person.hours
    return f"{place}, in your hours {hours}" if hours else place
